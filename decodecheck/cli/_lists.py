"""What commands that make lists of words share."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from decodecheck.errors import Problem, UserError
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load
from decodecheck.progression.step_expression import Standing, Wanted, choose_step
from decodecheck.project.config import find_config
from decodecheck.project.fitting import progression_of
from decodecheck.reports.wordlist import FORMATS
from decodecheck.source import shown
from decodecheck.wordlists.targets import target
from decodecheck.wordlists.wanted import NUMBER, WantedWords, range_of, structures_of, words_of

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


def standing(progression: str | None, step: str | None, group: str | None) -> tuple[Standing, list[str]]:
    """Where the readers of a list stand, by the options, else by the nearest configuration; and the files that were read for that.

    (`Session`, which also checks texts, is slow to load.) Raises UserError where no progression is known, and for a wrong one.
    """
    if step is not None and group is not None:
        raise UserError(Problem("--group", "A group has a step of its own.", "Leave --step or --group out."))
    config = find_config(Path(progression or "."))
    where = progression or (progression_of(config) if config else None)
    if where is None:
        what = "No progression is given, and no decodecheck.toml here names one."
        raise UserError(Problem("--progression", what, "Add --progression FILE."))
    wanted = Wanted(step) if step is not None else None
    if group is not None:
        if config is None:
            todo = "Put a decodecheck.toml with a table [groups] beside the progression, or use --step."
            raise UserError(Problem("--group", "There is no decodecheck.toml to look the group up in.", todo))
        wanted = config.group(group)
    order = load(where)
    return choose_step(order, wanted), [where, *order.sources, *([str(config.path)] if config else [])]


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
