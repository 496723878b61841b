"""Which step numbers of a file stand out of order: as few as can be, so that one wrong number is one mistake."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Odd:
    """A number that is out of order: its place in the list, and the numbers in order before and after it (0: none)."""

    at: int
    before: int
    after: int


def out_of_order(numbers: Sequence[int]) -> list[Odd]:
    """The numbers without which the others rise, as few as can be; where it makes no difference, later ones rather than
    earlier ones."""
    kept = _rising(numbers)
    highest, in_turn = 0, set()
    for at, number in enumerate(numbers):
        if number > highest:
            in_turn.add(at)
            highest = number
    if len(in_turn) >= len(kept):
        kept = in_turn
    found = []
    before = 0
    waiting: list[tuple[int, int]] = []
    for at, number in enumerate(numbers):
        if at in kept:
            found += [Odd(place, low, number) for place, low in waiting]
            waiting = []
            before = number
        else:
            waiting.append((at, before))
    return [*found, *(Odd(place, low, 0) for place, low in waiting)]


def _rising(numbers: Sequence[int]) -> set[int]:
    """The places of a longest rising row among the numbers (patience sorting: Fredman 1975)."""
    ends: list[int] = []
    places: list[int] = []
    previous: list[int] = []
    for at, number in enumerate(numbers):
        pile = bisect_left(ends, number)
        previous.append(places[pile - 1] if pile else -1)
        if pile == len(ends):
            ends.append(number)
            places.append(at)
        else:
            ends[pile] = number
            places[pile] = at
    found = set()
    at = places[-1] if places else -1
    while at >= 0:
        found.add(at)
        at = previous[at]
    return found
