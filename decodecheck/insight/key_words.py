"""Which word stands beside a grapheme on a page: one a child can read by then, a word of her own world where there is one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cached_property

from decodecheck.insight.naming import EVERYDAY, Taught, named, taught
from decodecheck.lexicon.common_words import common_words
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.lexicon.word_classes import word_class
from decodecheck.phonics.inventory import inventory
from decodecheck.progression.first_steps import first_steps
from decodecheck.progression.meanings import projected
from decodecheck.progression.order import TeachingOrder

LOOKED_AT = 5000
"""Among how many of the commonest words nouns are looked for, after the inventory's own key words."""
MOST_OTHERS = 500
"""Where no noun fits, so many of the commonest short words of any class are looked through (when, sat)."""
LONGEST = 5
"""No longer word stands beside a grapheme unless the progression or the inventory names it."""


class KeyWords:
    """Key words for the lessons of a teaching order, no word for two lessons as long as there are others."""

    def __init__(self, order: TeachingOrder) -> None:
        self.order = order

    def lessons(self, step: int) -> list[Taught]:
        """Everything taught by a step in the order of teaching, with key words that can be read when it is taught.

        A word that the progression names (`ow as in town`) stays. Where no fitting word can be read yet, the inventory's
        key word stands.
        """
        lessons = [taught(self.order, m) for m in sorted(self.order.mentions, key=lambda m: m.step) if m.step <= step]
        found = [lesson for lesson in lessons if lesson is not None]
        used = {word for lesson in found if not _is_free(lesson) for word in lesson.words}
        for number in dict.fromkeys(lesson.mention.step for lesson in found):
            # first what has a word that begins with it (n: net), so that the others take what is left (e: ten)
            for initial in (True, False):
                for at, lesson in enumerate(found):
                    if lesson.mention.step == number and _is_free(lesson) and self._begins(lesson) is initial:
                        found[at] = self._with_words(lesson, used)
                        used.update(found[at].words)
        return found

    def _begins(self, lesson: Taught) -> bool:
        """Can a word that begins with the grapheme be read when it is taught?"""
        return any(w.startswith(lesson.name) for w in self._fitting(lesson, lesson.mention.step)[:1])

    def _with_words(self, lesson: Taught, used: set[str]) -> Taught:
        words: list[str] = []
        for part in by_sound(self.order, lesson):
            if part.words:
                words.append(self._word(part, lesson.mention.step, used | set(words)))
        return replace(lesson, words=tuple(words[: len(lesson.words)]))

    def _word(self, lesson: Taught, step: int, used: set[str]) -> str:
        """A word for one sound of a grapheme."""
        own = lesson.words[0]
        if own not in used and self._first_step(own) <= step:
            return own
        fitting = self._fitting(lesson, step)
        return next((w for w in fitting if w not in used), own)

    def _fitting(self, lesson: Taught, step: int) -> list[str]:
        """Words with a lesson's grapheme and sound that can be read by a step; those that begin with it come first."""
        said = projected(lesson.name, min(lesson.mention.keys).sound, self.order.accent)
        fitting = [w for w in self._by_part.get((lesson.name, said), ()) if self._first_step(w) <= step]
        return sorted(fitting, key=lambda w: not w.startswith(lesson.name))

    def _first_step(self, word: str) -> int:
        return first_steps(self.order).decodable(word)

    @cached_property
    def _by_part(self) -> dict[tuple[str, str], list[str]]:
        """Words by each grapheme with its sound in them: key words of the inventory first, then short common nouns, then
        other short common words."""
        found: dict[tuple[str, str], list[str]] = {}
        for word in dict.fromkeys(self._candidates()):
            if self._first_step(word) == NEVER:
                continue
            readings = first_steps(self.order).lookup.readings(word)
            if len({r.sense for r in readings}) != 1:
                continue
            for s in readings[0].segments:
                # a double consonant is no example of the single letter, and a linked sound none of its grapheme
                if not s.irregular and not s.linked:
                    found.setdefault((s.grapheme, projected(s.grapheme, s.sound, self.order.accent)), []).append(word)
        return found

    def _candidates(self) -> Iterator[str]:
        everyday = sorted((c for c in inventory().all if c.cost <= EVERYDAY), key=lambda c: (c.cost, c.key_word))
        yield from (c.key_word for c in everyday if len(c.key_word) <= LONGEST)
        short = [w for w in common_words(self.order.lexicon, LOOKED_AT) if 2 < len(w) <= LONGEST]
        yield from (word for word in short if word_class(word) == "noun")
        yield from short[:MOST_OTHERS]


def _is_free(lesson: Taught) -> bool:
    """May another word stand beside a lesson? One that the progression names may not."""
    return lesson.mention.kind == "correspondence" and " as in " not in lesson.mention.label and bool(lesson.words)


def by_sound(order: TeachingOrder, lesson: Taught) -> list[Taught]:
    """A lesson of a grapheme with several sounds as one lesson for each sound, in the order of its key words."""
    if lesson.mention.kind != "correspondence":
        return [lesson]
    keys: dict[str, set[Item]] = {}
    for key in sorted(k for k in lesson.mention.keys if k not in order.excepted):
        keys.setdefault(projected(lesson.name, key.sound, order.accent), set()).add(key)
    parts = [part for part in _parts(order, lesson, keys.values()) if part.words]
    return sorted(parts, key=lambda part: _place(lesson, part)) or [lesson]


def _parts(order: TeachingOrder, lesson: Taught, keys: Iterable[set[Item]]) -> Iterator[Taught]:
    for group in keys:
        part = named(order, replace(lesson.mention, keys=frozenset(group), label=lesson.name), frozenset(group))
        if part is None:
            continue
        own = [word for word in lesson.words if word in part.words or _says(order, word, lesson.name, group)]
        yield replace(part, words=tuple(own or part.words)[:1], place=lesson.place)


def _says(order: TeachingOrder, word: str, grapheme: str, group: set[Item]) -> bool:
    """Does a key word have the grapheme with the sound of these items?"""
    said = {projected(grapheme, key.sound, order.accent) for key in group}
    return any(
        s.grapheme == grapheme and projected(grapheme, s.sound, order.accent) in said
        for reading in order.lexicon.readings(word)
        for s in reading.segments
    )


def _place(lesson: Taught, part: Taught) -> int:
    return lesson.words.index(part.words[0]) if part.words and part.words[0] in lesson.words else len(lesson.words)


def needs(order: TeachingOrder, lesson: Taught, reading: Reading) -> bool:
    """Does a reading use what a lesson teaches: is one of its items in the alternative by which a unit is read first?"""
    for unit in reading.units:
        best = min(unit.alternatives, key=lambda a: max(map(order.step_of, a), default=0))
        if lesson.mention.keys & set(best):
            return True
    return False
