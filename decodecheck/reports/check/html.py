"""A page for people: the text as it reads with what stands in the way marked in place, what that is, and a chart by step.

One file that needs nothing else: no script, nothing fetched. Letters in the way are light on dark and bold, whatever the reason.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from decodecheck.checking.report import TextReport
from decodecheck.checking.reported import Reported
from decodecheck.checking.values import Finding
from decodecheck.errors import count, cut_path, shortened
from decodecheck.insight.reasons import Reason, Reasons, Told, reasons
from decodecheck.judging.verdict import BLOCKED, STATUSES, UNJUDGED, UNSURE
from decodecheck.lexicon.store import NEVER
from decodecheck.printing import safe
from decodecheck.reports.marked_lines import Letters, Line, marked_lines, marked_word
from decodecheck.reports.spool import Spool
from decodecheck.reports.step_chart import Chart, chart
from decodecheck.reports.summary import totals
from decodecheck.reports.told import failure_words, grouped, message, remedy
from decodecheck.reports.view import View
from decodecheck.run import Run
from decodecheck.source import shown

if TYPE_CHECKING:
    from jinja2 import Environment

SUFFIX = ".html"
MACHINE = False
MOST_PLACES = 10
"""Places of a word that are named; the text shows all."""
MOST_WORDS = 40
"""Words that are named for one reason."""


@dataclass(frozen=True, slots=True)
class Ranked:
    """Something that stands in the way: what, when it is taught, how many running words wait for it, and which."""

    name: str
    when: str
    times: int
    words: tuple[tuple[tuple[Letters, ...], int], ...]
    more: int


@dataclass(frozen=True, slots=True)
class Entry:
    """A word with what is said of it, and its places, each with where the word starts in the text."""

    letters: tuple[Letters, ...]
    places: tuple[tuple[str, int], ...]
    more: int
    message: str
    remedy: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """What the page says of one file. The last fields are for texts alone."""

    number: int
    path: str
    step: int
    blocked: int
    unsure: int
    words: int
    ready: str
    entries: tuple[Entry, ...]
    summary: tuple[str, ...] = ()
    ranked: tuple[Ranked, ...] = ()
    others: tuple[tuple[str, tuple[tuple[tuple[Letters, ...], int], ...]], ...] = ()
    help: str = ""
    chart: Chart | None = None
    lines: tuple[Line, ...] = ()

    @property
    def fine(self) -> bool:
        """Whether there is nothing to tell."""
        return not self.entries

    def row(self) -> Section:
        """What the table of all files needs of it."""
        return Section(
            self.number, self.path, self.step, self.blocked, self.unsure, self.words, self.ready, self.entries[:1]
        )


def render(run: Run, view: View) -> Iterator[str]:
    """The page. What it says of single files waits until the table of all is whole."""
    environment = _environment()
    template = environment.get_template("html.jinja").module
    rows: list[Section] = []
    numbers = iter(range(1, run.texts + 2))
    with Spool() as sections:
        for section in run.each(lambda report: _section(report, next(numbers), view)):
            rows.append(section.row())
            # of several files, those that are fine stand in the table alone
            if not section.fine or run.texts == 1:
                sections.add(_call(template, "file", section))
            yield ""
        failures = [(shown(failure.path), *failure_words(failure)) for failure in run.failures]
        rows.sort(key=lambda row: (row.fine, not row.blocked))
        title = f"{count(len(rows), 'text')} checked"
        name = f"{rows[0].path}, step {rows[0].step}" if len(rows) == 1 else title
        yield _call(template, "head", name, title, rows, failures, run.aside)
        yield from sections.pieces()
        yield _call(template, "foot")


def _section(report: Reported, number: int, view: View) -> Section:
    words = sum(report.counts[status] for status in STATUSES if status != UNJUDGED)
    base = partial(
        Section,
        number,
        cut_path(report.path),
        report.step,
        report.counts[BLOCKED],
        report.counts[UNSURE],
        words,
        entries=tuple(map(_entry, grouped(report.findings))),
    )
    if not isinstance(report, TextReport):
        return base(ready="")
    ready = report.ready_step()
    found = reasons(report)
    first, *rest = totals(report, view.readers(report))
    return base(
        ready="no step" if ready is None else f"step {ready}" if ready else "every step",
        summary=(first.removeprefix(f"{cut_path(safe(report.path))}: "), *(line.strip() for line in rest)),
        ranked=tuple(map(_ranked, sorted(found.reasons, key=lambda reason: (-reason.times, reason.step)))),
        others=tuple(_others(found)),
        help=_help(found, report),
        chart=chart(report),
        lines=_without_end(tuple(marked_lines(report))),
    )


def _without_end(lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Lines without the blank ones at their end."""
    last = next((at for at in range(len(lines), 0, -1) if lines[at - 1].pieces), 0)
    return lines[:last]


def _entry(group: Sequence[Finding]) -> Entry:
    first = group[0]
    # what is no part of the text has no place in it to go to
    starts = ((f, f.start if f.end > f.start else -1) for f in group[:MOST_PLACES])
    places = tuple((finding.place.words(), start) for finding, start in starts)
    return Entry(
        marked_word(" ".join(first.word.split()), first.blockers),
        places,
        len(group) - len(places),
        message(first),
        tuple(remedy(first).split("\n")),
    )


def _ranked(reason: Reason) -> Ranked:
    when = "never taught here" if reason.step == NEVER else f"step {reason.step}"
    words = tuple(map(_word, reason.words[:MOST_WORDS]))
    return Ranked(reason.name, when, reason.times, words, len(reason.words) - len(words))


def _word(told: Told) -> tuple[tuple[Letters, ...], int]:
    """A word with its letters in the way, and how often it occurs."""
    return marked_word(told.form, told.blockers), told.times


def _others(found: Reasons) -> Iterator[tuple[str, tuple[tuple[tuple[Letters, ...], int], ...]]]:
    """The words that do not wait for something, under what they are."""
    for name, words in (
        ("Names, if they are", found.names),
        ("With two sounds, of which one can be read", found.undecided),
        ("Not known to decodecheck", found.unknown),
    ):
        if words:
            yield name, tuple(map(_word, words))


def _help(found: Reasons, report: TextReport) -> str:
    if not found.help:
        return ""
    changes = "; ".join(found.help.changes)
    return (
        f"Most help at this step, for {found.help.cleared} of {report.open_counts[BLOCKED]} words: {shortened(changes)}"
    )


@cache
def _environment() -> Environment:
    # slow to load, and other formats do without it
    from decodecheck.reports.templates import environment

    return environment(Path(__file__).parent)


def _call(template: Any, macro: str, *values: Any) -> str:
    return str(getattr(template, macro)(*values))
