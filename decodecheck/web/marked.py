"""The text as it reads, its difficult spots marked: what the page shows in its middle, and the sentences that lead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from decodecheck.checking.report import TextReport
from decodecheck.errors import count, cut
from decodecheck.insight.fit import fit
from decodecheck.insight.reasons import spelt
from decodecheck.judging.verdict import BLOCKED, LABELS, STATUSES, UNJUDGED, UNSURE
from decodecheck.printing import safe
from decodecheck.reports.fitting import readable
from decodecheck.reports.marked_lines import Letters, Piece, marked_lines
from decodecheck.reports.summary import others

FIRST, PART = 12_000, 60_000
"""Characters of a text that are shown first, about two thousand words, and then at a time: so the first ones do not wait for the last."""
MOST_WORDS = 12
"""Words that the lead names."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of a line: with a status a word to be touched, else what stands between such words. `start` is where it starts in the text,
    `word` what it is called in lists, `said` what is read out."""

    letters: tuple[Letters, ...]
    status: str = ""
    start: int = -1
    word: str = ""
    said: str = ""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A line of the text with where it starts; one without stretches is blank."""

    start: int
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """Some lines of a text, and the number of the next part (0: this is the last)."""

    lines: tuple[Paragraph, ...]
    following: int


@dataclass(frozen=True, slots=True)
class Lead:
    """What is said of the text first: from where it can be read, how many words cannot be yet and which, what the others are."""

    readable: str
    here: str
    words: tuple[str, ...]
    more: int
    others: tuple[str, ...]


def lead(report: TextReport) -> Lead:
    """The lead of a report."""
    judged = sum(report.counts[status] for status in STATUSES if status != UNJUDGED)
    if not judged:
        return Lead("There is no word here to judge.", "", (), 0, tuple(others(report)))
    status = BLOCKED if report.counts[BLOCKED] else UNSURE
    number = report.counts[status]
    words = list(dict.fromkeys(spelt(report, o.form) for o in report.open if o.status == status))
    are = "are" if number != 1 else "is"
    at = f"At {step_name(report)}"
    if not number:
        here = f"{at}, all {count(judged, 'word')} can be read." if judged > 1 else f"{at}, its one word can be read."
    elif status == BLOCKED:
        here = f"{at}, {number} of {count(judged, 'word')} {are} {LABELS[BLOCKED]}:"
    else:
        here = f"{at}, {number} of {count(judged, 'word')} {are} to {LABELS[UNSURE]}, all others can be read:"
    return Lead(
        readable(fit(report)),
        here,
        tuple(map(cut, words[:MOST_WORDS])),
        max(0, len(words) - MOST_WORDS),
        tuple(others(report)),
    )


def step_name(report: TextReport) -> str:
    """The step of a report with its title and its group."""
    title = next((step.title for step in report.order.steps if step.number == report.step), "")
    variant = f" ({report.order.variant})" if report.order.variant else ""
    return f"step {report.step}" + (f" “{title}”" if title else "") + variant


def part(report: TextReport, number: int) -> Part:
    """A part of the text by its number, from 0; one that is not there has no lines."""
    document = report.document
    starts = [*document.line_starts, len(document.text)]
    bounds = _bounds(starts)
    if number + 1 >= len(bounds):
        return Part((), 0)
    first, last = bounds[number], bounds[number + 1]
    lines = marked_lines(report, first, last)
    forms = {start: entry.form for start, _, entry in report.sites if starts[first] <= start < starts[last]}
    shown = tuple(
        Paragraph(starts[first + at], tuple(_stretches(report, line.pieces, forms))) for at, line in enumerate(lines)
    )
    return Part(shown, number + 1 if number + 2 < len(bounds) else 0)


def _bounds(starts: Sequence[int]) -> list[int]:
    """The numbers of the lines at which parts begin, and the end."""
    found = [0]
    for at, (_, end) in enumerate(pairwise(starts)):
        if end - starts[found[-1]] >= (PART if len(found) > 1 else FIRST):
            found.append(at + 1)
    return found if found[-1] == len(starts) - 1 and len(found) > 1 else [*found, len(starts) - 1]


def _stretches(report: TextReport, pieces: Sequence[Piece], forms: dict[int, str]) -> Iterator[Stretch]:
    for piece in pieces:
        form = forms.get(piece.start, "")
        if not piece.status or not form:
            yield Stretch(piece.letters, piece.status if piece.status == BLOCKED else "")
            continue
        letters = ", ".join(run.text for run in piece.letters if run.in_the_way)
        said = f"{''.join(run.text for run in piece.letters)}, {LABELS[piece.status]}"
        whole = len(piece.letters) == 1
        yield Stretch(
            piece.letters,
            piece.status,
            piece.start,
            safe(spelt(report, form).lower()),
            said + (f": {letters}" if letters and not whole else ""),
        )
