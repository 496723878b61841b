"""From units above the step to blockers that people can read."""

from __future__ import annotations

from dataclasses import replace

from decodecheck.judging.verdict import (
    CAPITAL,
    DOUBLED,
    ENDING,
    EXCEPTED,
    IRREGULAR,
    NEVER_TAUGHT,
    STRUCTURE,
    TAUGHT_LATER,
    Blocker,
)
from decodecheck.lexicon import items
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.phonics.align import Segment
from decodecheck.phonics.sounds import Sound, project
from decodecheck.progression.meanings import combination_word, key_word, projected
from decodecheck.progression.order import TeachingOrder


def blockers(
    order: TeachingOrder, reading: Reading, step: int, origin: tuple[int, ...], known: frozenset[int] = frozenset()
) -> list[Blocker]:
    """What of a reading is not taught by a step. `origin` maps letters of the reading to letters of the form; `known` are the
    places of units that are left out."""
    found: list[Blocker] = []
    at = 0
    for number, unit in enumerate(reading.units):
        segments = reading.segments[at : at + len(unit.forms)]
        at += len(unit.forms)
        if order.unit_step(unit) <= step or number in known:
            continue
        for item in order.missing(unit, step):
            one = blocker(order, item, segments, origin)
            if one not in found:
                found.append(one)
    return found


def blocker(order: TeachingOrder, item: Item, segments: tuple[Segment, ...], origin: tuple[int, ...]) -> Blocker:
    """An untaught item as people are told it; `segments` are those of its unit, `origin` as for `blockers`."""
    if item in order.excepted:
        return replace(_of_item(order, item, segments, origin), taught_at=order.excepted[item], cause=EXCEPTED)
    return _of_item(order, item, segments, origin)


def _of_item(order: TeachingOrder, item: Item, segments: tuple[Segment, ...], origin: tuple[int, ...]) -> Blocker:
    kind = item.kind
    when = order.step_of(item)
    taught_at = when if when != NEVER else None
    letters = tuple(sorted(origin[i] for s in segments for i in s.letters))
    sounds = tuple(ipa for s in segments for ipa in project(s.grapheme, s.sound, s.linked, order.accent))
    if kind == items.GPC:
        grapheme, sound = item.correspondence
        segment = _segment_of(grapheme, sound, segments, order.accent)
        written = ""
        if segment is not None:
            letters = tuple(origin[i] for i in segment.letters)
            sounds = project(segment.grapheme, segment.sound, segment.linked, order.accent)
        if segment is None or segment.grapheme != grapheme:
            # of another division than the one that is shown: the i-e of tire, which is shown as t and ire
            shown, sounds = sounds, project(grapheme, sound, False, order.accent)
            written = segment.grapheme if segment is not None and shown == sounds else ""
        cause = TAUGHT_LATER if taught_at else NEVER_TAUGHT
        as_in = key_word(grapheme, sound, order.accent)
        place = taught_elsewhere(order, item, taught_at)
        return Blocker(grapheme, letters, sounds, as_in, taught_at, cause, item, place, written)
    if kind == items.ENDING:
        return Blocker(item.name, letters, sounds, "", taught_at, ENDING, item)
    if kind == items.TOGETHER:
        as_in = combination_word(item, order.accent)
        return Blocker(item.name, letters, sounds, as_in, taught_at, TAUGHT_LATER if taught_at else NEVER_TAUGHT, item)
    if kind == items.SINGLE:
        return Blocker(item.name, letters, sounds, "", taught_at, DOUBLED, item)
    if kind in (items.SHAPE, items.SYLLABLES, items.ADJACENT):
        name = f"{item.number} syllables" if kind == items.SYLLABLES else item.name
        name = "".join(item.run) if kind == items.ADJACENT else name
        return Blocker(name, (), (), "", taught_at, STRUCTURE, item)
    odd = tuple(s for s in segments if s.irregular) or segments
    return Blocker(
        "".join(s.grapheme for s in odd),
        tuple(sorted(origin[i] for s in odd for i in s.letters)),
        tuple(ipa for s in odd for ipa in project(s.grapheme, s.sound, s.linked, order.accent)),
        "",
        None,
        IRREGULAR,
        items.IRREGULAR,
    )


def taught_elsewhere(order: TeachingOrder, item: Item, taught_at: int | None) -> tuple[str, int]:
    """At which end of words a correspondence is taught before it is taught here, and at which step; ("", 0) for none."""
    for place, name in (("e", "at word end"), ("s", "at word start")):
        step = order.item_step.get(item.at(place), NEVER)
        if place != item.place and step < (taught_at or NEVER):
            return name, step
    return "", 0


def _segment_of(grapheme: str, sound: Sound, segments: tuple[Segment, ...], accent: str) -> Segment | None:
    """The segment that an item speaks of; None where it speaks of another accepted segmentation."""
    wanted = projected(grapheme, sound, accent)
    for segment in segments:
        if segment.grapheme == grapheme and projected(segment.grapheme, segment.sound, accent) == wanted:
            return segment
    if len(segments) == 1:
        return segments[0]
    return None


def capital_blockers(form: str, step: int, order: TeachingOrder) -> tuple[Blocker, ...]:
    """The capital letters of a form that are not taught by a step."""
    found = []
    for place, letter in enumerate(form):
        if not letter.isupper() or capital_step(letter, order) <= step:
            continue
        when = capital_step(letter, order)
        item = Item.capital(letter.lower())
        if item in order.excepted:
            found.append(Blocker(letter, (place,), (), "", order.excepted[item], EXCEPTED, item))
        else:
            found.append(Blocker(letter, (place,), (), "", when if when != NEVER else None, CAPITAL, item))
    return tuple({b.grapheme: b for b in reversed(found)}.values())[::-1]


def capitals_step(form: str, order: TeachingOrder) -> int:
    """The first step at which every capital of a form is read; 0 where it has none."""
    return max((capital_step(letter, order) for letter in form if letter.isupper()), default=0)


def capital_step(letter: str, order: TeachingOrder) -> int:
    """The first step at which a capital is read. Capitals that nothing mentions come with their letters."""
    if letter.lower() in order.capitals:
        return order.capitals[letter.lower()]
    return order.capitals_from
