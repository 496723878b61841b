"""How taught things and odd parts are named to people: key words first."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from decodecheck.checking.findings._words import MOST_SOUNDS
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import TRICKY, Blocker, Verdict
from decodecheck.lexicon.items import ENDING, GPC, IRREGULAR, Item
from decodecheck.lexicon.store import lexicon
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import Sound, is_vowel, lexicon_of, sound_codes
from decodecheck.progression.meanings import choices, combination_word, everyday_first, projected
from decodecheck.progression.order import Mention, TeachingOrder

EVERYDAY = 11
"""The highest cost in the inventory of a correspondence whose key word stands for its sound."""
MOST_USUAL = 10
"""The highest cost in the inventory of an everyday grapheme, which is nothing odd in a word."""
NEAR = 2
"""How much more than the cheapest a sound of a grapheme may cost to be named beside it."""
PLACES = {"e": "at word end", "s": "at word start"}


@dataclass(frozen=True, slots=True)
class Taught:
    """One taught thing for people: `ow`, its key words (town), its place ("" or "at word end"), its kind, where it is from."""

    name: str
    words: tuple[str, ...]
    place: str
    mention: Mention

    @property
    def text(self) -> str:
        """`ow (town)`, `o at word end (go)`, `-ing`."""
        text = f"{self.name} {self.place}".strip()
        return f"{text} ({', '.join(self.words)})" if self.words else text

    @property
    def statement(self) -> str:
        """As a progression names it: `ow as in town`."""
        words = " as in " + " and ".join(self.words) if self.words and self.mention.kind == "correspondence" else ""
        return f"{self.name}{words}" + (f", {self.place}" if self.place else "")


def taught(order: TeachingOrder, mention: Mention) -> Taught | None:
    """A mention without what is left out for a group; None where nothing of it is left."""
    return named(order, mention, frozenset(key for key in mention.keys if key not in order.excepted))


def named(order: TeachingOrder, mention: Mention, keys: frozenset[Item]) -> Taught | None:
    """Some of the items of a mention, by key words of their own; None where there are none."""
    if not keys:
        return None
    if mention.kind == "correspondence":
        return _correspondence(order, mention, keys)
    if mention.kind == "together":
        name = next(iter(keys)).name
        words = dict.fromkeys(combination_word(key, order.accent) for key in sorted(keys))
        whole = mention.label.partition(" as in ")[2].split(" and ") if " as in " in mention.label else []
        return Taught(name, tuple(whole) or tuple(w for w in words if w)[:1], "", mention)
    return Taught(mention.label, (), "", mention)


def _correspondence(order: TeachingOrder, mention: Mention, keys: Iterable[Item]) -> Taught:
    grapheme = next(iter(keys)).grapheme
    places = {key.place for key in keys}
    place = PLACES.get(next(iter(places)), "") if len(places) == 1 else ""
    whole = frozenset(keys) == mention.keys
    label = mention.label.partition(", at word ")[0]
    if whole and " as in " in label:
        return Taught(grapheme, tuple(label.partition(" as in ")[2].split(" and ")), place, mention)
    said = {projected(grapheme, key.sound, order.accent) for key in keys}
    known = [c for c in choices(grapheme, order.accent) if projected(grapheme, c.sound, order.accent) in said]
    # the le of aisle comes with that of table, but is no help to name it by
    usual = [c.key_word for c in known if c.cost <= known[0].cost + NEAR]
    return Taught(grapheme, tuple(usual), place, mention)


def usable(order: TeachingOrder, step: int) -> list[Taught]:
    """Everything taught by a step, in the order of teaching."""
    found = [taught(order, m) for m in sorted(order.mentions, key=lambda m: m.step) if m.step <= step]
    return [t for t in found if t is not None]


def step_name(number: int, title: str) -> str:
    """A step for people: `Step 3`, `1 autumn, first week`, `Week 3` where its title has the number already."""
    if not title:
        return f"Step {number}"
    return title if re.match(rf"[^\W\d]+ {number}\b", title) else f"{number} {title}"


def odd_part(order: TeachingOrder, word: str, step: int, *, spoken: bool = False) -> str:
    """What in a tricky word is not read by the usual sound of its graphemes at a step: `ai like e in bed`, or as a sentence
    (`spoken`) `ai sounds like the e in bed`; "" where nothing is odd.

    A grapheme that has its usual sound and merely comes later is odd only where there is nothing else.
    """
    verdict = Judge(order, step).judge(word)
    if verdict.status != TRICKY:
        return ""
    found = [b for b in verdict.blockers if b.letters]
    return _parts(order, verdict, [b for b in found if not _usual(b)] or found, word, spoken)


def _usual(blocker: Blocker) -> bool:
    """Does an everyday grapheme (t, sh; not the mb of climb) have here what its name alone stands for?"""
    if blocker.item.kind != GPC:
        return False
    grapheme, sound = blocker.item.correspondence
    if len(grapheme) == 2 and grapheme[1] == "e" and inventory().get(grapheme[0], sound):
        grapheme = grapheme[0]  # the ne of one: a silent e after a letter with its usual sound
    found = inventory().get(grapheme, sound)
    return found is not None and found.bare == "yes" and found.cost <= MOST_USUAL and not found.place


def odd_reason(judge: Judge, word: str) -> str:
    """What stands in the way of a word at the judge's step, in a few words: `ea like e in bed; the ending -ed`."""
    verdict = judge.judge(word)
    return _parts(judge.order, verdict, verdict.blockers, word)


def _parts(order: TeachingOrder, verdict: Verdict, blockers: Iterable[Blocker], word: str, spoken: bool = False) -> str:
    found: dict[str, None] = {}
    for blocker in blockers:
        item = blocker.item
        if item.kind == GPC:
            found[_like(order, blocker.grapheme, item.sound, word, spoken)] = None
        elif item.kind == ENDING:
            found[f"the ending {blocker.grapheme}"] = None
        elif item is IRREGULAR:
            found |= dict.fromkeys(_irregular(order, verdict, word, spoken))
        else:
            found[blocker.grapheme] = None
    return "; ".join(found)


def _irregular(order: TeachingOrder, verdict: Verdict, word: str, spoken: bool) -> Iterator[str]:
    """The irregular graphemes of a word with their sound, where that is one or two; more (Mr) stand for no grapheme."""
    for s in verdict.readings[0].segments if verdict.readings else ():
        if s.irregular and len(s.sound) > MOST_SOUNDS:
            yield "short for a longer word"
        elif s.irregular:
            yield _like(order, s.grapheme, s.sound, word, spoken)


def _like(order: TeachingOrder, grapheme: str, sound: Sound, word: str, spoken: bool) -> str:
    said = said_as(sound, order.accent, grapheme, word)
    if not sound:
        return f"{grapheme} {'is ' * spoken}{said}"
    return f"{grapheme} sounds like the {said.replace(' and ', ' and the ')}" if spoken else f"{grapheme} like {said}"


@cache
def said_as(sound: Sound, accent: str, grapheme: str = "", word: str = "") -> str:
    """A sound by a familiar word for it: `e in bed`, `z in zip`, `w in win and u in cup`, `silent`.

    The word is always the same for one sound, but never the word itself that is explained, nor, for a vowel, one that spells
    it with the same grapheme.
    """
    if not sound:
        return "silent"
    return " and ".join(_one(code, accent, grapheme, word) for code in sound)


def _one(code: str, accent: str, grapheme: str, explained: str) -> str:
    known = _familiar(code, accent)
    spelt = grapheme if is_vowel(code) else ""
    example, letters = next(((w, g) for w, g in known if explained != w and spelt != g), known[0])
    return f"{letters} in {example}"


@cache
def _familiar(code: str, accent: str) -> list[tuple[str, str]]:
    """Familiar words with a sound (or one that the accent does not tell apart from it) and how each spells it.

    First key words of sounds that are spelt in an everyday way (moon, not put), then key words of everyday correspondences, then
    the other key words of sounds.
    """
    said = sound_codes()[code].ipa[accent]
    alike = [c for c in sound_codes().values() if c.ipa[accent] == said and is_vowel(c.code) == is_vowel(code)]
    everyday = {
        (c.grapheme, c.sound): c for c in inventory().all if c.bare != "no" and c.cost <= EVERYDAY and not c.place
    }
    own = [(c.key_word, _spelling(c.key_word, c.code, accent), c.code) for c in alike]
    others = sorted(
        (c for c in everyday.values() if c.sound in {(a.code,) for a in alike}),
        key=lambda c: (c.bare == "ask", *everyday_first(c)),
    )
    return [
        *((word, spelt) for word, spelt, its in own if (spelt, (its,)) in everyday),
        *((c.key_word, c.grapheme) for c in others),
        *((word, spelt) for word, spelt, _ in own),
    ]


def _spelling(word: str, code: str, accent: str) -> str:
    """The grapheme that has a sound in a word, alone or with others."""
    part = word
    for reading in lexicon(lexicon_of(accent)).readings(word):
        for segment in reading.segments:
            if segment.sound == (code,):
                return segment.grapheme
            if code in segment.sound:
                # the ure of pure says more than this sound, but nobody would say less of it
                part = segment.grapheme
    return part
