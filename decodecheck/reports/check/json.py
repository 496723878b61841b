"""The report for programs: JSON, schema 1 (`check-1.schema.json` beside this file)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from functools import partial
from typing import Any

from decodecheck.checking.report import Finding, WordAt
from decodecheck.documents.document import Place
from decodecheck.judging.verdict import STATUSES, UNSURE, Verdict
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.phonics.sounds import project
from decodecheck.printing import as_json
from decodecheck.reports.view import View
from decodecheck.run import Failure, Report, Run
from decodecheck.source import shown

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
    yield f'], "failures": {as_json([_failure(f) for f in run.failures])}}}\n'


def _failure(failure: Failure) -> dict[str, str]:
    first = failure.problem
    path = shown(failure.path)
    place = "" if first.path in (path, "") else first.path
    if first.line:
        place += f":{first.line}" + (f":{first.column}" if first.column else "")
    more = len(failure.problems) - 1
    message = (f"{place.removeprefix(':')}: " if place else "") + first.what + (f" (and {more} more)" if more else "")
    return {"path": path, "message": message, "remedy": first.todo}


def _file(report: Report, every_word: bool) -> dict[str, Any]:
    accent = report.order.accent
    result: dict[str, Any] = {
        "path": report.path,
        "step": report.step,
        **({"step_expression": report.order.variant} if report.order.variant else {}),
        "counts": {status: report.counts[status] for status in STATUSES},
        "findings": [_finding(f) for f in report.findings],
    }
    if every_word:
        result["words"] = [_word(report, w, accent) for w in report.words]
    return result


def _place(start: Place, end: Place | None = None) -> dict[str, Any]:
    """A place: by line and column where there are lines, else in the terms of the format."""
    named = {part.name: getattr(start, part.name) for part in fields(start)}
    beside = {name: value for name, value in named.items() if value and name not in ("line", "column")}
    found: dict[str, Any] = {"place": beside} if beside else {}
    if start.line:
        found["line"] = start.line
    found["column"] = start.column
    if end and start.line:
        found["end_line"] = end.line
    if end:
        found["end_column"] = end.column
    return found


def _finding(f: Finding) -> dict[str, Any]:
    return {
        "kind": f.kind,
        "severity": f.severity,
        "word": f.word,
        "status": f.status or None,
        **_place(f.place, f.end_place),
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


def _word(report: Report, at: WordAt, accent: str) -> dict[str, Any]:
    verdict = at.verdict
    # senses that neither the context nor the sounds tell apart are one reading
    alike = len({tuple(_said(r, accent)) for r in verdict.readings}) == 1
    decided = verdict.readings[:1] if verdict.status != UNSURE and alike else ()
    said = [*_said(decided[0], accent)] if decided else []
    return {
        **_place(report.document.place(at.start)),
        "word": at.word,
        "status": verdict.status,
        "reading": "".join(sound for _, sounds in said for sound in sounds) if decided else None,
        "origin": decided[0].origin if decided else _origin(verdict),
        "first_step": None if verdict.first_step == NEVER else verdict.first_step,
        "graphemes": [grapheme for grapheme, _ in said],
        "sounds": [list(sounds) for _, sounds in said],
    }


def _said(reading: Reading, accent: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Graphemes with their sounds."""
    for s in reading.segments:
        yield s.grapheme, project(s.grapheme, s.sound, s.linked, accent)


def _origin(verdict: Verdict) -> str | None:
    """Where a verdict without one decided reading comes from."""
    if verdict.readings:
        return verdict.readings[0].origin
    return "predicted" if verdict.unlisted else None
