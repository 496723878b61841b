"""What commands that make lists of words share."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from decodecheck.errors import Problem, UserError
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.step_expression import Standing
from decodecheck.project.config import find_config
from decodecheck.project.fitting import progression_of
from decodecheck.reports.wordlist import FORMATS
from decodecheck.session import Session
from decodecheck.source import shown
from decodecheck.wordlists.targets import target
from decodecheck.wordlists.wanted import NUMBER, Wanted, range_of, structures_of, words_of

SUFFIXES = {".txt": "text", "": "text", ".json": "json", ".csv": "csv"}


def form_of(form: str | None, output: str | None) -> str:
    """The format that is meant: as given, else by the name of the output file. Raises UserError where neither says it."""
    if form is not None or output is None:
        return form or FORMATS[0]
    found = SUFFIXES.get(Path(output).suffix.lower())
    if found is None:
        what = f"The name {shown(output)} does not say which format you want."
        raise UserError(Problem("--output", what, "End it in .txt, .json or .csv, or add --format."))
    return found


def standing(session: Session) -> Standing:
    """Where the readers of a list stand: by the options, else by the nearest configuration. Raises UserError where no progression is known."""
    where = session.progression
    if where is None:
        config = find_config(Path())
        where = progression_of(config) if config else None
    if where is None:
        what = "No progression is given, and no decodecheck.toml here names one."
        raise UserError(Problem("--progression", what, "Add --progression FILE."))
    return session.for_progression(where)


def wanted_of(order: TeachingOrder, asked: Mapping[str, Any]) -> Wanted:
    """What the options ask for, held against a teaching order. Raises UserError for what cannot be meant."""
    if asked["place"] and not asked["with_"]:
        raise UserError(
            Problem("--place", "Nothing is named that could stand there.", 'Add --with, for instance --with "sh".')
        )
    if asked["everything"] and (asked["number"] is not None or asked["seed"] is not None):
        raise UserError(
            Problem("--all", "All words leave nothing to choose.", "Leave --all out, or --number and --seed.")
        )
    return Wanted(
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
