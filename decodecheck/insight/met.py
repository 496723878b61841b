"""Which lessons of its step a text gives practice in."""

from __future__ import annotations

from decodecheck.checking.report import TextReport
from decodecheck.insight.key_words import by_sound, needs
from decodecheck.insight.naming import usable
from decodecheck.insight.preview import PRACTISED
from decodecheck.judging.verdict import DECODABLE


def lessons_met(report: TextReport) -> list[tuple[str, int]]:
    """What is new at the step of a text, each sound by itself as a progression names it, with how many running words of the text need
    it: the most frequent first; without those that none needs."""
    order = report.order
    readings = {
        word: verdict.readings[0]
        for word, found in report.distinct.items()
        if found.status == DECODABLE and (verdict := report.verdict_on(found)).readings
    }
    lessons = [
        part
        for lesson in usable(order, report.step)
        if lesson.mention.step == report.step and lesson.mention.kind in PRACTISED
        for part in by_sound(order, lesson)
    ]
    times = {
        lesson.statement: sum(
            report.running[word] for word, reading in readings.items() if needs(order, lesson, reading)
        )
        for lesson in lessons
    }
    return sorted(((name, number) for name, number in times.items() if number), key=lambda pair: (-pair[1], pair[0]))
