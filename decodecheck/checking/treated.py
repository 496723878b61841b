"""A report as its project treats it: what is allowed by hand is counted among what is allowed, and not told."""

from __future__ import annotations

from array import array
from collections import Counter
from dataclasses import replace

from decodecheck.checking.report import TextReport
from decodecheck.checking.treatment import Silence, Treatment
from decodecheck.checking.values import Entry, Forms, Occurrence, Told
from decodecheck.judging.verdict import ALLOWED
from decodecheck.lexicon.lookup import plain_spelling

_Key = tuple[str, str, str]
"""A form, its sense and its status."""


def treated(report: TextReport, treatment: Treatment) -> TextReport:
    """The report with what a project makes of it; it is made from a fresh one, whose findings nobody has asked for yet, and which is not to
    be used any more."""
    if not treatment.silences:
        report.treatment = treatment
        return report
    silence = Silence(treatment)
    entries = [*report.entries]
    numbers: dict[Entry, int] = {}
    concerned = [silence.concerns(entry.form) for entry in entries]
    said: dict[int, Told | None] = {}
    taken: Counter[_Key] = Counter()
    words: Counter[str] = Counter()
    kept: list[tuple[int, int, int]] = []
    for start, end, number in zip(report.starts, report.ends, report.which):
        entry = entries[number]
        if concerned[number] and number not in said:
            said[number] = report.told(entry)
        told = said.get(number)
        if told is None or not silence.covers(entry.form, told.kind.name, start):
            kept.append((start, end, number))
            continue
        taken[entry.form, entry.sense, told.verdict.status] += 1
        words[plain_spelling(entry.form).plain] += 1
        if report.every_word:
            allowed = entry._replace(allowed=True)
            if allowed not in numbers:
                numbers[allowed] = len(entries)
                entries.append(allowed)
                concerned.append(False)
            kept.append((start, end, numbers[allowed]))
    counts = report.counts.copy()
    for (_, _, status), times in taken.items():
        counts[status] -= times
        counts[ALLOWED] += times
    forms, settled = _moved(report, taken)
    still = {number: at for at, number in enumerate(dict.fromkeys(number for *_, number in kept))}
    starts, ends = (array("I", [site[column] for site in kept]) for column in (0, 1))
    which = array("I", [still[number] for *_, number in kept])
    return replace(
        report, counts=counts, forms=forms, settled=settled, entries=tuple(map(entries.__getitem__, still)), starts=starts, ends=ends, which=which,
        treatment=treatment, allowed_here=words, used=frozenset(silence.used),
    )  # fmt: skip


def _moved(report: TextReport, taken: Counter[_Key]) -> tuple[Forms, tuple[Occurrence, ...]]:
    """The forms and what was settled, with those that are taken out of them as allowed ones."""
    left = taken.copy()
    allowed: list[Occurrence] = []
    settled: list[Occurrence] = []
    kept: list[Occurrence] = []
    alone = len(report.occurrences) - len(report.settled)
    for number, occurrence in enumerate(report.occurrences):
        times = min(occurrence.times, left.get((occurrence.form, occurrence.sense, occurrence.status), 0))
        if times:
            left[occurrence.form, occurrence.sense, occurrence.status] -= times
            allowed.append(occurrence._replace(status=ALLOWED, times=times))
            occurrence = occurrence._replace(times=occurrence.times - times)
        if occurrence.times:
            (kept if number < alone else settled).append(occurrence)
    if not allowed:
        return report.forms, report.settled
    rank = {occurrence.form: own for occurrence, own in zip(report.occurrences, report.forms.ranks)}
    forms = Forms(
        tuple(o.form for o in kept),
        tuple(o.plain for o in kept),
        bytes(rank[o.form] for o in kept),
        array("H", [o.first_step for o in kept]),
        array("Q", [o.times for o in kept]),
    )
    return forms, (*settled, *allowed)
