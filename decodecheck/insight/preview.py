"""For the adult who reads with a child: words to practise first, tricky words, names, words to read to her. From one text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from decodecheck.checking.report import TextReport, Word
from decodecheck.checking.verdict import ALLOWED, BLOCKED, DECODABLE, TRICKY, UNSURE
from decodecheck.insight.naming import Taught, odd_part, usable
from decodecheck.lexicon.store import Reading
from decodecheck.progression.order import TeachingOrder

MOST_LESSONS = 4
WORDS_EACH = 6
STEPS_BACK = 3
"""How many steps back lessons are looked for where the text has no word for the newest ones."""


@dataclass(frozen=True, slots=True)
class Practice:
    """A lesson of the latest steps, and words of the text that need it, short ones first."""

    lesson: Taught
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Preview:
    """What to look at before reading. `tricky` are tricky words of the text with their odd part, the latest taught first."""

    order: TeachingOrder
    report: TextReport
    practice: tuple[Practice, ...]
    tricky: tuple[tuple[str, str], ...]
    names: tuple[str, ...]
    sounds: tuple[str, ...]
    read_to: tuple[str, ...]
    by_eye: tuple[str, ...]


def preview(report: TextReport, order: TeachingOrder) -> Preview:
    """The preview of a checked text."""
    words = sorted(report.distinct.items())
    names = {w: _spelt(found) for w, found in words if _is_name(report, w, found)}
    tricky = [w for w, found in words if found.status == TRICKY and w not in names]
    tricky.sort(key=lambda w: -_tricky_at(report, w))
    return Preview(
        order,
        report,
        tuple(_practice(report, order, [(w, f) for w, f in words if w not in names])),
        tuple((order.tricky_spelling.get(w, w), _odd(order, report, w)) for w in tricky),
        _whole_names(order, set(names.values())),
        tuple(w for w, found in words if found.status == ALLOWED and w not in names),
        tuple(w for w, found in words if found.status == BLOCKED and w not in names),
        tuple(w for w, found in words if found.status == UNSURE and w not in names),
    )


def _is_name(report: TextReport, word: str, found: Word) -> bool:
    if not found.form[:1].isupper() or word in report.judge.order.sounds:
        return False
    return report.judge.is_name(found.form) or found.status == ALLOWED


def _whole_names(order: TeachingOrder, parts: set[str]) -> tuple[str, ...]:
    """Names as the progression has them (Mr Pike), where all their words stand in the text; then the others."""
    whole = {name for name in order.names if " " in name and set(name.split()) <= parts}
    return tuple(sorted(whole | {p for p in parts if not any(p in name.split() for name in whole)}))


def _spelt(found: Word) -> str:
    return found.form.replace("’", "'").removesuffix("'s").removesuffix("'")


def _tricky_at(report: TextReport, word: str) -> int:
    found = report.distinct[word]
    return report.judge.judge(found.form, found.sense).tricky_at or 0


def _odd(order: TeachingOrder, report: TextReport, word: str) -> str:
    return odd_part(order, word, report.step) if word in order.tricky else ""


def _practice(report: TextReport, order: TeachingOrder, words: list[tuple[str, Word]]) -> Iterator[Practice]:
    """The latest lessons that words of the text need, a lesson's own words once."""
    readings = {
        word: verdict.readings[0]
        for word, found in words
        if found.status == DECODABLE and (verdict := report.judge.judge(found.form, found.sense)).readings
    }
    steps = [s.number for s in order.steps if s.number <= report.step][-STEPS_BACK - 1 :]
    lessons = [t for t in usable(order, report.step) if t.mention.kind in ("correspondence", "together", "ending")]
    shown: set[str] = set()
    left = MOST_LESSONS
    for step in reversed(steps):
        for lesson in (t for t in lessons if t.mention.step == step):
            fitting = [w for w, r in readings.items() if w not in shown and _needs(order, lesson, r)]
            if fitting and left:
                chosen = sorted(fitting, key=lambda w: (len(readings[w].segments), w))[:WORDS_EACH]
                shown.update(chosen)
                left -= 1
                yield Practice(lesson, tuple("I" if w == "i" else w for w in chosen))
        if left < MOST_LESSONS:
            return


def _needs(order: TeachingOrder, lesson: Taught, reading: Reading) -> bool:
    """Does a reading use what a lesson teaches: is one of its items in the alternative by which a unit is read first?"""
    for unit in reading.units:
        best = min(unit.alternatives, key=lambda a: max(map(order.step_of, a), default=0))
        if lesson.mention.keys & set(best):
            return True
    return False
