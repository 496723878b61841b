"""A summary in GitHub's Markdown, for the page of a CI job: a table of all files, and one for each that has something to tell.

Source: the GitHub Flavored Markdown Spec (from memory): a backslash takes its meaning from any ASCII punctuation, also in a table.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from decodecheck.checking.kinds import ERROR
from decodecheck.checking.reported import Reported
from decodecheck.checking.values import Finding
from decodecheck.errors import count, cut_path
from decodecheck.judging.verdict import BLOCKED, STATUSES, UNJUDGED, UNSURE
from decodecheck.printing import safe
from decodecheck.reports.spool import Spool
from decodecheck.reports.told import failure_words, grouped, headline, message, remedy
from decodecheck.reports.view import View
from decodecheck.run import Failure, Run
from decodecheck.source import shown

SUFFIX = ".md"
MACHINE = False
MOST_ROWS = 100
"""Rows of one file's table: the page of a job holds a megabyte."""
MOST_NAMED = 10
MOST_PLACES = 10
HEAD = ("File", "Step", "Not yet decodable", "By eye", "Findings", "Words")
SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~&@:$])|(?<=www)\.")
"""What may begin markup, a link, a mention, an emoji or a formula."""


def render(run: Run, view: View) -> Iterator[str]:
    """The summary; tables of single files wait until the first one is whole."""
    rows: list[list[str]] = []
    fine: list[str] = []
    wrong = 0
    with Spool() as sections:
        for path, row, section, to_mend in run.each(_file):
            if section:
                rows.append(row)
                sections.add(section)
                wrong += to_mend
            else:
                fine.append(path)
            yield ""
        yield f"## {_title(len(rows) + len(fine), wrong, len(run.failures))}\n\n"
        yield from (f"{escaped(sentence)}\n\n" for sentence in run.aside)
        if rows:
            yield _table(HEAD, rows, numbers=(1, 2, 3, 4, 5))
        if fine:
            more = f" and {len(fine) - MOST_NAMED} more" if len(fine) > MOST_NAMED else ""
            yield f"Fine: {', '.join(fine[:MOST_NAMED])}{more}\n\n"
        if run.failures:
            yield "### Not checked\n\n" + _table(("File", "Why", "What to do"), map(_not_checked, run.failures))
        yield from sections.pieces()


def _title(files: int, wrong: int, failed: int) -> str:
    said = f"{wrong} of {count(files, 'file')} with something to mend"
    return said + (f"; {failed} could not be checked" if failed else "")


def _file(report: Reported) -> tuple[str, list[str], str, bool]:
    """A file's name, its row, its own table, "" where there is nothing to tell, and whether something is to be mended."""
    path = escaped(cut_path(report.path))
    words = sum(report.counts[status] for status in STATUSES if status != UNJUDGED)
    findings = report.findings
    row = [path, *map(str, (report.step, report.counts[BLOCKED], report.counts[UNSURE], len(findings), words))]
    groups = grouped(findings)
    if not groups:
        return path, row, "", False
    more = f"{len(groups) - MOST_ROWS} more are left out here.\n\n" if len(groups) > MOST_ROWS else ""
    table = _table(("Word", "Where", "Why", "What to do"), map(_row, groups[:MOST_ROWS]))
    return path, row, f"### {path}, step {report.step}\n\n{table}{more}", report.severity == ERROR


def _row(group: Sequence[Finding]) -> list[str]:
    first = group[0]
    where = list(dict.fromkeys(escaped(finding.place.words()) for finding in group))
    more = [f"{len(where) - MOST_PLACES} more"] if len(where) > MOST_PLACES else []
    todo = "<br>".join(map(escaped, remedy(first).split("\n")))
    return [escaped(headline(first)), "; ".join([*where[:MOST_PLACES], *more]), escaped(message(first)), todo]


def _not_checked(failure: Failure) -> list[str]:
    return [escaped(shown(failure.path)), *map(escaped, failure_words(failure))]


def _table(header: Sequence[str], rows: Iterable[Sequence[str]], *, numbers: Sequence[int] = ()) -> str:
    rule = ["---:" if at in numbers else "---" for at in range(len(header))]
    return "".join(f"| {' | '.join(row)} |\n" for row in (header, rule, *rows)) + "\n"


def escaped(text: str) -> str:
    """A text in one line in which nothing is markup."""
    return SPECIAL.sub(lambda sign: f"\\{sign[0]}", safe(" ".join(text.split())))
