"""SARIF 2.1.0: results for code scanning and editors.

Source: OASIS, "Static Analysis Results Interchange Format (SARIF) Version 2.1.0" (sections from memory): columns are code points, the
end of a region is exclusive, paths are relative URI references. A place in a file without lines is a logical location.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import fields
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import quote, quote_from_bytes

from decodecheck import __version__
from decodecheck.checking.kinds import Kind, kinds
from decodecheck.checking.reported import Reported
from decodecheck.checking.values import Finding
from decodecheck.documents.document import Place
from decodecheck.lists.kinds import ListKind, list_kinds
from decodecheck.printing import as_json
from decodecheck.reports.told import (
    Fingerprints,
    elsewhere,
    failure_words,
    from_here,
    headline,
    in_lines,
    message,
    remedy,
)
from decodecheck.reports.view import View
from decodecheck.run import Failure, Run
from decodecheck.source import shown

SUFFIX = ".sarif"
MACHINE = True
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json"
BASE = "PROJECT"
"""The name of the folder that paths start from: the one at hand."""
FINGERPRINT = "wordInFile/v1"
LONGEST_LINE = 500
"""Characters of a line that is quoted whole."""
NO_ADDRESS = "standard input"


def render(run: Run, view: View) -> Iterator[str]:
    """A log with one run; its results a file at a time."""
    known: dict[str, Kind | ListKind] = {**kinds(), **list_kinds()}
    rules = {name: number for number, name in enumerate(known)}
    driver = {"name": "decodecheck", "semanticVersion": __version__, "rules": [_rule(kind) for kind in known.values()]}
    yield (
        f'{{"$schema": {as_json(SCHEMA)}, "version": "2.1.0", "runs": [{{"tool": {as_json({"driver": driver})}, '
        '"columnKind": "unicodeCodePoints", "results": ['
    )
    before = False
    for results in run.each(partial(_results, rules=rules)):
        text = ", ".join(map(as_json, results))
        yield f", {text}" if before and text else text
        before = before or bool(text)
    invocation: dict[str, Any] = {"executionSuccessful": not run.failures}
    if run.failures:
        invocation["toolExecutionNotifications"] = [_notification(failure) for failure in run.failures]
    yield f'], "invocations": [{as_json(invocation)}]}}]}}\n'


def _rule(kind: Kind | ListKind) -> dict[str, Any]:
    """A kind of finding with its manual page."""
    title, _, rest = kind.page.partition("\n\n")
    paragraphs = [" ".join(part.split()) for part in rest.split("\n\n")]
    return {
        "id": kind.name,
        "name": "".join(map(str.capitalize, kind.name.split("-"))),
        "shortDescription": {"text": title},
        "fullDescription": {"text": paragraphs[0]},
        "help": {"text": "\n\n".join(paragraphs)},
        "defaultConfiguration": {"level": kind.severity},
    }


def _results(report: Reported, rules: Mapping[str, int]) -> list[dict[str, Any]]:
    fingerprints = Fingerprints()
    path, where = from_here(report.path), artifact(report.path)
    return [_result(report, f, where, fingerprints.of(path, f), rules) for f in report.findings]


def _result(
    report: Reported, finding: Finding, where: Mapping[str, str], fingerprint: str, rules: Mapping[str, int]
) -> dict[str, Any]:
    head = elsewhere(finding.place)
    text = f"{headline(finding)}. {message(finding)}\n{remedy(finding)}"
    return {
        "ruleId": finding.kind,
        **({"ruleIndex": rules[finding.kind]} if finding.kind in rules else {}),
        "level": finding.severity,
        "message": {"text": f"{head}: {text}" if head else text},
        "locations": [_location(report, finding, where)],
        "partialFingerprints": {FINGERPRINT: fingerprint},
        "properties": {"word": finding.word, "status": finding.status, "step": report.step},
    }


def _location(report: Reported, finding: Finding, where: Mapping[str, str]) -> dict[str, Any]:
    place, end = finding.place, finding.end_place
    physical: dict[str, Any] = {"artifactLocation": where}
    if in_lines(place):
        region = {
            "startLine": place.line,
            "startColumn": place.column,
            "endLine": end.line,
            "endColumn": end.column,
            "snippet": {"text": finding.word},
        }
        physical["region"] = region
        line = finding.excerpt or report.document.line_of(finding.start)[0]
        if place.line == end.line and len(line) <= LONGEST_LINE:
            physical["contextRegion"] = {"startLine": place.line, "endLine": place.line, "snippet": {"text": line}}
    location: dict[str, Any] = {"physicalLocation": physical}
    if elsewhere(place):
        location["logicalLocations"] = [_logical(place)]
    return location


def _logical(place: Place) -> dict[str, Any]:
    """Where something stands in a file that has no lines, by its smallest part: the cell of a sheet, the paragraph of a page."""
    parts = {part.name: getattr(place, part.name) for part in fields(place) if part.name != "column"}
    smallest = next(name for name in ("cell", "line", "paragraph", "page", "sheet", "chapter") if parts[name])
    return {"name": f"{smallest} {parts[smallest]}", "fullyQualifiedName": place.words(), "kind": smallest}


def artifact(path: str) -> dict[str, str]:
    """A path as a URI reference, percent-encoded (RFC 3986); one that leads out of the folder at hand names no folder to start from."""
    here = from_here(path)
    if here == NO_ADDRESS:
        return {"uri": quote(here)}
    encoded = quote_from_bytes(os.fsencode(here), safe="/") if _is_path(here) else quote(here, errors="replace")
    if Path(path).is_absolute() and here == path.replace(os.sep, "/"):
        return {"uri": f"file://{'' if encoded.startswith('/') else '/'}{encoded}"}
    tidy = re.sub(r"/{2,}", "/", encoded)
    return {"uri": tidy} if ".." in tidy.split("/") else {"uri": tidy, "uriBaseId": BASE}


def _is_path(path: str) -> bool:
    try:
        os.fsencode(path)
    except UnicodeEncodeError:
        return False
    return True


def _notification(failure: Failure) -> dict[str, Any]:
    """What could not be checked."""
    said = " ".join(filter(None, failure_words(failure)))
    result: dict[str, Any] = {"level": "error", "message": {"text": said}}
    path, problem = shown(failure.path), failure.problem
    if path:
        physical: dict[str, Any] = {"artifactLocation": artifact(path)}
        if problem.line and problem.path in (path, ""):
            physical["region"] = {"startLine": problem.line} | (
                {"startColumn": problem.column} if problem.column else {}
            )
        result["locations"] = [{"physicalLocation": physical}]
    return result
