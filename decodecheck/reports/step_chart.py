"""How many words of a text cannot be read yet, by step: as numbers, and where the bars of a chart stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from pathlib import Path
from typing import TYPE_CHECKING

from decodecheck.judging.verdict import BLOCKED, DECODABLE, TRICKY

if TYPE_CHECKING:
    # slow to load, and pages of words do without it
    from decodecheck.checking.report import TextReport

TEMPLATES = Path(__file__).parent
"""Where `step_chart.jinja` is, which draws a chart."""
WIDTH, HEIGHT = 640, 178
LEFT, RIGHT, TOP, BOTTOM = 44, 10, 24, 44
MOST_NAMED = 14
"""Steps that are named under the bars."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A step with its words and where its bar stands. `named`: there is room for its number below; `here`: it is that of the check."""

    step: int
    words: int
    left: float
    top: float
    width: float
    height: float
    named: bool
    here: bool

    @property
    def middle(self) -> float:
        """Where its number stands."""
        return round(self.left + self.width / 2, 1)


@dataclass(frozen=True, slots=True)
class Chart:
    """The bars of a chart, one for each step."""

    bars: tuple[Bar, ...]

    @property
    def most(self) -> int:
        """The words of the highest bar."""
        return max(bar.words for bar in self.bars)

    def changes(self) -> list[Bar]:
        """The bars that differ from the one before."""
        return [bar for at, bar in enumerate(self.bars) if not at or bar.words != self.bars[at - 1].words]


def not_yet(report: TextReport) -> list[tuple[int, int]]:
    """For each step the running words that cannot be read there yet; words to check by eye are left out."""
    steps = [step.number for step in report.order.steps]
    first: dict[int, int] = {}
    for occurrence in report.occurrences:
        if occurrence.status in (BLOCKED, DECODABLE, TRICKY):
            first[occurrence.first_step] = first.get(occurrence.first_step, 0) + occurrence.times
    becomes = sorted(first)
    counted = [0, *accumulate(first[step] for step in becomes)]
    found, at = [], 0
    for step in steps:
        while at < len(becomes) and becomes[at] <= step:
            at += 1
        found.append((step, counted[-1] - counted[at]))
    return found


def chart(report: TextReport) -> Chart | None:
    """The chart of a text; None where there is nothing to see: every word can be read from the start, or there is one step only."""
    return drawn(not_yet(report), report.step)


def drawn(numbers: Sequence[tuple[int, int]], here: int) -> Chart | None:
    """The chart of the words that cannot be read at each step, with the step of the check; None where there is nothing to see."""
    most = max((words for _, words in numbers), default=0)
    if not most or len(numbers) < 2:
        return None
    room = (WIDTH - LEFT - RIGHT) / len(numbers)
    return Chart(tuple(_bars(numbers, most, room, here)))


def _bars(numbers: Sequence[tuple[int, int]], most: int, room: float, here: int) -> list[Bar]:
    every = -(-len(numbers) // MOST_NAMED)
    own = next((at for at, (step, _) in enumerate(numbers) if step == here), -1)
    high = HEIGHT - TOP - BOTTOM
    bars = []
    for at, (step, words) in enumerate(numbers):
        height = round(high * words / most, 1)
        # the step of the check is always named, and pushes a neighbour away that would stand too close
        named = at == own or (at % every == 0 and (own < 0 or abs(at - own) >= every))
        left = round(LEFT + room * at + room * 0.1, 1)
        bars.append(Bar(step, words, left, TOP + high - height, round(room * 0.8, 1), height, named, at == own))
    return bars
