"""The report for people: totals first, then each distinct word once under what is in its way, then what would help most."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from functools import partial

from decodecheck.checking.report import TextReport
from decodecheck.errors import cut, shortened
from decodecheck.insight.reasons import Reason, Told, reasons, spelt
from decodecheck.judging.verdict import BLOCKED, STATUSES, UNJUDGED, UNSURE
from decodecheck.lexicon.store import NEVER
from decodecheck.lists.report import ListReport
from decodecheck.printing import columns, safe
from decodecheck.reports import lists
from decodecheck.reports.details import details
from decodecheck.reports.emphasis import STRONG, Signs, emphasised, safe_but_signs, signs_for
from decodecheck.reports.marks import mark, marked_text
from decodecheck.reports.summary import totals
from decodecheck.reports.totals import MOST_IN_THE_WAY, Row, table
from decodecheck.reports.view import View
from decodecheck.run import Report, Run

SUFFIX = ".txt"
MACHINE = False
WIDTH = 100
"""Columns of a report that goes to no terminal."""
LEAST, NARROW, WIDEST = 40, 60, 120
"""Columns that lines are folded to at least, from which on the text itself is shown, and at most."""
INDENT = " " * 6
MOST_WORDS = 8
MANY = 12
"""Of more texts than this, each has its line in the table; what stands in it is told on request."""
LONGEST_SHOWN = 5000
"""Running words of a text that is printed whole."""


def render(run: Run, view: View) -> Iterator[str]:
    """The report of each text that has something to tell, and a table of all where there are several."""
    pieces = _pieces(run, view)
    return map(emphasised, pieces) if view.emphasis else pieces


def _pieces(run: Run, view: View) -> Iterator[str]:
    rows: list[Row] = []
    waiting: list[str] = []
    brief = run.texts > MANY and not (view.details or view.every_place or view.word)
    for row, lines in run.each(partial(_one, view=view, brief=brief)):
        rows.append(row)
        if brief:
            yield ""
            continue
        # a single text is told whatever it holds; of several, those that have something to tell
        told = "\n".join([*lines, "", ""])
        if len(rows) == 1 and row.fine:
            waiting.append(told)
        yield "" if row.fine else told
    texts_failed = sum(failure.is_text for failure in run.failures)
    if len(rows) == 1 and waiting and not texts_failed:
        yield "" if view.quiet else waiting[0]
    if len(rows) + texts_failed > 1:
        yield from (f"{line}\n" for line in table(rows, texts_failed, view))


def _one(report: Report, view: View, brief: bool) -> tuple[Row, list[str]]:
    readers = view.readers(report)
    if isinstance(report, ListReport):
        row = lists.row_of(report, readers, lists.worst(report) if brief else ())
        return row, [] if brief else [safe(line) for line in lists.lines_of(report, readers, view, _width(view))]
    blocked = report.in_the_way() if brief else []
    row = Row(
        report.path,
        report.step,
        report.open_counts[BLOCKED],
        report.open_counts[UNSURE],
        sum(report.counts[status] for status in STATUSES if status != UNJUDGED),
        report.ready_step(),
        tuple(readers),
        tuple([cut(spelt(report, word.form)) for word in blocked[:MOST_IN_THE_WAY]]),
        len(blocked),
        len(report.of_the_text),
    )
    if brief:
        return row, []
    signs = signs_for(report.document.text, emphasis=view.emphasis)
    if view.word:
        return row, [*details(report, view, signs)]
    width = _width(view)
    lines = [line for total in totals(report, readers) for line in _folded(total, width)]
    if not row.fine:
        lines += _words(report, width, signs)
        if view.details or view.every_place:
            lines += ["", *details(report, view, signs)]
        elif view.width >= NARROW and row.words <= LONGEST_SHOWN:
            lines += ["", "The text:", *_whole(report, view.width, signs)]
        if not (view.details or view.every_place):
            lines += ["", "Places and what to do: --details, or --word WORD for one."]
    return row, [safe_but_signs(line) for line in lines] if signs is STRONG else [safe(line) for line in lines]


def _width(view: View) -> int:
    return max(LEAST, min(view.width or WIDTH, WIDEST))


def _words(report: TextReport, width: int, signs: Signs) -> Iterator[str]:
    """Each distinct word that is told, once, and what would help most."""
    found = reasons(report)
    if found.names:
        yield from ("", *_wrapped("Names, if they are: ", _counted(found.names, signs), width))
        names = ", ".join(dict.fromkeys(_name(told.form) for told in found.names[:MOST_WORDS]))
        more = ", ..." if len(found.names) > MOST_WORDS else ""
        yield from _folded(f"  To allow them, add to the progression: allow names {names}{more}", width)
    if found.reasons:
        yield from ("", "Not yet decodable, by what falls away last:")
        for reason in found.reasons:
            yield from _wrapped(f"  {_when(reason)}, {reason.name}: ", _counted(reason.words, signs), width)
    if found.undecided:
        yield from (
            "",
            *_wrapped("With two sounds, of which one can be read: ", _counted(found.undecided, signs), width),
        )
    if found.unknown:
        yield from ("", *_wrapped("Not known to decodecheck: ", _counted(found.unknown, signs), width))
    if report.of_the_text:
        yield from ("", "Beside single words:")
        yield from (f"  {shortened(f.message)} ({f.place.words()})" for f in report.of_the_text)
    helped = found.help
    if helped:
        yield ""
        yield f"Most help at this step, for {helped.cleared} of {report.open_counts[BLOCKED]} words:"
        yield from _folded(f"  {'; '.join(helped.changes)}", width)


def _when(reason: Reason) -> str:
    return "never taught here" if reason.step == NEVER else f"step {reason.step}"


def _name(form: str) -> str:
    return form.removesuffix("'s").removesuffix("'")


def _counted(words: Sequence[Told], signs: Signs) -> list[str]:
    return [mark(word.form, word.blockers, signs) + (f" ({word.times})" if word.times > 1 else "") for word in words]


def _wrapped(head: str, words: list[str], width: int) -> list[str]:
    """Words after a head, in lines of a width; no word is divided."""
    lines, line = [], head
    for word in words:
        if columns(line) + len(word) > width and (line is not head or len(head) > len(INDENT)):
            lines.append(line.rstrip())
            line = INDENT
        line += f"{word}, "
    return [*lines, line.rstrip(", ")]


def _folded(line: str, width: int) -> list[str]:
    """An indented line in lines of a width; another one stays as it is."""
    if columns(line) <= width or line[:1] != " ":
        return [line]
    return textwrap.wrap(line, width, subsequent_indent=" " * 4, break_on_hyphens=False)


def _whole(report: TextReport, width: int, signs: Signs) -> Iterator[str]:
    """The text as it reads, with its words marked."""
    for line in marked_text(report, signs).splitlines():
        wrapped = textwrap.wrap(
            safe_but_signs(line) if signs is STRONG else safe(line), min(width, WIDEST) - 2, break_on_hyphens=False
        )
        yield from (f"  {part}".rstrip() for part in wrapped or [""])
