"""A base and its forms are one judgement: over the whole lexicon, in both accents, under any progression.

Which word is a form of which is found here anew, by spelling and by sound (the rules of spelling are those of England's
national curriculum, English Appendix 1, years 1 and 2: -s, -es, -ed, -ing, -er, -est, -y, -ly; contractions and the possessive);
what the compiled lexicon says of a word's parts is not looked at.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from decodecheck.lexicon.analysis import not_endings
from decodecheck.lexicon.derive import said
from decodecheck.lexicon.endings import attach, loose, splits
from decodecheck.lexicon.items import SYLLABLES, Item
from decodecheck.lexicon.store import NEVER, Lexicon, Reading, lexicon, tables
from decodecheck.phonics.sounds import lexicon_of
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load
from decodecheck.resources import rules_folder
from tests.checking.random_orders import random_order

PROGRESSIONS = rules_folder() / "progressions"
ORDERS = {
    "England's curriculum": PROGRESSIONS / "england-national-curriculum.progression",
    "Common Core": PROGRESSIONS / "us-common-core-foundational-skills.progression",
    "the demo": Path(__file__).parents[2] / "corpora_demo" / "harbour-lane.progression",
}


@dataclass(frozen=True)
class Pair:
    """A form and its base, each with the readings of one sense, and the ending between them."""

    form: str
    base: str
    ending: str
    form_readings: tuple[Reading, ...]
    base_readings: tuple[Reading, ...]


def _by_sense(lex: Lexicon, word: str) -> list[tuple[Reading, ...]]:
    senses: dict[str, list[Reading]] = {}
    for reading in lex.readings(word):
        if not reading.rare:
            senses.setdefault(reading.sense, []).append(reading)
    return [tuple(group) for group in senses.values()]


@cache
def pairs(name: str) -> list[list[Pair]]:
    """Every form of the lexicon with its likeliest base: of those whose sounds add up, the commonest; several pairs where the
    form may be of either of two senses of its base."""
    lex, known = lexicon(name), tables()
    found: list[list[Pair]] = []
    for word in known.words():
        if not lex.has(word):
            continue
        for group in _by_sense(lex, word):
            options = sorted(_bases(lex, word, group), key=lambda o: (known.zipf[known.number(o[1].base)], o[0]))
            if options:
                best, pair = options[-1]
                found.append([p for alike, p in options if alike == best and p.base == pair.base])
    return found


def _bases(lex: Lexicon, word: str, group: tuple[Reading, ...]) -> Iterator[tuple[int, Pair]]:
    """Pairs, each with a figure that is the greater the more of the form's pronunciations its base gives."""
    known = tables()
    sounds = {loose(said(r, lex.name)) for r in group}
    for split in splits(word):
        number = known.number(split.base)
        if number < 0 or not lex.has(split.base) or (word, split.ending) in not_endings():
            continue
        if split.ending != "'s" and (known.is_name[number] or known.is_name[known.number(word)]):
            continue
        if split.ending in ("-er", "-est", "-y", "-ly") and known.zipf[number] < 260:
            continue  # a rare word before these endings is more likely an accident (see HOWTO.md)
        for base_group in _by_sense(lex, split.base):
            built = [attach(split.base, said(r, lex.name), split.ending, lex.name) for r in base_group]
            every = {loose(p) for variants in built for p, _ in variants}
            likeliest = {loose(variants[0][0]) for variants in built}
            if every & sounds:
                alike = len(every & sounds) + len(likeliest & sounds) - len(likeliest - sounds)
                yield (
                    2 * alike + (base_group[0].sense == group[0].sense),
                    Pair(word, split.base, split.ending, group, base_group),
                )


def _step(order: TeachingOrder, readings: tuple[Reading, ...]) -> int:
    return min(map(order.reading_step, readings))


def _ending_step(order: TeachingOrder, pair: Pair) -> int:
    """From which step an ending is read: as the progression mentions it, else by its letters, where the form has it."""
    for names in ((pair.ending,), ("-es",) if pair.ending == "-s" else ("-s",) if pair.ending == "-es" else ()):
        wanted = list(map(Item.ending, names))
        steps = [
            order.unit_step(unit)
            for r in pair.form_readings
            for unit in r.units
            if any(item in alternative for alternative in unit.alternatives for item in wanted)
        ]
        if steps:
            return min(steps)
    return NEVER


@cache
def contradictions_of(name: str) -> dict[str, str]:
    """Those of one of ORDERS."""
    return contradictions(load(str(ORDERS[name])))


@cache
def contradictions_under_any(seed: int) -> dict[str, str]:
    """Those of a random order."""
    return contradictions(random_order(seed)[0])


def contradictions(order: TeachingOrder) -> dict[str, str]:
    """Forms that are readable before their base and their ending, or not from then on; with what was found."""
    found = {}
    for options in pairs(lexicon_of(order.accent)):
        wrong = [said for pair in options if (said := _contradiction(order, pair))]
        if len(wrong) == len(options):
            found[options[0].form] = wrong[0]
    return found


def _contradiction(order: TeachingOrder, pair: Pair) -> str:
    base, form, ending = _step(order, pair.base_readings), _step(order, pair.form_readings), _ending_step(order, pair)
    least = max(ending, _syllables_step(order, pair))
    digraph = _digraph_step(order, pair)
    # tried waits for the ie of pie where a progression has it, and then needs no y
    agrees = max(least, digraph) <= form <= max(least, digraph, base) if digraph else form == max(least, base)
    return "" if agrees else f"{pair.base} from {base}, {pair.ending} from {ending}: {pair.form} from {form}"


def _syllables_step(order: TeachingOrder, pair: Pair) -> int:
    """An ending may add a syllable, and a progression may hold longer words back."""
    return min(
        max(order.step_of(item) for item in r.units[0].alternatives[0] if item.kind == SYLLABLES)
        for r in pair.form_readings
    )


def _digraph_step(order: TeachingOrder, pair: Pair) -> int:
    """From which step tried and goes are read by the ie of pie and the oe of toe; 0 where they have none, or nothing names it."""
    for grapheme, sound in (("ie", "PRICE"), ("oe", "GOAT")):
        written = any(s.grapheme == grapheme and s.sound == (sound,) for s in pair.form_readings[0].segments)
        if written and not pair.base.endswith("e") and pair.base_readings[0].segments[-1].sound == (sound,):
            return order.item_step.get(Item.gpc(grapheme, (sound,), "e"), 0)
    return 0


EXCEPTIONS = {
    "alleged": "as an adjective it has a reading of its own, with /ɪd/",
    "haranguing": "the u of -ngu- before -ing is no grapheme of the inventory; harangue has ngue",
    "tonguing": "as haranguing",
    "moored": "the commoner base is the name Moore; moor goes with it",
    "mongering": "monger is listed as a name in American sources",
    "outdoes": "listed, with the vowel of does, which outdo has not",
    "warehouses": "the verb has /z/ and the noun's plural, too; warehouse as a verb is rare",
    "ubers": "uber is listed as a name in American sources",
    "legged": "as an adjective it has a reading of its own, with /ɪd/",
}
"""Forms that do not go with their base, and why."""


@pytest.mark.parametrize("name", ORDERS)
def test_a_form_is_readable_exactly_when_its_base_and_its_ending_are(name: str) -> None:
    found = contradictions_of(name)
    assert {word: what for word, what in found.items() if word not in EXCEPTIONS} == {}


@pytest.mark.parametrize("seed", range(24))
def test_so_it_is_under_any_progression(seed: int) -> None:
    found = contradictions_under_any(seed)
    assert {word: what for word, what in found.items() if word not in EXCEPTIONS} == {}, random_order(seed)[1]


def test_there_are_many_pairs() -> None:
    # counted once: about 37,600 British and 37,500 American pairs
    assert all(len(pairs(name)) > 35_000 for name in ("british", "american"))


def test_every_exception_is_one() -> None:
    found = {form for name in ORDERS for form in contradictions_of(name)}
    found |= {form for seed in range(24) for form in contradictions_under_any(seed)}
    assert EXCEPTIONS.keys() - found == set()
