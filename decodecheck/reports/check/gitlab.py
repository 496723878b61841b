"""GitLab's report on code quality: a list of findings as JSON.

Source: GitLab's documentation, "Code Quality", "Code Quality report format" (from memory): description, check_name, fingerprint,
severity, location.path, location.lines.begin. A place in a file without lines stands at the head of the description, and line 1
is named.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from decodecheck.checking.kinds import ERROR, WARNING
from decodecheck.checking.reported import Reported
from decodecheck.checking.values import Finding
from decodecheck.printing import as_json
from decodecheck.reports.told import (
    Fingerprints,
    elsewhere,
    failure_words,
    fingerprint,
    from_here,
    headline,
    in_lines,
    message,
)
from decodecheck.reports.view import View
from decodecheck.run import Failure, Run
from decodecheck.source import shown

SUFFIX = ""
MACHINE = True
SEVERITIES = {ERROR: "major", WARNING: "minor"}
"""GitLab's names for severities; any other one is `info`, what could not be checked a `blocker`."""
NOT_CHECKED = "not-checked"


def render(run: Run, view: View) -> Iterator[str]:
    """The findings of all files as one list, a file at a time."""
    yield "["
    before = False
    for items in run.each(_file):
        yield _joined(items, before)
        before = before or bool(items)
    yield _joined([_failure(failure) for failure in run.failures], before) + "]\n"


def _joined(items: list[dict[str, Any]], before: bool) -> str:
    """Items of the list, after others or not."""
    text = ", ".join(map(as_json, items))
    return f", {text}" if before and items else text


def _file(report: Reported) -> list[dict[str, Any]]:
    fingerprints = Fingerprints()
    path = from_here(report.path)
    return [_finding(path, finding, fingerprints.of(path, finding)) for finding in report.findings]


def _finding(path: str, finding: Finding, fingerprint: str) -> dict[str, Any]:
    head = elsewhere(finding.place)
    return {
        "description": f"{head}: {headline(finding)}: {message(finding)}".removeprefix(": "),
        "check_name": finding.kind,
        "fingerprint": fingerprint,
        "severity": SEVERITIES.get(finding.severity, "info"),
        "location": {"path": path, "lines": {"begin": finding.place.line if in_lines(finding.place) else 1}},
    }


def _failure(failure: Failure) -> dict[str, Any]:
    path, line = from_here(shown(failure.path)), failure.problem.line
    return {
        "description": " ".join(failure_words(failure)),
        "check_name": NOT_CHECKED,
        "fingerprint": fingerprint(path, NOT_CHECKED, failure.problem.what),
        "severity": "blocker",
        "location": {"path": path, "lines": {"begin": line if line and failure.problem.path == path else 1}},
    }
