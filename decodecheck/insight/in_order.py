"""What texts hold in the order in which they are read: how long each lesson has not been met, and what the texts of each step lack."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from decodecheck.insight.coverage import Coverage


@dataclass(frozen=True, slots=True)
class Met:
    """A lesson in the texts that are read from its step on: how many there are, which of all texts hold it (counted from 1), how many came after the
    last of these (None: none holds it), and the longest run of texts without it, before the first, between two, or after the last."""

    name: str
    step: int
    texts: int
    holding: tuple[int, ...]
    since: int | None
    longest: int


@dataclass(frozen=True, slots=True)
class OfStep:
    """The texts of a step: what none of them holds of what is new there, and of the lessons before it."""

    step: int
    texts: tuple[str, ...]
    lacking: tuple[str, ...]
    unmet_before: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class InOrder:
    """The texts of one order of teaching, as they are read one after the other."""

    order: str
    texts: tuple[str, ...]
    met: tuple[Met, ...]
    steps: tuple[OfStep, ...]


def in_order(coverages: Sequence[Coverage]) -> list[InOrder]:
    """The same for the texts of each order of teaching; they are read as they come."""
    by_order: dict[str, list[Coverage]] = {}
    for one in coverages:
        by_order.setdefault(one.order, []).append(one)
    return [
        InOrder(
            name,
            tuple(one.path for one in texts),
            tuple(_met(texts)),
            tuple(_of_step(texts, step) for step in _steps(texts)),
        )
        for name, texts in by_order.items()
    ]


def _steps(texts: Sequence[Coverage]) -> list[int]:
    return sorted({one.step for one in texts})


def _met(texts: Sequence[Coverage]) -> list[Met]:
    """Every lesson that one of the texts could hold, in the order of teaching."""
    lessons = {(held.name, held.step): None for one in sorted(texts, key=lambda t: t.step) for held in one.lessons}
    found = []
    for name, step in lessons:
        runs, holding, read = [0], list[int](), 0
        for number, one in enumerate(texts, 1):
            held = next((h for h in one.lessons if (h.name, h.step) == (name, step)), None)
            if held is None:
                continue
            read += 1
            if held.words:
                holding.append(number)
                runs.append(0)
            else:
                runs[-1] += 1
        found.append(Met(name, step, read, tuple(holding), runs[-1] if holding else None, max(runs)))
    return sorted(found, key=lambda met: met.step)


def _of_step(texts: Sequence[Coverage], step: int) -> OfStep:
    of_step = [one for one in texts if one.step == step]
    lacking = [name for name in of_step[0].lacking if all(name in one.lacking for one in of_step)]
    before = [held.name for held in of_step[0].unmet_before]
    unmet = [name for name in before if all(name in [h.name for h in one.unmet_before] for one in of_step)]
    return OfStep(step, tuple(one.path for one in of_step), tuple(lacking), tuple(unmet))


def since(coverages: Sequence[Coverage], at: int) -> dict[str, int | None]:
    """For each lesson of one of the texts, how many texts before it (of its order of teaching) have been read since one held it: 0 where it
    holds it itself, 1 where the one before did; None where none has."""
    one = coverages[at]
    before = [c for c in coverages[:at] if c.order == one.order]
    found: dict[str, int | None] = {}
    for held in one.lessons:
        if held.words:
            found[held.name] = 0
            continue
        names = (
            n for n, c in enumerate(reversed(before), 1) if any(h.name == held.name and h.words for h in c.lessons)
        )
        found[held.name] = next(names, None)
    return found
