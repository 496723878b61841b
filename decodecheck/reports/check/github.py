"""Annotations on the changes of a pull request: commands to GitHub Actions, one a line.

Source: GitHub's documentation, "Workflow commands for GitHub Actions", and how its toolkit escapes them (both from memory). A place
in a file without lines stands at the head of the message.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from decodecheck.checking.kinds import ERROR, WARNING
from decodecheck.checking.reported import Reported
from decodecheck.checking.values import Finding
from decodecheck.errors import count
from decodecheck.printing import harmless, safe
from decodecheck.reports.told import elsewhere, failure_words, from_here, headline, in_lines, message, remedy
from decodecheck.reports.view import View
from decodecheck.run import Run
from decodecheck.source import shown

SUFFIX = ""
MACHINE = True
LEVELS = {ERROR: "error", WARNING: "warning"}
"""What a severity is called; any other one is a notice."""
_PIECE = re.compile(r"[^\r\n]+")


def render(run: Run, view: View) -> Iterator[str]:
    """A command for each finding and for each thing that could not be checked; last a notice with the totals."""
    files = findings = 0
    for number, lines in run.each(_file):
        files += 1
        findings += number
        yield lines
    for failure in run.failures:
        what, todo = failure_words(failure)
        where = {"file": from_here(shown(failure.path))} if failure.path not in ("", "-") else {}
        if failure.problem.line and failure.problem.path in (shown(failure.path), ""):
            where["line"] = str(failure.problem.line)
        yield _command("error", where | {"title": "not checked"}, f"{what} {todo}")
    said = f"{count(files, 'file')} checked, {count(findings, 'finding')}"
    yield _command("notice", {"title": "decodecheck"}, f"{said}, {len(run.failures)} not checked.")


def _file(report: Reported) -> tuple[int, str]:
    """How many findings there are, and their lines."""
    path = from_here(report.path)
    return len(report.findings), "".join(_finding(path, finding) for finding in report.findings)


def _finding(path: str, finding: Finding) -> str:
    place, end = finding.place, finding.end_place
    where = {"file": path}
    if in_lines(place):
        where |= {"line": str(place.line), "endLine": str(end.line)}
        if place.line == end.line:
            # columns are understood within one line only
            where |= {"col": str(place.column), "endColumn": str(end.column)}
    head = elsewhere(place)
    said = f"{head}: " if head else ""
    return _command(
        LEVELS.get(finding.severity, "notice"),
        where | {"title": headline(finding)},
        f"{said}{message(finding)}\n{remedy(finding)}",
    )


def _command(level: str, properties: dict[str, str], text: str) -> str:
    named = ",".join(f"{name}={_property(value)}" for name, value in properties.items())
    return f"::{level} {named}::{_escaped(text)}\n"


def _escaped(text: str) -> str:
    shown_as_it_is = _PIECE.sub(lambda piece: safe(piece[0]), text)
    # a percent sign first: it stands at the head of every escape
    escaped = shown_as_it_is.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")
    # no other command may begin inside this one
    return harmless("x" + escaped)[1:]


def _property(text: str) -> str:
    return _escaped(text).replace(":", "%3A").replace(",", "%2C")
