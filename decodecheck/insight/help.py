"""The few lessons and tricky words that would clear most running words of a text at a step.

A word is cleared by teaching everything that is in its way, or by teaching it whole. Whichever lessons are chosen, the tricky words that are worth
most beside them are the commonest of those that they leave; so every set of lessons is tried, and filled up with tricky words: the best set, not the
best changes one by one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations

import numpy as np
import numpy.typing as npt

MOST_LESSONS = 24
"""Lessons that are tried in every combination: those that are in the way of most running words. More are rarely in the way of more than one."""

CHUNK = 4096
"""Sets that are tried at a time."""
UNREACHED = -1
"""The lessons of a word that no set clears."""


Bits = npt.NDArray[np.int64]


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
    for number in range(1, most + 1):
        best = _best(needs, number)
        if best is None or (found and best.cleared <= found[-1].cleared):
            break
        found.append(Changes(best.changes, best.cleared, total - best.cleared))
        if best.cleared == total:
            break
    return found


def _best(needs: Sequence[Need], number: int) -> Changes | None:
    """The best set of so many changes; None where there is nothing to clear."""
    if not needs:
        return None
    lessons = _lessons(needs)
    bits = {lesson: 1 << at for at, lesson in enumerate(lessons)}
    of_mask: dict[int, list[Need]] = {}
    for need in needs:
        reachable = need.lessons and need.lessons <= bits.keys()
        of_mask.setdefault(sum(bits[name] for name in need.lessons) if reachable else UNREACHED, []).append(need)
    masks = np.array(list(of_mask), np.int64)
    sums = np.array([sum(need.times for need in group) for group in of_mask.values()], np.int64)
    # taught whole are at most so many words of each group, the commonest
    single = sorted(
        ((need.times, at) for at, group in enumerate(of_mask.values()) for need in group[:number]),
        key=lambda pair: -pair[0],
    )
    times = np.array([pair[0] for pair in single], np.int64)
    owner = np.array([pair[1] for pair in single], np.int64)
    best: tuple[int, int, int] = (0, 0, 0)
    for size in range(min(number, len(lessons)) + 1):
        for sets in _chunks(_sets(len(lessons), size)):
            cleared = ((masks & ~sets[:, None]) == 0) & (masks != UNREACHED)
            gains = cleared @ sums
            if size < number:
                left = ~cleared[:, owner]
                gains = gains + np.where(left & (np.cumsum(left, axis=1) <= number - size), times, 0).sum(axis=1)
            at = int(gains.argmax())
            if (int(gains[at]), size) > best[:2]:
                best = int(gains[at]), size, int(sets[at])
    gain, size, chosen = best
    picked = [at for at in range(len(lessons)) if chosen >> at & 1]
    if not gain:
        return None
    taught = {lessons[at] for at in picked}
    left_over = [need for need in needs if not (need.lessons and need.lessons <= taught)]
    whole = [need.whole for need in left_over[: number - size]]
    return Changes((*(lessons[at] for at in picked), *whole), gain, 0)


def _lessons(needs: Sequence[Need]) -> list[str]:
    """The lessons that are tried, those first that are in the way of most running words."""
    wanted: Counter[str] = Counter()
    for need in needs:
        for lesson in need.lessons:
            wanted[lesson] += need.times
    return sorted(wanted, key=lambda lesson: (-wanted[lesson], lesson))[:MOST_LESSONS]


@cache
def _sets(lessons: int, size: int) -> Bits:
    """Every set of so many of some lessons, a bit for each lesson."""
    return np.array([sum(1 << at for at in some) for some in combinations(range(lessons), size)], np.int64)


def _chunks(sets: Bits) -> Iterator[Bits]:
    return (sets[at : at + CHUNK] for at in range(0, len(sets), CHUNK))
