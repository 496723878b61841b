"""What an author may use at a step, and what to avoid."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from decodecheck.insight.key_words import KeyWords, by_sound, needs
from decodecheck.insight.naming import Taught
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import ENDING, EXCEPTED, IRREGULAR, STRUCTURE, Blocker, Verdict
from decodecheck.lexicon.child_words import class_by_category
from decodecheck.lexicon.common_words import common_words
from decodecheck.lexicon.items import GPC
from decodecheck.lexicon.store import NEVER
from decodecheck.lexicon.word_classes import WORD_CLASSES, word_class
from decodecheck.phonics.notes import false_digraphs
from decodecheck.progression.first_steps import first_steps
from decodecheck.progression.meanings import choices, projected
from decodecheck.progression.order import TeachingOrder

WORDS = 200
"""How many usable words are listed, at the most half of them such as only the step itself makes readable."""
NEW_WORDS = 15
"""How many words are listed for each thing that is new at the step."""
LOOKED_AT = 5000
"""Among how many of the commonest words they are looked for, and what to avoid among the first 2,000 of them."""
AVOID_AMONG = 2000
OTHER = "other"


@dataclass(frozen=True, slots=True)
class Avoid:
    """One thing that is not taught yet: how it is named, with which other sounds its grapheme is taught (a near miss), common
    words that it alone holds back, how many there are."""

    name: str
    though: tuple[str, ...]
    words: tuple[str, ...]
    count: int


@dataclass(frozen=True, slots=True)
class Brief:
    """One page for an author at a step. `new` are the step's own lessons, each sound by itself, with the commonest words that
    it makes readable; `new_tricky` its own tricky words. `tricky` are words that have to be known whole at this step; `structures` and
    `endings` map each that the progression names to its step; `words` are common usable words by word class, those that the step makes readable first."""

    order: TeachingOrder
    step: int
    new: tuple[tuple[Taught, tuple[str, ...]], ...]
    new_tricky: tuple[str, ...]
    taught: tuple[Taught, ...]
    tricky: tuple[str, ...]
    structures: tuple[tuple[str, int], ...]
    endings: tuple[tuple[str, int], ...]
    words: tuple[tuple[str, tuple[str, ...]], ...]
    near_misses: tuple[Avoid, ...]
    not_yet: tuple[Avoid, ...]


def brief(order: TeachingOrder, step: int) -> Brief:
    """The brief of a teaching order at a step."""
    judge = Judge(order, step)
    common = common_words(order.lexicon, LOOKED_AT)
    near, other = _avoid(order, judge, common[:AVOID_AMONG])
    tricky = [w for w, at in order.tricky.items() if at <= step < first_steps(order).decodable(w)]
    lessons = KeyWords(order).lessons(step)
    return Brief(
        order,
        step,
        tuple(_new(order, step, [t for t in lessons if t.mention.step == step], common)),
        tuple(order.tricky_spelling.get(w, w) for w in tricky if order.tricky[w] == step),
        tuple(lessons),
        tuple(order.tricky_spelling.get(w, w) for w in sorted(tricky)),
        _named(order, "structure"),
        _named(order, "ending"),
        _words(order, step, common),
        tuple(near),
        tuple(other),
    )


def _named(order: TeachingOrder, kind: str) -> tuple[tuple[str, int], ...]:
    """What of a kind the progression names, with its step in this order (NEVER where it is left out for a group)."""
    found = {m.label: max(order.item_step.get(key, NEVER) for key in m.keys) for m in order.mentions if m.kind == kind}
    return tuple(sorted(found.items(), key=lambda pair: pair[1]))


def _new(
    order: TeachingOrder, step: int, lessons: list[Taught], common: list[str]
) -> Iterator[tuple[Taught, tuple[str, ...]]]:
    """The lessons of a step with the commonest words that they make readable."""
    fresh = [w for w in common if first_steps(order).decodable(w) == step and _is_plain(order, w)]
    for lesson in (part for t in lessons for part in by_sound(order, t)):
        words = [w for w in fresh if needs(order, lesson, first_steps(order).lookup.readings(w)[0])]
        yield lesson, tuple(words[:NEW_WORDS])


def _words(order: TeachingOrder, step: int, common: list[str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The commonest decodable words by class, those first that the step itself makes readable."""
    usable = [w for w in common if first_steps(order).decodable(w) <= step and _is_plain(order, w)]
    fresh = [w for w in usable if first_steps(order).decodable(w) == step][: WORDS // 2]
    chosen = fresh + [w for w in usable if w not in set(fresh)][: WORDS - len(fresh)]
    by_class: dict[str, list[str]] = defaultdict(list)
    for word in chosen:
        known = word_class(word) or class_by_category(word, first_steps(order).lookup.readings(word)[0])
        by_class[known or OTHER].append("I" if word == "i" else word)
    return tuple((c, tuple(by_class[c])) for c in (*WORD_CLASSES, OTHER) if by_class[c])


def _is_plain(order: TeachingOrder, word: str) -> bool:
    """Does no pair of letters in a word only look like a digraph (mishap)?"""
    return not false_digraphs(first_steps(order).lookup.readings(word)[0].segments)


def _avoid(order: TeachingOrder, judge: Judge, common: list[str]) -> tuple[list[Avoid], list[Avoid]]:
    """What alone holds common words back: near misses (their grapheme is taught with another sound) and the rest."""
    words: dict[tuple[str, str], list[str]] = defaultdict(list)
    sample: dict[tuple[str, str], Blocker] = {}
    for word in common:
        known = first_steps(order)
        if known.readable(word) <= judge.step or known.in_one_sense(word) <= judge.step:
            continue
        found = _only_blocker(judge.judge(word))
        if found:
            key = (found.grapheme, "".join(found.sounds) if found.as_in else found.cause)
            sample.setdefault(key, found)
            words[key].append(word)
    near: list[Avoid] = []
    other: list[Avoid] = []
    for key in sorted(words, key=lambda k: (-len(words[k]), k)):
        blocker = sample[key]
        though = _taught_otherwise(order, blocker, judge.step)
        avoid = Avoid(_name(blocker), though, tuple(words[key]), len(words[key]))
        (near if though else other).append(avoid)
    return near, other


def _only_blocker(verdict: Verdict) -> Blocker | None:
    """What alone stands in the way of a word; an irregular spelling is no rule to tell an author."""
    blockers = {(b.grapheme, b.sounds): b for b in verdict.blockers}
    if len(blockers) != 1 or any(b.cause == IRREGULAR for b in verdict.blockers):
        return None
    return next(iter(blockers.values()))


def _name(blocker: Blocker) -> str:
    if blocker.cause == ENDING or blocker.grapheme.startswith(("-", "'")):
        return f"the ending {blocker.grapheme}"
    if blocker.cause == STRUCTURE:
        return f"the structure {blocker.grapheme}"
    name = f"{blocker.grapheme} as in {blocker.as_in}" if blocker.as_in else blocker.grapheme
    return name + (" (left out for this group)" if blocker.cause == EXCEPTED else "")


def _taught_otherwise(order: TeachingOrder, blocker: Blocker, step: int) -> tuple[str, ...]:
    """Key words of the sounds with which a blocking grapheme is taught already."""
    if blocker.item.kind != GPC:
        return ()
    said = {
        projected(*item.correspondence, order.accent)
        for item, at in order.item_step.items()
        if at <= step and item.kind == GPC and item.grapheme == blocker.grapheme
    }
    known = choices(blocker.grapheme, order.accent)
    return tuple(c.key_word for c in known if projected(c.grapheme, c.sound, order.accent) in said)
