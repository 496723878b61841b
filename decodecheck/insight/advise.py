"""Notes on a progression that is free of mistakes: what a teacher may have meant otherwise, what is missing. Never errors."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from decodecheck.errors import Problem, count
from decodecheck.insight.naming import odd_reason, said_as, taught
from decodecheck.insight.standards import shipped
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import ENDING
from decodecheck.lexicon.common_words import common_words
from decodecheck.lexicon.items import GPC, Item
from decodecheck.lexicon.store import NEVER
from decodecheck.phonics.align import Segment
from decodecheck.phonics.inventory import inventory
from decodecheck.progression.advise import notes as tricky_notes
from decodecheck.progression.first_steps import first_steps
from decodecheck.progression.meanings import choices, projected
from decodecheck.progression.order import Mention, StepHead, TeachingOrder

VERY_COMMON = 500
"""Words this common are worth teaching as tricky words, if no lesson makes them readable."""
LIVELY = 5000
"""A step at which none of so many words becomes readable has nothing to practise with."""
EVERYDAY = 11
"""The highest cost in the inventory of a correspondence that counts as a second spelling: one that every school teaches.
That the o of hot is spelt a in was, or the er of sister o in lemon, is no use to anybody who plans for children of five."""
SECOND_SPELLING = 8
"""A second spelling counts from so many of the 2,000 commonest words."""


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A word that no lesson makes readable: how often it stands in the texts (0 without texts), what is odd in it."""

    word: str
    times: int
    reason: str


@dataclass(frozen=True, slots=True)
class Advice:
    """Notes with places, and words that have to be taught as tricky words, the most frequent first."""

    notes: tuple[Problem, ...]
    unreadable: tuple[Unreadable, ...]


def advise(order: TeachingOrder, texts: Mapping[str, int] | None = None) -> Advice:
    """Everything worth saying of a progression. `texts` are words of the school's texts with how often they occur.

    Nothing is noted at a place in a shipped standard: what it lists, and where, is its own choice.
    """
    found = [*tricky_notes(order), *_steps(order), *_spellings(order), *_split_digraphs(order)]
    found += _key_words(order)
    standards = {path.resolve() for path in shipped().values()}
    found = [p for p in found if Path(p.path).resolve() not in standards]
    found.sort(key=lambda p: (p.path != order.path, p.path, p.line, p.column))
    return Advice(tuple(found), tuple(_unreadable(order, texts)))


def _unreadable(order: TeachingOrder, texts: Mapping[str, int] | None) -> Iterator[Unreadable]:
    """Words that are never decodable in any sense, and never tricky; allowed names and sounds are no words to teach."""
    if texts is None:
        words = [(word, 0) for word in common_words(order.lexicon, VERY_COMMON)]
    else:
        words = sorted(texts.items(), key=lambda pair: (-pair[1], pair[0]))
    judge = Judge(order, order.last)
    known = first_steps(order)
    for word, times in words:
        if known.readable(word) == NEVER and known.in_one_sense(word) == NEVER:
            yield Unreadable(word, times, odd_reason(judge, word))


def _steps(order: TeachingOrder) -> Iterator[Problem]:
    """Steps with nothing to read in them."""
    taught_at = {m.step for m in order.mentions} | set(order.tricky.values())
    readable = {first_steps(order).readable(word) for word in common_words(order.lexicon, LIVELY)}
    earliest = min(readable, default=NEVER)
    for head in order.steps:
        if head.number not in taught_at:
            yield _note(order, head, "This step teaches nothing.", "Give it something to teach, or take it out.")
        elif head.number < earliest:
            yield _note(
                order, head, "No word can be read yet at this step.", "Teach a vowel letter and consonants together."
            )
        elif head.number not in readable and head.number != order.steps[0].number:
            what = f"None of the {LIVELY} commonest words becomes readable at this step."
            yield _note(order, head, what, "Join it to a neighbour, or move a lesson that goes with it here.")


def _spellings(order: TeachingOrder) -> Iterator[Problem]:
    """Sounds that are taught with one spelling and have other common ones, which are never mentioned afterwards."""
    common = _by_sound(order)
    spellings: dict[str, list[Mention]] = defaultdict(list)
    for mention in order.mentions:
        for said in {_said(order, key) for key in mention.keys if key.kind == GPC}:
            spellings[said].append(mention)
    for said, mentions in spellings.items():
        last = max(mentions, key=lambda m: m.step)
        if len({key.grapheme for m in mentions for key in m.keys if _said(order, key) == said}) > 1:
            continue
        named = taught(order, last)
        others = [(words, g, example) for g, (words, example) in common.get(said, {}).items()]
        others = [o for o in sorted(others, reverse=True) if named and o[1] != named.name and o[0] >= SECOND_SPELLING]
        if others and named:
            sound = next(key.sound for key in last.keys if _said(order, key) == said)
            shown = ", ".join(f"`{g} as in {example}` ({count(n, 'word')})" for n, g, example in others[:3])
            what = (
                f"`{named.statement}` is the only spelling you teach for this sound ({said_as(sound, order.accent)})."
            )
            yield _place(order, last, what, f"Some of the 2000 commonest words spell it otherwise: {shown}.")


def _said(order: TeachingOrder, key: Item) -> str:
    return projected(*key.correspondence, order.accent) if key.kind == GPC else ""


def _by_sound(order: TeachingOrder) -> dict[str, dict[str, tuple[int, str]]]:
    """For every sound in the accent: each spelling that no step makes readable, with how many of the 2,000 commonest words
    have it, and a key word. Rare correspondences are left out."""
    found: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    example: dict[tuple[str, str], str] = {}
    for word in common_words(order.lexicon, 2000):
        for s in _unreadable_parts(order, word):
            listed = inventory().get(s.grapheme, s.sound)
            if listed and listed.cost <= EVERYDAY:
                said = projected(s.grapheme, s.sound, order.accent)
                found[said][s.grapheme] += 1
                example.setdefault((said, s.grapheme), listed.key_word)
    return {said: {g: (n, example[said, g]) for g, n in spellings.items()} for said, spellings in found.items()}


def _unreadable_parts(order: TeachingOrder, word: str) -> Iterator[Segment]:
    """The segments of a word's usual reading that no step makes readable, each once."""
    seen = set()
    for reading in order.lexicon.readings(word)[:1]:
        at = 0
        for unit in reading.units:
            segments = reading.segments[at : at + len(unit.forms)]
            at += len(unit.forms)
            if order.unit_step(unit) == NEVER:
                for s in segments:
                    if s.key not in seen:
                        seen.add(s.key)
                        yield s


def _split_digraphs(order: TeachingOrder) -> Iterator[Problem]:
    """Split digraphs that are taught before the vowel letter they open with."""
    for mention in order.mentions:
        graphemes = {key.grapheme for key in mention.keys if key.kind == GPC}
        for grapheme in sorted(g for g in graphemes if "-" in g):
            vowel = grapheme[0]
            short = [c for c in choices(vowel, order.accent) if c.bare == "yes"] or choices(vowel, order.accent)[:1]
            steps = [order.item_step.get(Item.gpc(vowel, c.sound, "m"), NEVER) for c in short]
            first = min(steps)
            if first > mention.step:
                when = f"is taught at step {first}" if first < NEVER else "is never taught"
                what = f"The split digraph `{grapheme}` comes before its vowel: `{vowel} as in {short[0].key_word}` {when}."
                yield _place(
                    order,
                    mention,
                    what,
                    f"Teach `{vowel}` before it, so that its short and its long sound can be compared.",
                )


def _key_words(order: TeachingOrder) -> Iterator[Problem]:
    """Lessons whose own word cannot be read at their step, for an ending that comes later (funny, where -y does)."""
    for mention in order.mentions:
        if mention.kind != "correspondence" or " as in " not in mention.label:
            continue
        named = mention.label.partition(" as in ")[2].partition(", at word")[0]
        for word in named.split(" and "):
            first = first_steps(order).readable(word.lower())
            in_the_way = Judge(order, mention.step).judge(word).blockers if mention.step < first else ()
            if in_the_way and all(b.cause == ENDING for b in in_the_way):
                ending = in_the_way[0].grapheme
                what = f"`{word}` cannot be read at this step: the ending {ending} comes at step {first}."
                yield _place(
                    order,
                    mention,
                    what,
                    f"Teach {ending} with this lesson, or take {ending} out: then its letters will do.",
                )


def _note(order: TeachingOrder, head: StepHead, what: str, todo: str) -> Problem:
    return Problem(head.path, what, todo, head.line, 1, order.sources[head.path][head.line - 1], 4, note=True)


def _place(order: TeachingOrder, mention: Mention, what: str, todo: str) -> Problem:
    excerpt = order.sources[mention.path][mention.line - 1]
    width = len(mention.label.partition(",")[0])
    return Problem(mention.path, what, todo, mention.line, mention.column, excerpt, width, note=True)
