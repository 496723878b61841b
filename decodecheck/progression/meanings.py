"""What a name in a progression stands for: from `ow as in grow` to the items of the lexicon."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, cached_property

from decodecheck.lexicon.endings import ENDINGS
from decodecheck.lexicon.items import ADJACENT, GPC, TOGETHER, Item
from decodecheck.lexicon.store import Lexicon, Reading
from decodecheck.phonics.inventory import Correspondence, divided, inventory, together
from decodecheck.phonics.sounds import Sound, project, sound_codes

CONSONANTS = re.compile(r"(?:qu|[b-df-hj-np-tv-z])+\Z")
"""What adjacent consonants are named by: consonant letters, and qu."""
PLACES = {"": "sme", "start": "s", "end": "e"}


def projected(grapheme: str, sound: Sound, accent: str) -> str:
    """The sound of a grapheme in an accent, as one string: correspondences with the same one are the same."""
    return " ".join(project(grapheme, sound, False, accent))


def same_in_accent(grapheme: str, sound: Sound, accent: str) -> list[Sound]:
    """All sounds of a grapheme that an accent does not tell apart from one (the o of hot and of off)."""
    wanted = projected(grapheme, sound, accent)
    found = [
        c.sound for c in inventory().by_grapheme.get(grapheme, ()) if projected(grapheme, c.sound, accent) == wanted
    ]
    return found or [sound]


def keys(grapheme: str, sounds: Iterable[Sound], place: str) -> frozenset[Item]:
    """Items of a grapheme with sounds at a place ("", start, end)."""
    return frozenset(Item.gpc(grapheme, sound, p) for sound in sounds for p in PLACES[place])


@dataclass(frozen=True, slots=True)
class Named:
    """What a grapheme says in a word. `clear` is false where one pronunciation, or two senses, give it different sounds."""

    sounds: tuple[Sound, ...]
    clear: bool


def as_in(grapheme: str, word: str, readings: list[Reading], accent: str) -> Named:
    """What a grapheme says in a word: by the inventory's key word, the word's segments, or another accepted segmentation.

    Variants of one word (*pure* with either of its vowels) name all their sounds together.
    """
    keyed = [c.sound for c in inventory().by_grapheme.get(grapheme, ()) if c.key_word.lower() == word]
    usual = [r for r in readings if not r.rare] or readings
    heard = {projected(grapheme, s.sound, accent) for r in usual for s in r.segments if s.grapheme == grapheme}
    # a key word tells two sounds of its own apart; what it says in another accent does not count
    keyed = [sound for sound in keyed if not heard or projected(grapheme, sound, accent) in heard]
    if keyed:
        return Named(tuple(keyed), True)
    found: list[Sound] = []
    clear = True
    by_sense: dict[str, set[str]] = {}
    for reading in usual:
        sounds = [s.sound for s in reading.segments if s.grapheme == grapheme] or _otherwise(grapheme, reading)
        said = {projected(grapheme, sound, accent) for sound in sounds}
        clear = clear and len(said) < 2
        by_sense.setdefault(reading.sense, set()).update(said)
        found += [sound for sound in sounds if sound not in found]
    return Named(tuple(found), clear and all(said == s for said in by_sense.values() for s in by_sense.values()))


def _otherwise(grapheme: str, reading: Reading) -> list[Sound]:
    """The sounds of a grapheme in other accepted segmentations of a reading."""
    found: list[Sound] = []
    for unit in reading.units:
        for item in (item for alternative in unit.alternatives for item in alternative):
            if item.kind == GPC and item.grapheme == grapheme and item.sound not in found:
                found.append(item.sound)
    return found


def everyday_first(c: Correspondence) -> tuple[int, list[int]]:
    """Sorts cheap correspondences first; of equals, the one whose sound `rules/sounds.tsv` names first (hot before off)."""
    order = list(sound_codes())
    return c.cost, [order.index(code) for code in c.sound]


def choices(grapheme: str, accent: str) -> list[Correspondence]:
    """One correspondence of a grapheme for each sound the accent tells apart, the commonest first."""
    seen: dict[str, Correspondence] = {}
    for c in sorted(inventory().by_grapheme.get(grapheme, ()), key=everyday_first):
        seen.setdefault(projected(grapheme, c.sound, accent), c)
    return list(seen.values())


def key_word(grapheme: str, sound: Sound, accent: str) -> str:
    """A familiar word in which the grapheme has this sound; "" where the inventory lists none."""
    wanted = projected(grapheme, sound, accent)
    exact = inventory().get(grapheme, sound)
    if exact:
        return exact.key_word
    return next(
        (
            c.key_word
            for c in inventory().by_grapheme.get(grapheme, ())
            if projected(grapheme, c.sound, accent) == wanted
        ),
        "",
    )


def combination_items(
    lex: Lexicon, name: str, word: str, accent: str, readings: Sequence[Reading] = ()
) -> frozenset[Item]:
    """The items of a combination with the sound it has in a word ("": the one its name alone stands for).

    The word is one of its key words, or any with these readings. Empty where the word does not hold it.
    """
    combination = together()[name]
    wanted = word or combination.key_word
    said = {
        _combination_said(name, tuple(divided(part)[1] for part in parts), accent)
        for parts, key in zip(combination.parts, combination.key_words)
        if key.lower() == wanted.lower()
    } or {
        _said(item, accent)
        for r in readings
        for u in r.units
        for a in u.alternatives
        for item in a
        if item.kind == TOGETHER and item.name == name
    }
    return frozenset(item for item in _combinations(lex).get(name, ()) if _said(item, accent) in said)


@cache
def _combinations(lex: Lexicon) -> dict[str, tuple[Item, ...]]:
    """Every combination that words of the lexicon hold, by name."""
    found: dict[str, tuple[Item, ...]] = {}
    for item in lex.tables.items_of(TOGETHER):
        found[item.name] = (*found.get(item.name, ()), item)
    return found


def _said(item: Item, accent: str) -> tuple[str, ...]:
    return _combination_said(item.name, item.sounds, accent)


@cache
def _combination_said(name: str, sounds: tuple[Sound, ...], accent: str) -> tuple[str, ...]:
    graphemes = next(
        [divided(part)[0] for part in parts] for parts in together()[name].parts if len(parts) == len(sounds)
    )
    return tuple(projected(g, sound, accent) for g, sound in zip(graphemes, sounds))


def combination_word(item: Item, accent: str) -> str:
    """A familiar word in which a combination has the sound of an item; "" where there is none."""
    combination = together()[item.name]
    for parts, word in zip(combination.parts, combination.key_words):
        sounds = tuple(divided(part)[1] for part in parts)
        if _combination_said(item.name, sounds, accent) == _said(item, accent):
            return word
    return ""


@dataclass(frozen=True)
class Names:
    """Every name that a statement may use, for messages about unknown ones."""

    graphemes: tuple[str, ...]
    endings: tuple[str, ...]
    together: tuple[str, ...]
    lexicon: Lexicon

    @cached_property
    def adjacent(self) -> Mapping[str, frozenset[Item]]:
        """Items of adjacent consonants by the letters that name them; most progressions never ask for them."""
        runs: dict[str, frozenset[Item]] = {}
        for item in self.lexicon.tables.items_of(ADJACENT):
            name = "".join(item.run)
            if CONSONANTS.match(name):
                runs[name] = runs.get(name, frozenset()) | {item}
        return runs


@cache
def known_names(lex: Lexicon) -> Names:
    """All graphemes, endings, combinations and adjacent consonants that can be taught."""
    return Names(tuple(inventory().by_grapheme), ENDINGS, tuple(together()), lex)
