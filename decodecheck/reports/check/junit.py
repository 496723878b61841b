"""JUnit's XML, which every CI server shows: a test suite for each file, a test case for each finding.

Errors are failures; warnings are skipped cases, since a person has to look; what could not be checked is an error. A file without
findings has one case that passes. Source: the elements and attributes that Jenkins and GitLab read (from memory); there is no standard.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree import ElementTree as xml

from decodecheck.checking.kinds import ERROR
from decodecheck.checking.reported import Reported
from decodecheck.checking.values import Finding
from decodecheck.printing import SIGN
from decodecheck.reports.told import elsewhere, failure_words, from_here, headline, in_lines, message, remedy
from decodecheck.reports.view import View
from decodecheck.run import Failure, Run
from decodecheck.source import shown

SUFFIX = ".xml"
MACHINE = True
FORBIDDEN = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What no XML document may hold, escaped or not (XML 1.0, production 2)."""
_COMMAND = re.compile(r"#(?=#\w*\[)")
FINE = "no findings"
NOT_CHECKED = "not checked"


def render(run: Run, view: View) -> Iterator[str]:
    """The suites, a file at a time."""
    yield '<?xml version="1.0" encoding="utf-8"?>\n<testsuites name="decodecheck">\n'
    yield from run.each(lambda report: _written(_suite(report)))
    yield "".join(_written(_not_checked(failure)) for failure in run.failures) + "</testsuites>\n"


def _suite(report: Reported) -> xml.Element:
    wrong = sum(finding.severity == ERROR for finding in report.findings)
    suite = _counted(report.path, max(1, len(report.findings)), wrong, 0, len(report.findings) - wrong)
    path = from_here(report.path)
    for finding in report.findings:
        suite.append(_case(path, finding))
    if not report.findings:
        xml.SubElement(suite, "testcase", _clean(name=FINE, classname=path, file=path, time="0"))
    return suite


def _counted(name: str, tests: int, failures: int, errors: int, skipped: int) -> xml.Element:
    numbers = {"tests": tests, "failures": failures, "errors": errors, "skipped": skipped, "time": 0}
    return xml.Element("testsuite", _clean(name=name, **{key: str(number) for key, number in numbers.items()}))


def _case(path: str, finding: Finding) -> xml.Element:
    place = finding.place
    where = elsewhere(place) or f"line {place.line}"
    line = {"line": str(place.line)} if in_lines(place) else {}
    name = f"{where}, column {place.column}: {headline(finding)}"
    case = xml.Element("testcase", _clean(name=name, classname=path, file=path, time="0", **line))
    kind = "failure" if finding.severity == ERROR else "skipped"
    inside = xml.SubElement(case, kind, _clean(message=message(finding), type=finding.kind))
    inside.text = _allowed(f"{message(finding)}\n{remedy(finding)}")
    return case


def _not_checked(failure: Failure) -> xml.Element:
    path, (what, todo) = shown(failure.path), failure_words(failure)
    suite = _counted(path, 1, 0, 1, 0)
    case = xml.SubElement(suite, "testcase", _clean(name=NOT_CHECKED, classname=path, file=from_here(path), time="0"))
    xml.SubElement(case, "error", _clean(message=what, type=NOT_CHECKED)).text = _allowed(f"{what}\n{todo}")
    return suite


def _clean(**attributes: str) -> dict[str, str]:
    return {name: _allowed(value) for name, value in attributes.items()}


def _allowed(text: str) -> str:
    return FORBIDDEN.sub(SIGN, text)


def _written(suite: xml.Element) -> str:
    xml.indent(suite)
    text = xml.tostring(suite, encoding="unicode")
    if not text.isprintable():
        text = "".join(c if c == "\n" or c.isprintable() else f"&#{ord(c)};" for c in text)
    # a program that shows a log takes two such signs before a bracket for a command
    return _COMMAND.sub("&#35;", text) + "\n"
