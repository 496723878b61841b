"""Words of the lexicon described for a lesson: what each holds, when it can be read, how hard it is to spell, what to watch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.alike import Alike
from decodecheck.wordlists.columns import Columns
from decodecheck.wordlists.effort import Effort, effort
from decodecheck.wordlists.in_accents import unread_in
from decodecheck.wordlists.left_out import LeftOut, written
from decodecheck.wordlists.likely import likely_column
from decodecheck.wordlists.spelling_choice import SpellingChoices


@dataclass(frozen=True, slots=True)
class FoundWord:
    """A word of a list. `first_step` is the step from which it can be decoded (NEVER where no step does it); `sounds_like` are other
    words with its sounds; `unread_in` accents in which it cannot be read yet; `kind` what it would have been left out for, "" for most.
    """

    word: str
    reading: Reading
    graphemes: int
    sounds: int
    syllables: int
    first_step: int
    common: float
    likely: float
    effort: Effort
    sounds_like: tuple[str, ...]
    unread_in: tuple[str, ...]
    kind: str


class Chosen(NamedTuple):
    """A word of the lexicon and one of its readings, by their numbers, and the kind for which lists would leave it out."""

    number: int
    reading: int
    kind: str


def describe(order: TeachingOrder, step: int, words: Sequence[str]) -> list[FoundWord | None]:
    """Each of some words, described for a step; None for one that the lexicon does not list.

    A word is looked up in small letters with straight apostrophes. Its reading is the first usual one that can be read at the step,
    else the first usual one. A reading that the progression pins is not looked at; such a word is of the kind "pinned".
    """
    columns = columns_of(order)
    known = columns.tables.words()
    numbers = [columns.tables.number(plain_spelling(word).plain) for word in words]
    reading = {n: at for n in dict.fromkeys(numbers) if (at := _reading(order, step, n)) >= 0}
    listed = np.array(list(reading), np.int64), np.array(list(reading.values()), np.int64)
    if not reading:
        return [None] * len(words)
    kinds = [LeftOut(columns, order, at, known).kinds(*listed) for at in (step, NEVER)]
    steps = order.readiness.readings
    chosen = [
        # "unsure" is what can be read in one sense, and no word that cannot be read at all
        Chosen(number, at, kind if kind != "unsure" or steps[at] <= step else otherwise)
        for (number, at), kind, otherwise in zip(reading.items(), *kinds)
    ]
    found = dict(zip(reading, described(order, step, chosen, known, Alike(columns))))
    return [found.get(number) for number in numbers]


def _reading(order: TeachingOrder, step: int, number: int) -> int:
    """The number of the reading by which a word is described; -1 where the lexicon does not list the word."""
    columns = columns_of(order)
    if number < 0:
        return -1
    first, end = columns.first_reading[number : number + 2].tolist()
    usual = [at for at in range(first, end) if columns.usual[at]]
    steps = order.readiness.readings
    return next((at for at in usual if steps[at] <= step), usual[0] if usual else -1)


def described(
    order: TeachingOrder, step: int, chosen: Sequence[Chosen], words: list[str], alike: Alike
) -> list[FoundWord]:
    """Each of some chosen words, in their order. `words` are all words of the lexicon, `alike` is of the order's columns."""
    columns, tables = alike.columns, alike.columns.tables
    numbers = np.array([n for n, _, _ in chosen], np.int64)
    readings = np.array([r for _, r, _ in chosen], np.int64)
    sounding = alike.words(numbers, words)
    choices = SpellingChoices(columns, order, step).choices(readings)
    steps = order.readiness.readings
    elsewhere = unread_in(
        order, step, [words[n] for n, r, k in chosen if k not in ("unsure", "names") and steps[r] <= step]
    )
    counts = zip(*(count(readings).tolist() for count in (columns.graphemes, columns.sounds, columns.syllables)))
    opening = order.steps[0].number if order.steps else 0
    how = likely_column()
    found = []
    for (number, reading, kind), own, (graphemes, sounds, syllables) in zip(chosen, choices, counts):
        word = words[number]
        known = columns.lexicon.reading(reading)
        found.append(
            FoundWord(
                written(word, kind == "names"),
                known,
                graphemes,
                sounds,
                syllables,
                max(int(steps[reading]), opening),
                int(tables.zipf[number]) / 100,
                how[number] / 100,
                effort(known, sounds, own),
                sounding.get(number, ()),
                elsewhere.get(word, ()),
                kind,
            )
        )
    return found


def columns_of(order: TeachingOrder) -> Columns:
    """The columns of an order's lexicon in its accent; made once for an order."""
    columns = order.remembered.get("columns")
    if not isinstance(columns, Columns):
        columns = order.remembered["columns"] = Columns(order.lexicon, order.accent)
    return columns
