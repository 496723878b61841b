"""The report for programs: JSON, schema 1 (`check-1.schema.json` beside this file)."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from decodecheck.printing import as_json
from decodecheck.reports.records import failure_record, file_record, finding_record, word_record
from decodecheck.reports.view import View
from decodecheck.run import Report, Run

SUFFIX = ".json"
MACHINE = True
SCHEMA = 1


def render(run: Run, view: View) -> Iterator[str]:
    """The run as one line of JSON, a file at a time."""
    yield f'{{"schema": {SCHEMA}, "files": ['
    between = ""
    for file in run.each(partial(_file, every_word=view.every_word)):
        yield between + as_json(file)
        between = ", "
    yield f'], "failures": {as_json([failure_record(f) for f in run.failures])}}}\n'


def _file(report: Report, every_word: bool) -> dict[str, Any]:
    result = {**file_record(report), "findings": [finding_record(f) for f in report.findings]}
    if every_word:
        result["words"] = [word_record(report, w) for w in report.words]
    return result
