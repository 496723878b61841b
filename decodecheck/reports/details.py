"""Words with their places, excerpts and remedies: one entry for each distinct word and reason, or one for each place."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Finding
from decodecheck.errors import count, cut, cut_path, excerpt_lines, shortened
from decodecheck.judging.verdict import LABELS
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import NEVER
from decodecheck.printing import columns, safe
from decodecheck.reports.emphasis import BRACKETS, Signs
from decodecheck.reports.marks import mark
from decodecheck.reports.told import grouped
from decodecheck.reports.view import View

MOST_PLACES = 3
LINE = 76
"""Characters of a line of the text that are shown."""
BESIDE, LEAST = 10, 20
"""Columns that indent and ellipses take beside them, and the fewest columns worth fitting anything into."""


def details(report: TextReport, view: View, signs: Signs = BRACKETS) -> Iterator[str]:
    """The lines of all findings of a text, or of those on the one word that is asked for."""
    wanted = plain_spelling(view.word).plain
    found = [f for f in report.findings if not wanted or plain_spelling(f.word).plain == wanted]
    if wanted and not found:
        yield _not_told(report, view.word, wanted)
        return
    first = {group[0]: group for group in grouped(found)}
    before = False
    for finding in found:
        group = first.get(finding)
        if group is None:
            if view.every_place:
                yield f"{_head(report, finding, signs)}, as above"
            continue
        if before:
            yield ""
        before = True
        yield from _finding(report, finding, () if view.every_place else group[1:], view.width, signs)


def _not_told(report: TextReport, word: str, plain: str) -> str:
    name, known = cut_path(safe(report.path)), report.distinct.get(plain)
    if known is None:
        return f"{name}: “{cut(word)}” is not in this text."
    first = f", from step {known.first_step} on" if 0 < known.first_step < NEVER else ""
    times = count(report.running[plain], "time")
    return f"{name}: “{cut(word)}” is {LABELS[known.status]}{first} ({times})."


def _head(report: TextReport, finding: Finding, signs: Signs) -> str:
    word = mark(" ".join(finding.word.split()), finding.blockers, signs)
    status = LABELS.get(finding.status, finding.kind.replace("-", " "))
    return f"{finding.place.after(cut_path(safe(report.path)))}: {word} - {status}"


def _finding(
    report: TextReport, finding: Finding, others: list[Finding] | tuple[Finding, ...], width: int, signs: Signs
) -> Iterator[str]:
    yield _head(report, finding, signs) + (f" ({_also(others)})" if others else "")
    line, column = report.document.line_of(finding.start)
    if finding.excerpt:
        line, column = finding.excerpt, finding.place.column
    start, end = finding.place, finding.end_place
    one_line = end.line == start.line and end.column > start.column and "\n" not in finding.word
    marked = end.column - start.column if one_line else len(finding.word.splitlines()[0])
    yield from excerpt_lines(line, column, marked, room=_room(width))
    yield from _folded(shortened(finding.message), width)
    first, *rest = shortened(finding.remedy).split("\n")
    yield from _folded(first, width)
    # what is pasted into a file keeps its lines
    yield from (f"  {part}" for part in rest)


def _room(width: int) -> int:
    """How many characters of the text's line are shown: the carets below have to stand under them in the terminal."""
    return min(LINE, width - BESIDE) if width > BESIDE + LEAST else LINE


def _folded(text: str, width: int) -> Iterator[str]:
    """A sentence in lines that a terminal has room for; where there is none in one."""
    if width <= LEAST or columns(text) + 2 <= width:
        yield f"  {text}"
        return
    yield from textwrap.wrap(
        text, width, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False, break_long_words=False
    )


def _also(others: list[Finding] | tuple[Finding, ...]) -> str:
    """Where else a word stands: also in lines 12, 40 and 31 more."""
    named = [f.place.words() for f in others[:MOST_PLACES]]
    if all(name.startswith("line ") and "," not in name for name in named):
        lines = list(dict.fromkeys(f.place.line for f in others))
        named = [str(line) for line in lines[:MOST_PLACES]]
        more = len(lines) - len(named)
        head = "line" if len(lines) == 1 else "lines"
        listed = ", ".join(named) if more else " and ".join(filter(None, (", ".join(named[:-1]), named[-1])))
        return f"also in {head} {listed}" + (f" and {more} more" if more else "")
    more = len(others) - len(named)
    return "also in " + "; ".join(named) + (f" and {more} more" if more else "")
