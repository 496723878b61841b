"""How taught things and odd parts are named to people: key words first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from decodecheck.checking.judge import Judge
from decodecheck.checking.verdict import TRICKY, Blocker
from decodecheck.lexicon.store import lexicon
from decodecheck.phonics.inventory import inventory, together
from decodecheck.phonics.sounds import Sound, is_vowel, lexicon_of, sound_codes
from decodecheck.progression.items import choices, everyday_first, projected
from decodecheck.progression.order import Mention, TeachingOrder

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


def named(order: TeachingOrder, mention: Mention, keys: frozenset[str]) -> Taught | None:
    """Some of the items of a mention, by key words of their own; None where there are none."""
    if not keys:
        return None
    if mention.kind == "correspondence":
        return _correspondence(order, mention, keys)
    if mention.kind == "together":
        name = next(iter(keys)).partition("|")[2]
        return Taught(name, (together()[name].key_word,), "", mention)
    return Taught(mention.label, (), "", mention)


def _correspondence(order: TeachingOrder, mention: Mention, keys: Iterable[str]) -> Taught:
    grapheme = next(iter(keys)).split("|")[1]
    places = {key.split("|")[3] for key in keys}
    place = PLACES.get(next(iter(places)), "") if len(places) == 1 else ""
    whole = frozenset(keys) == mention.keys
    label = mention.label.partition(", at word ")[0]
    if whole and " as in " in label:
        return Taught(grapheme, tuple(label.partition(" as in ")[2].split(" and ")), place, mention)
    said = {projected(grapheme, sound_of(key), order.accent) for key in keys}
    known = {projected(grapheme, c.sound, order.accent): c.key_word for c in choices(grapheme, order.accent)}
    return Taught(grapheme, tuple(word for sound, word in known.items() if sound in said), place, mention)


def sound_of(key: str) -> Sound:
    """The sound codes of a correspondence's item."""
    codes = key.split("|")[2]
    return tuple(codes.split("+")) if codes else ()


def usable(order: TeachingOrder, step: int) -> list[Taught]:
    """Everything taught by a step, in the order of teaching."""
    found = [taught(order, m) for m in sorted(order.mentions, key=lambda m: m.step) if m.step <= step]
    return [t for t in found if t is not None]


def odd_part(order: TeachingOrder, word: str, step: int) -> str:
    """What in a tricky word cannot be read by its graphemes at a step: `ai: vowel of bed`; "" where nothing is odd."""
    verdict = Judge(order, step).judge(word)
    if verdict.status != TRICKY:
        return ""
    return "; ".join(dict.fromkeys(_odd(order, b, word) for b in verdict.blockers if b.letters))


def odd_reason(judge: Judge, word: str) -> str:
    """What stands in the way of a word at the judge's step, in a few words: `ea: vowel of bed; the ending -ed`."""
    return "; ".join(dict.fromkeys(_odd(judge.order, b, word) for b in judge.judge(word).blockers))


def _odd(order: TeachingOrder, blocker: Blocker, word: str) -> str:
    kind, *rest = blocker.item.split("|")
    if kind == "gpc":
        sound = tuple(rest[1].split("+")) if rest[1] else ()
        return f"{blocker.grapheme}: {said_as(sound, order.accent, blocker.grapheme, word)}"
    if kind == "ending":
        return f"the ending {blocker.grapheme}"
    return f"{blocker.grapheme}: irregular"


@cache
def said_as(sound: Sound, accent: str, grapheme: str = "", word: str = "") -> str:
    """A sound by familiar words: `vowel of bed`, `z of zip`, `y of yes and vowel of moon`, `silent`.

    Never by the word itself that is explained, nor by one that spells the sound with the same grapheme, if there is another:
    the a of was is told by hot, not by what; the u of put by book.
    """
    if not sound:
        return "silent"
    return " and ".join(_one(code, accent, grapheme, word) for code in sound)


def _one(code: str, accent: str, grapheme: str, explained: str) -> str:
    known = _familiar(code, accent)
    example, spelt = next(((w, g) for w, g in known if explained != w and grapheme != g), known[0])
    return f"vowel of {example}" if is_vowel(code) else f"{spelt} of {example}"


@cache
def _familiar(code: str, accent: str) -> list[tuple[str, str]]:
    """Familiar words with a sound and how each spells it: the sound's own, then those of sounds that the accent does not tell
    apart, then key words of everyday correspondences."""
    said = sound_codes()[code].ipa[accent]
    alike = [c for c in sound_codes().values() if c.ipa[accent] == said and is_vowel(c.code) == is_vowel(code)]
    alike.sort(key=lambda c: c.code != code)
    found = [(c.key_word, _spelling(c.key_word, c.code, accent)) for c in alike]
    everyday = [c for c in inventory().all if c.sound in [(a.code,) for a in alike] and c.bare != "no"]
    return found + [(c.key_word, c.grapheme) for c in sorted(everyday, key=everyday_first)]


def _spelling(word: str, code: str, accent: str) -> str:
    """The grapheme that has a sound in a word."""
    for reading in lexicon(lexicon_of(accent)).readings(word):
        for segment in reading.segments:
            if segment.sound == (code,):
                return segment.grapheme
    return "sound"
