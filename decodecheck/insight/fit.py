"""Which step a text fits: how many words are not yet decodable at each step, the first step at which all can be read, and the few
words that hold it back. One pass over the text, whatever the number of steps: from which step a word can be read does not depend on the check."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Entry
from decodecheck.insight.help import Changes
from decodecheck.insight.reasons import spelt
from decodecheck.judging.verdict import ALLOWED, UNSURE
from decodecheck.lexicon.store import NEVER

MOST_HELD = 3
"""So many words are named as those that hold a text back, at the most."""
FEW = 4
"""They are at most one of so many different words."""
WORTH = 2
"""Without them the text has to be readable so many steps earlier, at the least."""


@dataclass(frozen=True, slots=True)
class Waiting:
    """A distinct word: as a summary names it, how often it occurs, and from which step on it can be read (NEVER: from none). A word with two
    sounds may stand twice, with the step of each."""

    word: str
    times: int
    step: int


@dataclass(frozen=True, slots=True)
class HeldBack:
    """The few words without which a text could be read earlier, and the step from which it could."""

    words: tuple[str, ...]
    without: int


@dataclass(frozen=True)
class Fit:
    """How a text fits the steps of an order.

    `step` is the step it was checked at, `running` how many words are judged, `waiting` its distinct words, those that come last first (words
    that are allowed, and unknown ones, are left out); `unknown` are words that decodecheck does not know; `first` is the first step at which
    all others can be read, None where no step does it.
    """

    path: str
    step: int
    steps: tuple[int, ...]
    running: int
    waiting: tuple[Waiting, ...]
    unknown: tuple[str, ...]
    first: int | None
    held_back: HeldBack | None

    def left_at(self, step: int) -> list[Waiting]:
        """The words that cannot be read at a step, those that come last first."""
        return [word for word in self.waiting if word.step > step]

    def by_step(self) -> list[tuple[int, int]]:
        """For every step, how many running words cannot be read there yet."""
        return [(step, sum(word.times for word in self.left_at(step))) for step in self.steps]


@dataclass(frozen=True, slots=True)
class Fitted:
    """A text with how it fits, what would help most at its step, and the words that each group cannot read yet, by the group's name."""

    fit: Fit
    order: str
    last: int
    help: tuple[Changes, ...]
    groups: Mapping[str, tuple[str, ...]]


SORTS: dict[str, Callable[[Fit], tuple[object, ...]]] = {
    "first": lambda fit: (fit.first is None, fit.first or 0, fit.path),
    "name": lambda fit: (fit.path,),
    "waiting": lambda fit: (sum(word.times for word in fit.left_at(fit.step)), fit.path),
    "words": lambda fit: (fit.running, fit.path),
}
"""How texts may be put in order, by name: by the first step at which all can be read, by path, by how many words cannot be read at the step, by how
many words they have; the smallest comes first."""


def fit(report: TextReport) -> Fit:
    """How the text of a report fits the steps of its order; the step of the report decides nothing."""
    times: Counter[tuple[str, int]] = Counter()
    unknown: dict[str, None] = {}
    for o in report.occurrences:
        if o.status == ALLOWED:
            continue
        name = spelt(report, o.form)
        if o.status == UNSURE and report.verdict(Entry(o.form, False, o.sense)).unlisted:
            unknown[name] = None
        else:
            times[name, o.first_step] += o.times
    waiting = [Waiting(name, number, step) for (name, step), number in times.items()]
    waiting.sort(key=lambda w: (-w.step, w.word.lower()))
    last = waiting[0].step if waiting else 0
    steps = tuple(step.number for step in report.order.steps)
    return Fit(
        report.path,
        report.step,
        steps,
        sum(report.running.values()),
        tuple(waiting),
        tuple(sorted(unknown, key=str.lower)),
        None if last == NEVER else max(last, steps[0] if steps else 0),
        _held_back(waiting, steps),
    )


def _held_back(waiting: list[Waiting], steps: tuple[int, ...]) -> HeldBack | None:
    """The few words that hold a text back most for their number; None where none push it far."""
    place = {step: at for at, step in enumerate(steps)}
    end = len(steps)
    best: tuple[float, HeldBack] | None = None
    for number in range(1, min(MOST_HELD, len(waiting) // FEW) + 1):
        if waiting[number - 1].step == waiting[number].step:
            continue  # others of the same step would stay
        without = waiting[number].step
        if without == NEVER:
            continue
        gained = place.get(waiting[0].step, end) - place.get(without, 0)
        if gained >= WORTH and (best is None or gained / number > best[0]):
            best = (
                gained / number,
                HeldBack(tuple(w.word for w in waiting[:number]), max(without, steps[0] if steps else 0)),
            )
    return best[1] if best else None
