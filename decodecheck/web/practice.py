"""What the text gives practice in, for the page: the lessons of its step and those before, with the words that hold them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from decodecheck.checking.report import TextReport
from decodecheck.errors import cut
from decodecheck.insight.coverage import Coverage, Held, coverage
from decodecheck.reports.covering import NO_MARK
from decodecheck.web.beside import Panel

NAMED = 8
"""Words that are named of a lesson."""
HEAD = ("Lesson", "Step", "Words", "Times", "Likely", "Which")
HOW = (
    "Words: different decodable words that hold it, without tricky words and names. Times: how often it occurs in them. Likely: so many words for "
    "young children that can be decoded at the step hold it."
)


def practice(report: TextReport) -> tuple[Panel, ...]:
    """The panels on a report that has every word."""
    return tuple(_panels(coverage(report)))


def _panels(covered: Coverage) -> Iterator[Panel]:
    new = [held for held in covered.new if held.words]
    lacking = f"New at this step and not met: {', '.join(covered.lacking)}." if covered.lacking else ""
    if new or lacking:
        yield _panel(f"New at step {covered.step}", new, lacking)
    before = [held for held in covered.lessons if held.step < covered.step and held.words]
    unmet = (
        f"Taught before and not met: {', '.join(held.name for held in covered.unmet_before)}. "
        if covered.unmet_before
        else ""
    )
    yield _panel("Taught before", before, f"{unmet}{HOW} {NO_MARK}")


def _panel(title: str, lessons: Sequence[Held], note: str) -> Panel:
    rows = tuple(
        (
            held.name,
            str(held.step),
            str(len(held.words)),
            str(held.times),
            str(held.offered),
            ", ".join(map(cut, held.words[:NAMED])) + (" ..." if len(held.words) > NAMED else ""),
        )
        for held in lessons
    )
    return Panel(title, HEAD, rows, (1, 2, 3, 4), note)
