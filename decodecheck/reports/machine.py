"""The report for programs: JSON, schema 1 (`check-1.schema.json` beside this file)."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from decodecheck.api import CheckedText, Failure, guarded
from decodecheck.checking.report import Finding, TextReport, WordAt
from decodecheck.checking.verdict import STATUSES, UNSURE, Verdict
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.phonics.sounds import project
from decodecheck.source import shown

SCHEMA = 1


def document(
    checked: list[CheckedText], failures: list[Failure] | None = None, *, every_word: bool = False
) -> dict[str, Any]:
    """Everything as one JSON document: the texts that were checked, and what could not be."""
    files = []
    failed = list(failures or ())
    for each in checked:
        file = guarded(each.report.source.path, partial(_file, each, every_word))
        if isinstance(file, Failure):
            failed.append(file)
        else:
            files.append(file)
    return {"schema": SCHEMA, "files": files, "failures": [_failure(f) for f in failed]}


def _failure(failure: Failure) -> dict[str, str]:
    first = failure.problem
    path = shown(failure.path)
    place = "" if first.path in (path, "") else first.path
    if first.line:
        place += f":{first.line}" + (f":{first.column}" if first.column else "")
    more = len(failure.error.problems) - 1
    message = (f"{place.removeprefix(':')}: " if place else "") + first.what + (f" (and {more} more)" if more else "")
    return {"path": path, "message": message, "remedy": first.todo}


def _file(checked: CheckedText, every_word: bool) -> dict[str, Any]:
    report = checked.report
    result: dict[str, Any] = {
        "path": report.source.path,
        "step": report.step,
        **({"step_expression": checked.order.variant} if checked.order.variant else {}),
        "counts": {status: report.counts[status] for status in STATUSES},
        "findings": [_finding(f) for f in report.findings],
    }
    if every_word:
        result["words"] = [_word(report, w, checked.order.accent) for w in report.words]
    return result


def _finding(f: Finding) -> dict[str, Any]:
    return {
        "kind": f.kind,
        "severity": f.severity,
        "word": f.word,
        "status": f.status,
        "line": f.line,
        "column": f.column,
        "end_line": f.end_line,
        "end_column": f.end_column,
        "blockers": [
            {
                "grapheme": b.grapheme,
                "letters": list(b.letters),
                "sounds": list(b.sounds),
                "as_in": b.as_in or None,
                "taught_at": b.taught_at,
                "cause": b.cause,
            }
            for b in f.blockers
        ],
        "message": f.message,
        "remedy": f.remedy,
    }


def _word(report: TextReport, at: WordAt, accent: str) -> dict[str, Any]:
    line, column = report.source.place(at.start)
    verdict = at.verdict
    # senses that neither the context nor the sounds tell apart are one reading
    alike = len({tuple(_said(r, accent)) for r in verdict.readings}) == 1
    decided = verdict.readings[:1] if verdict.status != UNSURE and alike else ()
    reading = decided[0] if decided else None
    return {
        "line": line,
        "column": column,
        "word": at.word,
        "status": verdict.status,
        "reading": "".join(s for x in reading.segments for s in project(x.grapheme, x.sound, x.linked, accent))
        if reading
        else None,
        "origin": reading.origin if reading else _origin(verdict),
        "first_step": None if verdict.first_step == NEVER else verdict.first_step,
        "graphemes": [s.grapheme for s in reading.segments] if reading else [],
    }


def _said(reading: Reading, accent: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Graphemes with their sounds."""
    for s in reading.segments:
        yield s.grapheme, project(s.grapheme, s.sound, s.linked, accent)


def _origin(verdict: Verdict) -> str | None:
    """Where a verdict without one decided reading comes from."""
    if verdict.readings:
        return verdict.readings[0].origin
    return "predicted" if verdict.kind == "unlisted-word" else None
