"""What the options of `decodecheck words` ask for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from decodecheck.errors import Problem, UserError
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.targets import target
from decodecheck.wordlists.wanted import NUMBER, WantedWords, range_of, structures_of, words_of


def wanted_of(order: TeachingOrder, asked: Mapping[str, Any]) -> WantedWords:
    """What the options ask for, held against a teaching order. Raises UserError for what cannot be meant."""
    if asked["place"] and not asked["with_"]:
        raise UserError(
            Problem("--place", "Nothing is named that could stand there.", 'Add --with, for instance --with "sh".')
        )
    if asked["everything"] and (asked["number"] is not None or asked["seed"] is not None):
        raise UserError(
            Problem("--all", "All words leave nothing to choose.", "Leave --all out, or --number and --seed.")
        )
    return WantedWords(
        targets=tuple(target(order, text, "--with") for text in asked["with_"]),
        without=tuple(target(order, text, "--without") for text in asked["without"]),
        place=asked["place"] or "",
        graphemes=range_of(asked["graphemes"], "--graphemes"),
        sounds=range_of(asked["sounds"], "--sounds"),
        syllables=range_of(asked["syllables"], "--syllables"),
        structures=structures_of(asked["structure"], "--structure"),
        endings=asked["endings"],
        common=asked["common"],
        likely=asked["likely"],
        apart=asked["apart"],
        used=words_of(asked["not_in"]),
        used_from=asked["not_in"] or "",
        purpose=asked["purpose"],
        also=frozenset(asked["also"]),
        number=None if asked["everything"] else asked["number"] or NUMBER,
        seed=asked["seed"],
        order=asked["order"],
    )
