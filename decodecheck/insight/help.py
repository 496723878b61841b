"""The few lessons and tricky words that would clear most running words of a text at a step.

A word is cleared by teaching everything that is in its way, or by teaching it whole. Whichever lessons are chosen, the tricky words that are worth
most beside them are the commonest of those that they leave; so every set of lessons is tried, and filled up with tricky words: the best set, not the
best changes one by one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

MOST_LESSONS = 24
"""Lessons that are tried in every combination: those that are in the way of most running words. More are rarely in the way of more than one."""
_Sets = npt.NDArray[np.int64]
"""Sets of lessons, each as bits; or a number for each of them."""


@dataclass(frozen=True, slots=True)
class Need:
    """A distinct word with how often it occurs, the lessons that would clear it (none: no lesson does), and how a progression would teach it whole."""

    times: int
    lessons: frozenset[str]
    whole: str


@dataclass(frozen=True, slots=True)
class Changes:
    """Some changes, each as a progression would write it, how many running words they clear and how many they leave."""

    changes: tuple[str, ...]
    cleared: int
    left: int


def best_changes(words: Iterable[Need], most: int) -> list[Changes]:
    """For one change, for two, and so on up to `most`: the set that clears most running words. It ends where another one clears nothing
    more. Of sets that clear as much, the one with more lessons comes first."""
    needs = sorted(words, key=lambda need: (-need.times, need.whole))
    total = sum(need.times for need in needs)
    found: list[Changes] = []
    for best in _best(needs, most) if needs else ():
        if not best.cleared or (found and best.cleared <= found[-1].cleared):
            break
        found.append(Changes(best.changes, best.cleared, total - best.cleared))
        if best.cleared == total:
            break
    return found


def _best(needs: Sequence[Need], most: int) -> list[Changes]:
    """The best set of one change, of two, and so on up to `most`; how many words it leaves is not yet told."""
    lessons = _lessons(needs)
    bits = {lesson: 1 << at for at, lesson in enumerate(lessons)}
    # the lessons of each need as bits; None for one that no lessons clear
    masks = [
        sum(bits[name] for name in need.lessons) if need.lessons and need.lessons <= bits.keys() else None
        for need in needs
    ]
    together: Counter[int] = Counter()
    for need, mask in zip(needs, masks):
        if mask is not None and mask.bit_count() <= most:
            together[mask] += need.times
    best: list[tuple[int, int, int]] = [(0, 0, 0)] * (most + 1)
    """For each number of changes what the best set clears, how many lessons it has, and which."""
    for size, sets in enumerate(_sets(len(lessons), most)):
        gains = np.zeros(len(sets), np.int64)
        for mask, times in together.items():
            if mask.bit_count() <= size:
                gains[(sets & mask) == mask] += times
        for number, whole in enumerate(_filled_up(needs, masks, sets, most - size), size):
            gains += whole
            at = int(gains.argmax())
            if (int(gains[at]), size) > best[number][:2]:
                best[number] = int(gains[at]), size, int(sets[at])
    found = []
    for number, (gain, size, chosen) in enumerate(best[1:], 1):
        taught = [lesson for at, lesson in enumerate(lessons) if chosen >> at & 1]
        left_over = [need for need, mask in zip(needs, masks) if mask is None or mask & ~chosen]
        found.append(Changes((*taught, *(need.whole for need in left_over[: number - size])), gain, 0))
    return found


def _filled_up(needs: Sequence[Need], masks: Sequence[int | None], sets: _Sets, most: int) -> Iterator[_Sets]:
    """What each set of lessons clears besides where no word is taught whole (nothing), where the commonest word is that it leaves, the next one, and so
    on up to `most`."""
    taken = np.zeros((most + 1, len(sets)), np.int64)
    filled = np.zeros(len(sets), np.int64)
    room = np.arange(len(sets) if most else 0)
    for need, mask in zip(needs, masks):
        left = room if mask is None else room[(mask & ~sets[room]) != 0]
        filled[left] += 1
        taken[filled[left], left] = need.times
        room = room[filled[room] < most]
        if not len(room):
            break
    yield from taken


def _sets(lessons: int, most: int) -> Iterator[_Sets]:
    """All sets of no lesson, of one, of two, and so on up to `most`, as bits, each size in the order of `itertools.combinations`."""
    sets = np.zeros(1, np.int64)
    starts = [0] * (lessons + 1)
    """Where those begin whose first lesson is a certain one or a later one; the empty set counts for all."""
    yield sets
    for _ in range(min(most, lessons)):
        parts = [sets[starts[at + 1] :] | (1 << at) for at in range(lessons)]
        starts = [0, *np.cumsum([len(part) for part in parts]).tolist()]
        sets = np.concatenate(parts)
        yield sets


def _lessons(needs: Sequence[Need]) -> list[str]:
    """The lessons that are tried, those first that are in the way of most running words."""
    wanted: Counter[str] = Counter()
    for need in needs:
        for lesson in need.lessons:
            wanted[lesson] += need.times
    return sorted(wanted, key=lambda lesson: (-wanted[lesson], lesson))[:MOST_LESSONS]
