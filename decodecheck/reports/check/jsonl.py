"""The report for programs that read a line at a time: JSON Lines, schema 1 (`check-lines-1.schema.json` beside this file).

A line for each finding, after the findings of a file one for the file, a line for what could not be checked, and a last one for the run.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from decodecheck.printing import as_json
from decodecheck.reports.records import failure_record, file_record, finding_record, word_record
from decodecheck.reports.view import View
from decodecheck.run import Report, Run

SUFFIX = ".jsonl"
MACHINE = True
SCHEMA = 1


def render(run: Run, view: View) -> Iterator[str]:
    """The run, a file at a time."""
    files = findings = 0
    for number, lines in run.each(partial(_file, every_word=view.every_word)):
        files += 1
        findings += number
        yield lines
    yield "".join(_line("failure", failure_record(failure)) for failure in run.failures)
    yield _line("run", {"schema": SCHEMA, "files": files, "findings": findings, "failures": len(run.failures)})


def _file(report: Report, every_word: bool) -> tuple[int, str]:
    """How many findings there are, and the lines."""
    path = {"path": report.path}
    lines = [_line("finding", path | finding_record(finding)) for finding in report.findings]
    if every_word:
        lines += [_line("word", path | word_record(report, word)) for word in report.words]
    return len(report.findings), "".join([*lines, _line("file", file_record(report))])


def _line(kind: str, record: dict[str, Any]) -> str:
    # the kind of the line comes first, for people who look at it
    return as_json({"line_is": kind} | record) + "\n"
