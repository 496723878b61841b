"""The report on a word list for people: totals, then what is told of each entry, in the order of the rows."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from decodecheck.checking.kinds import ERROR
from decodecheck.checking.values import Finding
from decodecheck.errors import count, cut, cut_path, excerpt_lines, shortened
from decodecheck.judging.verdict import BLOCKED, LABELS, STATUSES, UNJUDGED, UNSURE
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lists.report import ListReport
from decodecheck.printing import safe
from decodecheck.reports.marks import mark
from decodecheck.reports.summary import in_the_baseline, passing
from decodecheck.reports.totals import MOST_IN_THE_WAY, Row
from decodecheck.reports.view import View

MOST_TOLD = 60
"""So many findings are told unless --details is asked for."""
MOST_WORDS = 8


def row_of(report: ListReport, readers: Sequence[str], worst: Sequence[str]) -> Row:
    """What a table of several files says of a list."""
    blocked, unsure = report.open_counts[BLOCKED], report.open_counts[UNSURE]
    judged = sum(report.counts[status] for status in STATUSES if status != UNJUDGED)
    return Row(
        report.path,
        report.step,
        blocked,
        unsure,
        judged,
        report.ready_step(),
        tuple(readers),
        tuple(worst[:MOST_IN_THE_WAY]),
        len(worst),
        report.open_counts[""],
    )


def worst(report: ListReport) -> list[str]:
    """The words of a list that cannot be read yet."""
    return list(dict.fromkeys(cut(f.word) for f in report.findings if f.status == BLOCKED and f.blockers))


def lines_of(report: ListReport, readers: Sequence[str], view: View, width: int) -> Iterator[str]:
    """The report in lines, of a width where they are folded."""
    if view.word:
        yield from _on_one_word(report, view, width)
        return
    yield from _totals(report, readers)
    findings = report.findings
    few = findings if view.details or view.every_place else findings[:MOST_TOLD]
    for severity, heading in (("error", "To mend:"), ("warning", "To look at:")):
        told = [finding for finding in few if finding.severity == severity]
        if told:
            yield from ("", heading)
            for finding in told:
                yield from _told(report, finding, view, width)
    if len(few) < len(findings):
        yield from ("", f"And {len(findings) - len(few)} more remarks: --details shows all.")


def _totals(report: ListReport, readers: Sequence[str]) -> Iterator[str]:
    name = cut_path(safe(report.path))
    number = len(report.document.entries)
    entries = f"{number} {'entry' if number == 1 else 'entries'}"
    wrong = len({f.start for f in report.findings if f.severity == ERROR})
    looked = len({f.start for f in report.findings}) - wrong
    parts = [f"{wrong} to mend" if wrong else "", f"{looked} to look at" if looked else ""]
    found = ", ".join(part for part in parts if part)
    fine = "nothing else to tell" if report.problems else "nothing new" if report.accepted else "all fine"
    yield f"{name}: {found}, of {entries}" if found else f"{name}: {entries}, {fine}"
    if report.problems:
        yield f"  {count(len(report.problems), 'cell')} could not be used; what is wrong with them is told beside this report."
    variant = f' ("{report.order.variant}")' if report.order.variant else ""
    steps = sorted({part.step for part in report.parts})
    step = (
        f"step {report.step}" if steps in ([], [report.step]) else f"the steps of its rows, {steps[0]} to {steps[-1]},"
    )
    yield f"  A word list, checked at {step} of {report.order.last}{variant}, {report.order.name}."
    if report.errors:
        ready = report.ready_step()
        blocked = count(report.errors, "word")
        then = f"from step {ready} on all can be read" if ready is not None else "no step makes all of them readable"
        yield f"  {blocked} {LABELS[BLOCKED]}; {then}."
    if report.accepted:
        yield f"  {in_the_baseline(len(report.accepted))}"
    yield from (f"  {line}" for line in passing(report))
    if report.allowed_here:
        yield f"  {sum(report.allowed_here.values())} allowed here ({len(report.allowed_here)} different)."
    if readers:
        yield f"  Groups that can read it: {', '.join(readers)}."
    if report.unjudged:
        shown = ", ".join(safe(cut(word)) for word in sorted(report.unjudged)[:MOST_WORDS])
        more = ", ..." if len(report.unjudged) > MOST_WORDS else ""
        yield f"  Not judged: {sum(report.unjudged.values())} ({shown}{more})."
    if report.others:
        named = ", ".join(safe(cut(title)) for title in report.others[:MOST_WORDS])
        sheets = "This sheet has" if len(report.others) == 1 else "These sheets have"
        yield f"  {sheets} no column of words: {named}."


def _told(report: ListReport, finding: Finding, view: View, width: int) -> Iterator[str]:
    """An entry with what is said of it: in a line or two, or with its row and a caret."""
    word = mark(" ".join(finding.word.split()), finding.blockers)
    if not (view.details or view.every_place):
        place = f"{finding.place.sheet} {finding.place.cell}".strip() or f"line {finding.place.line}"
        text = f"  {place}, {word}: {finding.message} {finding.remedy}"
        yield from _folded(shortened(text), width)
        return
    label = LABELS.get(finding.status, finding.kind.replace("-", " "))
    yield f"{finding.place.after(cut_path(safe(report.path)))}: {word} - {label}"
    line, column = report.document.line_of(finding.start)
    if finding.place.line:
        column = finding.place.column
        yield from excerpt_lines(line, column, finding.end_place.column - column)
    for part in (finding.message, *finding.remedy.split("\n")):
        yield from _folded(f"  {shortened(part)}", width)


def _folded(text: str, width: int) -> list[str]:
    return textwrap.wrap(safe(text), width, subsequent_indent=" " * 6, break_on_hyphens=False) or [""]


def _on_one_word(report: ListReport, view: View, width: int) -> Iterator[str]:
    wanted = plain_spelling(view.word).plain
    found = [f for f in report.findings if plain_spelling(f.word).plain == wanted]
    if found:
        for finding in found:
            yield from _told(report, finding, View(details=True), width)
        return
    there = any(plain_spelling(entry.word.text).plain == wanted for entry in report.document.entries)
    what = "has nothing to tell of" if there else "does not hold"
    yield f"{cut_path(safe(report.path))}: this list {what} “{cut(view.word)}”."
