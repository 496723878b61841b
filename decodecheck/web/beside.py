"""What stands beside the text: what is in the way, ranked; the chart by step; what would help most. Each a value that a template shows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from decodecheck.checking.report import TextReport
from decodecheck.errors import count, cut
from decodecheck.insight.help import best_changes
from decodecheck.insight.reasons import Reason, Told, needs, reasons
from decodecheck.judging.verdict import BLOCKED
from decodecheck.lexicon.store import NEVER
from decodecheck.reports.fitting import READ_ALOUD
from decodecheck.reports.marked_lines import Letters, marked_word
from decodecheck.reports.step_chart import Chart, chart

MOST_REASONS = 60
MOST_WORDS = 40
"""Words that are named for one reason."""
MOST_CHANGES = 5

Shown = tuple[str, tuple[Letters, ...], int]
"""A word: how the text calls it, its letters, how often it stands there."""


@dataclass(frozen=True, slots=True)
class Group:
    """Some words with what they have in common: what is in their way and when it is taught, or what else they are."""

    name: str
    when: str
    times: int
    words: tuple[Shown, ...]
    more: int


@dataclass(frozen=True, slots=True)
class Panel:
    """A table beside the text, under a title; `numbers` are its columns (from 0) of numbers."""

    title: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Beside:
    """All of it."""

    ranked: tuple[Group, ...]
    more: int
    others: tuple[Group, ...]
    chart: Chart | None
    panels: tuple[Panel, ...]


def beside(report: TextReport) -> Beside:
    """What stands beside the text of a report."""
    found = reasons(report)
    ranked = sorted(found.reasons, key=lambda reason: (-reason.times, reason.step))
    names = (
        ("Names, if they are", found.names),
        ("Two sounds, of which one can be read", found.undecided),
        ("Not known to decodecheck", found.unknown),
    )
    return Beside(
        tuple(map(_reason, ranked[:MOST_REASONS])),
        max(0, len(ranked) - MOST_REASONS),
        tuple(_group(name, "", words) for name, words in names if words),
        chart(report),
        tuple(_panels(report)),
    )


def _reason(reason: Reason) -> Group:
    return _group(reason.name, "never taught here" if reason.step == NEVER else f"step {reason.step}", reason.words)


def _group(name: str, when: str, words: Sequence[Told]) -> Group:
    shown = tuple((w.form.lower(), marked_word(cut(w.form), w.blockers), w.times) for w in words[:MOST_WORDS])
    return Group(name, when, sum(w.times for w in words), shown, max(0, len(words) - MOST_WORDS))


def _panels(report: TextReport) -> Iterator[Panel]:
    yield from _help(report)


def _help(report: TextReport) -> Iterator[Panel]:
    """The lessons and tricky words that would help most at the step: one, two, and so on."""
    found = best_changes(needs(report), MOST_CHANGES)
    if not found:
        return
    looked_at = found[-1].cleared + found[-1].left
    names = report.counts[BLOCKED] - looked_at
    aside = f" ({count(names, 'word')} that may be names aside)" if names else ""
    rows = tuple((str(len(c.changes)), "; ".join(c.changes), str(c.cleared), str(c.left)) for c in found)
    yield Panel(
        f"What would help most at step {report.step}",
        ("Changes", "Which", "Clear", "Leave"),
        rows,
        (0, 2, 3),
        f"Of {count(looked_at, 'word')} not yet decodable{aside}, so many are cleared and left. Names are allowed rather than taught."
        + (f" {READ_ALOUD}" if found[-1].left and len(found) == MOST_CHANGES else ""),
    )
