"""Words with their places, excerpts and remedies: one entry for each distinct word and reason, or one for each place."""

from __future__ import annotations

from collections.abc import Iterator

from decodecheck.checking.report import Finding, TextReport
from decodecheck.errors import count, cut, cut_path, excerpt_lines, shortened
from decodecheck.judging.verdict import LABELS
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import NEVER
from decodecheck.printing import safe
from decodecheck.reports.marks import mark
from decodecheck.reports.view import View

MOST_PLACES = 3


def details(report: TextReport, view: View) -> Iterator[str]:
    """The lines of all findings of a text, or of those on the one word that is asked for."""
    wanted = plain_spelling(view.word).plain
    found = [f for f in report.findings if not wanted or plain_spelling(f.word).plain == wanted]
    if wanted and not found:
        yield _not_told(report, view.word, wanted)
        return
    grouped: dict[tuple[str, str, str], list[Finding]] = {}
    for finding in found:
        # the same word may stand in the way for another reason elsewhere: in another sense, with a capital
        grouped.setdefault((finding.word.lower(), finding.kind, finding.message), []).append(finding)
    first = {group[0]: group for group in grouped.values()}
    before = False
    for finding in found:
        group = first.get(finding)
        if group is None:
            if view.every_place:
                yield f"{_head(report, finding)}, as above"
            continue
        if before:
            yield ""
        before = True
        yield from _finding(report, finding, () if view.every_place else group[1:])


def _not_told(report: TextReport, word: str, plain: str) -> str:
    name, known = cut_path(safe(report.path)), report.distinct.get(plain)
    if known is None:
        return f"{name}: “{cut(word)}” is not in this text."
    first = f", from step {known.first_step} on" if 0 < known.first_step < NEVER else ""
    times = count(report.running[plain], "time")
    return f"{name}: “{cut(word)}” is {LABELS[known.status]}{first} ({times})."


def _head(report: TextReport, finding: Finding) -> str:
    word = mark(" ".join(finding.word.split()), finding.blockers)
    status = LABELS.get(finding.status, finding.kind.replace("-", " "))
    return f"{finding.place.after(cut_path(safe(report.path)))}: {word} - {status}"


def _finding(report: TextReport, finding: Finding, others: list[Finding] | tuple[Finding, ...]) -> Iterator[str]:
    yield _head(report, finding) + (f" ({_also(others)})" if others else "")
    line, column = report.document.line_of(finding.start)
    start, end = finding.place, finding.end_place
    one_line = end.line == start.line and end.column > start.column and "\n" not in finding.word
    width = end.column - start.column if one_line else len(finding.word.splitlines()[0])
    yield from excerpt_lines(line, column, width)
    yield f"  {shortened(finding.message)}"
    for part in shortened(finding.remedy).split("\n"):
        yield f"  {part}"


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
