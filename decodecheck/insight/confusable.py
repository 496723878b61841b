"""Lessons that children mix up and that a progression teaches close together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from decodecheck.insight.naming import taught
from decodecheck.lexicon.store import NEVER
from decodecheck.progression.lessons import items_named
from decodecheck.progression.order import TeachingOrder
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

CLOSE = 2
"""Steps apart, at most: the same step, the next one or the one after that."""
WHY = {"shape": "alike in shape", "sound": "alike in sound", "both": "alike in shape and sound"}
TWO_SOUNDS = "one grapheme, two sounds"


@dataclass(frozen=True, slots=True)
class Neighbours:
    """Two lessons, the later one last, with their steps, and why they are mixed up."""

    one: str
    one_step: int
    other: str
    other_step: int
    why: str


def neighbours(order: TeachingOrder, step: int) -> list[Neighbours]:
    """Confusable lessons in the same step or in one of the next two, up to a step; in the order of teaching.

    The pairs stand in `rules/confusable.tsv`, each with its source.
    """
    place = {s.number: i for i, s in enumerate(order.steps)}
    found = []
    for one, other, why in [*_table(order), *_two_sounds(order)]:
        (first_name, first), (last_name, last) = sorted((one, other), key=lambda pair: pair[1])
        if last <= step and first in place and place[last] - place[first] <= CLOSE:
            found.append(Neighbours(first_name, first, last_name, last, why))
    return sorted(found, key=lambda n: (n.other_step, n.one_step, n.one, n.other))


Lesson = tuple[str, int]
"""A name and its step."""


def _table(order: TeachingOrder) -> Iterator[tuple[Lesson, Lesson, str]]:
    for row in read_table(rules_folder() / "confusable.tsv"):
        lessons = []
        for name in (row["one"], row["other"]):
            steps = [order.item_step[key] for key in items_named(name, order) if key in order.item_step]
            lessons.append((name, min(steps, default=NEVER)))
        yield lessons[0], lessons[1], WHY[row["kind"]]


def _two_sounds(order: TeachingOrder) -> Iterator[tuple[Lesson, Lesson, str]]:
    """One grapheme taught with different sounds in different steps: what two lessons say of it is easily mixed up."""
    by_grapheme: dict[str, list[tuple[str, int]]] = {}
    for mention in order.mentions:
        named = taught(order, mention)
        if named and mention.kind == "correspondence":
            by_grapheme.setdefault(named.name, []).append((named.statement, mention.step))
    for lessons in by_grapheme.values():
        for one, other in combinations(lessons, 2):
            if one[1] != other[1]:
                yield one, other, TWO_SOUNDS
