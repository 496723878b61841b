"""Words for a lesson: those that are found, a person's own, and sheets of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from decodecheck.errors import Problem, UserError, count, cut
from decodecheck.lexicon.store import NEVER
from decodecheck.progression.step_expression import Standing
from decodecheck.reports import sheet
from decodecheck.reports.page import Page
from decodecheck.reports.paper import PAPERS
from decodecheck.reports.wordlist import ORDERS, watch
from decodecheck.web.asked import Fields, number, short
from decodecheck.wordlists.any_words import describe_any
from decodecheck.wordlists.described import FoundWord
from decodecheck.wordlists.find import find
from decodecheck.wordlists.left_out import KINDS
from decodecheck.wordlists.shown import divided, structure
from decodecheck.wordlists.targets import target
from decodecheck.wordlists.wanted import (
    EASY,
    END,
    MIDDLE,
    READING,
    SPELLING,
    START,
    WantedWords,
    range_of,
    structures_of,
)

PLACES = (START, MIDDLE, END)
PURPOSES = (READING, SPELLING)
LABELS = {
    "with": "Words with",
    "without": "Words without",
    "place": "Where in the word",
    "graphemes": "Graphemes",
    "sounds": "Sounds",
    "structure": "Structure",
    "number": "How many",
    "sort": "In which order",
    "words": "Your words",
    "paper": "Paper",
    "parts": "Parts of the sheet",
}
"""What the fields are called on the page."""
USUAL_NUMBER = 12
MOST_NAMED = 5
LONGEST_WORD = 60
_WORD = re.compile(r"[^\W\d_]+(?:['’\-][^\W\d_]+)*")


@dataclass(frozen=True, slots=True)
class Row:
    """A word of a list, and what is said of it."""

    word: str
    divided: str
    graphemes: int
    sounds: int
    structure: str
    step: str
    effort: str
    watch: str


@dataclass(frozen=True, slots=True)
class Listed:
    """A list: what it is, its words, and sentences on what was left out or is to be watched."""

    title: str
    rows: tuple[Row, ...]
    notes: tuple[str, ...]


def found(standing: Standing, fields: Fields) -> Listed:
    """The words of the lexicon that fit what is asked. Raises UserError for what cannot be meant, and where no word fits."""
    sort = _one_of(fields, "sort", tuple(ORDERS), EASY)
    order, step = standing.order, standing.step
    wanted = WantedWords(
        targets=tuple(target(order, text, LABELS["with"]) for text in _items(fields, "with")),
        without=tuple(target(order, text, LABELS["without"]) for text in _items(fields, "without")),
        place=_one_of(fields, "place", PLACES, ""),
        graphemes=range_of(short(fields, "graphemes").strip() or None, LABELS["graphemes"]),
        sounds=range_of(short(fields, "sounds").strip() or None, LABELS["sounds"]),
        structures=structures_of(short(fields, "structure").strip() or None, LABELS["structure"]),
        endings=not fields.get("no_endings"),
        apart=bool(fields.get("apart")),
        purpose=_one_of(fields, "purpose", PURPOSES, READING),
        number=min(sheet.MOST, max(1, number(fields, "number", USUAL_NUMBER))),
        seed=number(fields, "seed") or None,
        order=sort,
    )
    if wanted.place and not wanted.targets:
        what, todo = "Nothing is named that could stand there.", f"Write something under “{LABELS['with']}”."
        raise UserError(Problem(LABELS["place"], what, todo))
    listed = find(order, step, wanted)
    fitting = f" of {listed.fitting:,} that fit" if listed.fitting > len(listed.words) else ""
    title = f"{count(len(listed.words), 'word')}{fitting}, step {step}, {ORDERS[sort]}"
    notes = []
    if any(word.sounds_like for word in listed.words):
        notes.append("A word that sounds like another needs a sentence when it is dictated.")
    if listed.left_out:
        notes.append("Left out: " + "; ".join(f"{many:,} {KINDS[kind][0]}" for kind, many in listed.left_out) + ".")
    return Listed(title, tuple(map(_row, listed.words)), tuple(notes))


def own(standing: Standing, fields: Fields) -> Listed:
    """A person's own words, in the order that is asked for. Raises UserError where there are none, too many, or none has a reading."""
    sort = _one_of(fields, "sort", tuple(ORDERS), EASY)
    words, unknown = described(standing, words_in(fields.get("words", "")))
    ranked = sorted(words, key=_RANKS[sort])
    made = sheet.of_list(standing.order, standing.step, ranked)
    title = f"{count(len(ranked), 'word')} of your own, step {standing.step}, {ORDERS[sort]}"
    left_out = [f"Left out, since no reading is known of it: {unknown}. Check the spelling."] if unknown else []
    return Listed(title, tuple(map(_row, ranked)), (*left_out, *(said for _, said in sheet.notes(made))))


def sheet_of(standing: Standing, fields: Fields) -> Page:
    """The sheet of the words that were kept. Raises UserError where there are none, or too many."""
    kept = fields.getlist("keep")
    words, _ = described(standing, kept or words_in(fields.get("words", "")))
    parts = [part for part in fields.getlist("parts") if part in sheet.PARTS] or list(sheet.PARTS)
    paper = _one_of(fields, "paper", tuple(PAPERS), "a4")
    made = sheet.of_list(standing.order, standing.step, words, short(fields, "title").strip()[:80])
    return sheet.page(made, parts, paper)


def words_in(text: str) -> list[str]:
    """The words of a text, each once."""
    return list(dict.fromkeys(_WORD.findall(text)))


def described(standing: Standing, words: Sequence[str]) -> tuple[list[FoundWord], str]:
    """Each of some words, described, and by name those that have no reading. Raises UserError where there are none, too many for a sheet, or none has a
    reading."""
    label = LABELS["words"]
    if not words:
        raise UserError(Problem(label, "There are no words yet.", "Find some, or write your own."))
    if len(words) > sheet.MOST:
        what = f"These are {len(words):,} words; a list here holds up to {sheet.MOST}."
        raise UserError(Problem(label, what, "Take fewer, or make several lists."))
    usable = [word for word in words if len(word) <= LONGEST_WORD and len(word.split()) == 1]
    found = dict(zip(usable, describe_any(standing.order, standing.step, usable)))
    made = [one for one in found.values() if one is not None]
    unknown = [word for word in words if found.get(word) is None]
    named = ", ".join(f"“{cut(word, 30)}”" for word in unknown[:MOST_NAMED]) + ", ..." * (len(unknown) > MOST_NAMED)
    if not made:
        raise UserError(Problem(label, f"No reading is known of {named}.", "Check the spelling, or take it out."))
    return made, named


_RANKS = {
    EASY: lambda w: (w.effort.total, w.word),
    "common": lambda w: (-w.common, w.word),
    "length": lambda w: (w.graphemes, w.word),
    "alphabet": lambda w: (w.word.lower(), w.word),
}


def _items(fields: Fields, name: str) -> list[str]:
    """What is named in a field, with semicolons or line ends between."""
    return [part.strip() for part in re.split(r"[;\n]", short(fields, name)) if part.strip()]


def _one_of(fields: Fields, name: str, known: Sequence[str], otherwise: str) -> str:
    value = short(fields, name)
    if value and value not in known:
        named = ", ".join(known)
        raise UserError(
            Problem(LABELS.get(name, name), f"“{cut(value, 30)}” cannot be chosen here.", f"Choose {named}.")
        )
    return value or otherwise


def _row(word: FoundWord) -> Row:
    return Row(
        word.word,
        divided(word.reading),
        word.graphemes,
        word.sounds,
        structure(word.reading),
        "never" if word.first_step == NEVER else str(word.first_step),
        f"{word.effort.total:.1f}",
        "; ".join(watch(word)),
    )
