"""What the reports for programs hold, as values that JSON can write."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from typing import Any

from decodecheck.checking.reported import Reported
from decodecheck.checking.values import Finding, WordAt
from decodecheck.documents.document import Place
from decodecheck.judging.verdict import STATUSES, UNSURE, Verdict
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.phonics.sounds import project
from decodecheck.reports.told import failure_words
from decodecheck.run import Failure
from decodecheck.source import shown


def failure_record(failure: Failure) -> dict[str, str]:
    """What could not be checked."""
    what, todo = failure_words(failure)
    return {"path": shown(failure.path), "message": what, "remedy": todo}


def file_record(report: Reported) -> dict[str, Any]:
    """A file with its step and counts."""
    return {
        "path": report.path,
        "step": report.step,
        **({"step_expression": report.order.variant} if report.order.variant else {}),
        "counts": {status: report.counts[status] for status in STATUSES},
        **({"allowed_here": sum(report.allowed_here.values())} if report.allowed_here else {}),
        **({"allow_blocked": report.treatment.allow_blocked} if report.treatment.allow_blocked else {}),
    }


def place_record(start: Place, end: Place | None = None) -> dict[str, Any]:
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


def finding_record(f: Finding) -> dict[str, Any]:
    """A finding with its place."""
    return {
        "kind": f.kind,
        "severity": f.severity,
        "word": f.word,
        "status": f.status or None,
        **place_record(f.place, f.end_place),
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


def word_record(report: Reported, at: WordAt) -> dict[str, Any]:
    """Any word of a text, with how it is read."""
    verdict, accent = at.verdict, report.order.accent
    # senses that neither the context nor the sounds tell apart are one reading
    alike = len({tuple(_said(r, accent)) for r in verdict.readings}) == 1
    decided = verdict.readings[:1] if verdict.status != UNSURE and alike else ()
    said = [*_said(decided[0], accent)] if decided else []
    return {
        **place_record(report.document.place(at.start)),
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
