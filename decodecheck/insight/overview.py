"""A progression step by step: what is taught, what becomes readable, what lies close together, what a standard has beyond it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from decodecheck.insight.confusable import Neighbours, neighbours
from decodecheck.insight.key_words import KeyWords
from decodecheck.insight.naming import Taught, odd_part
from decodecheck.insight.standards import Uncovered, uncovered
from decodecheck.lexicon.common_words import common_words
from decodecheck.progression.first_steps import first_steps
from decodecheck.progression.order import TeachingOrder

SIZES = (500, 2000)
"""How many of the commonest words are counted."""


@dataclass(frozen=True, slots=True)
class Readable:
    """Of the commonest words: how many become decodable at a step, how many are by then, how many with tricky words."""

    new: int
    decodable: int
    with_tricky: int


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step: what it teaches with key words that can be read by then, its tricky words with their odd part, and what
    becomes readable by size of the word list."""

    number: int
    title: str
    taught: tuple[Taught, ...]
    tricky: tuple[tuple[str, str], ...]
    readable: tuple[Readable, ...]


@dataclass(frozen=True, slots=True)
class Overview:
    """A progression up to a step."""

    order: TeachingOrder
    step: int
    rows: tuple[StepRow, ...]
    neighbours: tuple[Neighbours, ...]
    standard: str
    uncovered: tuple[Uncovered, ...]


def overview(order: TeachingOrder, step: int, against: str | None = None) -> Overview:
    """Everything about a progression up to a step; `against` names a standard other than the accent's."""
    rows = tuple(_rows(order, step))
    standard, missing = uncovered(order, against)
    return Overview(order, step, rows, tuple(neighbours(order, step)), standard, tuple(missing))


def _rows(order: TeachingOrder, step: int) -> list[StepRow]:
    words = common_words(order.lexicon, max(SIZES))
    steps = list(map(first_steps(order).of, words))
    lessons = KeyWords(order).lessons(step)
    counts = [(sorted(d for d, _ in steps[:size]), sorted(map(min, steps[:size]))) for size in SIZES]
    items: dict[int, list[Taught]] = {}
    for lesson in lessons:
        items.setdefault(lesson.mention.step, []).append(lesson)
    tricky: dict[int, list[str]] = {}
    for word, at in order.tricky.items():
        tricky.setdefault(at, []).append(word)
    found = []
    before = 0
    for head in order.steps:
        if head.number > step:
            break
        found.append(
            StepRow(
                head.number,
                head.title,
                tuple(items.get(head.number, ())),
                tuple((_spelt(order, w), odd_part(order, w, head.number)) for w in tricky.get(head.number, ())),
                tuple(_readable(*count, before, head.number) for count in counts),
            )
        )
        before = head.number
    return found


def _readable(decodable: Sequence[int], with_tricky: Sequence[int], before: int, step: int) -> Readable:
    """What is readable at a step, from the steps of words in rising order."""
    now = bisect_right(decodable, step)
    # what needs no lesson at all counts for the first step
    new = now - (bisect_right(decodable, before) if before else 0)
    return Readable(new, now, bisect_right(with_tricky, step))


def _spelt(order: TeachingOrder, word: str) -> str:
    """A tricky word with the capitals that the file gives it."""
    return order.tricky_spelling.get(word, word)
