"""For the adult who reads with a child: words to practise first, tricky words, names, words to read to her. From one text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Word
from decodecheck.insight.key_words import by_sound, needs
from decodecheck.insight.naming import Taught, odd_part, usable
from decodecheck.judging.verdict import ALLOWED, BLOCKED, DECODABLE, TRICKY, UNSURE
from decodecheck.progression.order import TeachingOrder

PRACTISED = ("correspondence", "together", "ending", "adjacent", "structure")
"""Kinds of lessons whose words are practised."""
STEPS_BACK = 3
"""How many steps back lessons are looked for where the text has no word for the newest ones."""


@dataclass(frozen=True, slots=True)
class Practice:
    """A lesson of the latest steps (one sound of it), and the words of the text that need it with how often each stands
    there: the most frequent first, short ones before long ones."""

    lesson: Taught
    words: tuple[tuple[str, int], ...]


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


def preview(report: TextReport) -> Preview:
    """The preview of a text that was checked for every word."""
    order = report.order
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
    if not found.form[:1].isupper() or word in report.order.sounds:
        return False
    return report.judge.is_name(found.form) or found.status == ALLOWED or word in report.names_here


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
    return odd_part(order, word, report.step, spoken=True) if word in order.tricky else ""


def _practice(report: TextReport, order: TeachingOrder, words: list[tuple[str, Word]]) -> Iterator[Practice]:
    """The lessons of the latest step that words of the text need, each sound by itself; a word stands once."""
    readings = {
        word: verdict.readings[0]
        for word, found in words
        if found.status == DECODABLE and (verdict := report.judge.judge(found.form, found.sense)).readings
    }
    steps = [s.number for s in order.steps if s.number <= report.step][-STEPS_BACK - 1 :]
    lessons = [t for t in usable(order, report.step) if t.mention.kind in PRACTISED]
    shown: set[str] = set()
    for step in reversed(steps):
        # a grapheme is looked at before the structure of the word
        of_step = sorted((t for t in lessons if t.mention.step == step), key=lambda t: PRACTISED.index(t.mention.kind))
        for lesson in (part for t in of_step for part in by_sound(order, t)):
            fitting = [w for w, r in readings.items() if w not in shown and needs(order, lesson, r)]
            shown.update(fitting)
            fitting.sort(key=lambda w: (-report.running[w], len(readings[w].segments), w))
            if fitting:
                yield Practice(lesson, tuple(("I" if w == "i" else w, report.running[w]) for w in fitting))
        if shown:
            return
