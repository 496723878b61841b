"""Sounds, correspondences and stress for the second opinion, read straight from the data files."""

from __future__ import annotations

from collections import defaultdict
from functools import cache

from decodecheck.phonics.sounds import AMERICAN, lexicon_of
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

Ipa = tuple[str, ...]
Key = tuple[str, Ipa]
"""A correspondence in one accent: a grapheme and the IPA of each of its sounds."""

SHORT = {"a": "TRAP", "e": "DRESS", "i": "KIT", "o": "LOT", "u": "STRUT", "y": "KIT"}
VOWEL_SIGNS = frozenset("aeiouæɑɒɔəɛɜɪʊʌʉ")


@cache
def _codes(accent: str) -> dict[str, str]:
    return {row["code"]: row[accent].replace(" ", "") for row in read_table(rules_folder() / "sounds.tsv")}


@cache
def _by_spelling() -> dict[tuple[str, str, str], str]:
    rows = read_table(rules_folder() / "accent_spellings.tsv")
    return {(r["accent"], r["grapheme"], r["sound"]): r["ipa"].replace(" ", "") for r in rows}


def ipa(grapheme: str, sound: str, accent: str) -> Ipa:
    """What a row of the inventory (`KIT+z`, `-` for silence) says in an accent."""
    if sound in ("-", ""):
        return ()
    return tuple(_by_spelling().get((accent, grapheme, c)) or _codes(accent)[c] for c in sound.split("+"))


def key(written: str, accent: str) -> Key:
    """A correspondence as the data files write it: `a-e|FACE`."""
    grapheme, _, sound = written.partition("|")
    return grapheme, ipa(grapheme, sound, accent)


@cache
def short(letter: str, accent: str) -> Ipa:
    """The short sound of a vowel letter."""
    return (_codes(accent)[SHORT[letter]],)


@cache
def rows(accent: str) -> dict[str, list[tuple[Ipa, str, str]]]:
    """The inventory by grapheme: sounds in the accent, key word, what a bare mention means."""
    found: dict[str, list[tuple[Ipa, str, str]]] = defaultdict(list)
    for r in read_table(rules_folder() / "inventory.tsv"):
        found[r["grapheme"]].append((ipa(r["grapheme"], r["sound"], accent), r["key_word"], r["bare"]))
    return dict(found)


@cache
def also(accent: str) -> list[tuple[tuple[Key, ...], tuple[Key, ...]]]:
    """Other accepted divisions: what stands there, and what may stand instead."""
    pairs = []
    for r in read_table(rules_folder() / "also_accepted.tsv"):
        one, other = (tuple(key(k, accent) for k in r[c].split(" ")) for c in ("segmentation", "also"))
        pairs.append((one, other))
    return pairs


@cache
def combinations(accent: str) -> dict[str, list[tuple[tuple[Key, ...], str]]]:
    """Combinations taught as one item, by name: each sequence with its key word."""
    found: dict[str, list[tuple[tuple[Key, ...], str]]] = defaultdict(list)
    for r in read_table(rules_folder() / "together.tsv"):
        found[r["name"]].append((tuple(key(k, accent) for k in r["correspondences"].split(" ")), r["key_word"]))
    return dict(found)


def vowel(sound: str) -> bool:
    """Does this piece of IPA hold a vowel?"""
    return any(c in VOWEL_SIGNS for c in sound)


@cache
def _stresses(american: bool) -> dict[str, list[tuple[str, tuple[bool, ...]]]]:
    """For every word its sounds and the stress of each vowel, reading by reading, from the pronunciations."""
    found: dict[str, list[tuple[str, tuple[bool, ...]]]] = defaultdict(list)

    def put(word: str, pronunciation: str) -> None:
        for one in pronunciation.split(" | "):
            tokens = [t for t in one.split(" ") if vowel(t)]
            said = one.replace("ˈ", "").replace("ˌ", "").replace(" ", "")
            found[word].append((said, tuple(t[0] in "ˈˌ" for t in tokens)))

    folder, column = rules_folder(), "american" if american else "british"
    for name in ("corrections", "senses", "variants", "words", "names"):
        for r in read_table(folder / "supplement" / f"{name}.tsv"):
            if r[column]:
                put(r["word"], r[column])
    for r in read_table(folder / "pronunciations" / f"{column}.tsv"):
        put(r["word"], r["pronunciation"])
    return dict(found)


def stressed(word: str, said: str, vowels: int, accent: str) -> tuple[bool, ...] | None:
    """Which vowels of a reading carry a stress; None where no listed pronunciation has so many vowels."""
    listed = _stresses(lexicon_of(accent) == AMERICAN).get(word, [])
    close = [stress for sounds, stress in listed if len(stress) == vowels and sounds == said]
    return next(iter(close + [stress for _, stress in listed if len(stress) == vowels]), None)
