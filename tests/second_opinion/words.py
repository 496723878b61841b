"""Words as `explain` divides them: segments with the place of each, readings by sense."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from decodecheck.reports.words import Explainer, document
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table
from tests.second_opinion.sounds import Ipa, Key, ipa, rows, stressed, vowel

PROJECTED = ("northern-english", "scottish")
"""Accents that are read from the dictionary of another,"""
REFERENCE = "southern-british"
"""which is this one."""
KNOWN = ("listed", "derived", "override")


@dataclass(frozen=True)
class Segment:
    """A grapheme with its sounds and its letters; `weak`: a single vowel letter that has lost its own sound."""

    key: Key
    letters: tuple[int, ...]
    weak: bool = False
    exchanged: bool = False
    """Does it stand in another accepted division than the usual one?"""

    @property
    def vowel(self) -> bool:
        """Does it hold a vowel?"""
        return any(map(vowel, self.key[1]))


@dataclass(frozen=True)
class Divided:
    """One reading of a word."""

    word: str
    sense: str
    segments: tuple[Segment, ...]
    rare: bool = False

    @property
    def graphemes(self) -> tuple[str, ...]:
        """The graphemes alone."""
        return tuple(s.key[0] for s in self.segments)

    @property
    def said(self) -> str:
        """All sounds in a row, without an r that only links."""
        return "".join(s for seg in self.segments for s in seg.key[1])


def plain(word: str) -> str:
    """Straight apostrophes, lower case."""
    return unicodedata.normalize("NFC", word).replace("\u2019", "'").lower()


@cache
def _explainer(accent: str) -> Explainer:
    return Explainer(accent, None)


@cache
def _rare() -> frozenset[tuple[str, str]]:
    """Senses that are meant only where the words around say so."""
    rows_ = read_table(rules_folder() / "supplement" / "senses.tsv")
    return frozenset((r["word"], r["sense"]) for r in rows_ if r["rare"] == "y")


def readings(accent: str, word: str, rare: bool = False) -> tuple[Divided, ...]:
    """The readings of a word that the lexicon knows, with its rare senses or without; none where it would only guess."""
    found = _readings(accent, word)
    return found if rare else tuple(r for r in found if not r.rare)


@cache
def _readings(accent: str, word: str) -> tuple[Divided, ...]:
    said = document(_explainer(accent).explain(word))
    if said["origin"] not in KNOWN:
        return ()
    found = []
    for r in said["readings"]:
        segments = tuple(
            Segment((g["grapheme"], _unlinked(accent, g["grapheme"], tuple(g["sounds"]))), tuple(g["letters"]))
            for g in _before_the_ending(r["graphemes"])
        )
        found.append(Divided(word, r["sense"] or "", segments, (word, r["sense"]) in _rare()))
    return tuple(replace(r, segments=_stressed(accent, r)) for r in found)


def _before_the_ending(graphemes: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The graphemes with the whole of -ed as one: `explain` gives the e of tire to its ire in tired, too."""
    found: list[dict[str, Any]] = []
    for g in graphemes:
        last = found[-1] if found else None
        if (
            last
            and g["grapheme"] == "d"
            and len(last["grapheme"]) > 2
            and last["grapheme"].endswith("e")
            and "-" not in last["grapheme"]
        ):
            *kept, e = last["letters"]
            found[-1] = {**last, "grapheme": last["grapheme"][:-1], "letters": kept}
            g = {**g, "grapheme": "ed", "letters": [e, *g["letters"]]}
        found.append(g)
    return found


def _unlinked(accent: str, grapheme: str, sounds: Ipa) -> Ipa:
    """Sounds without an r that a following vowel brings out."""
    known = {sound for sound, _, _ in rows(accent).get(grapheme, [])}
    if sounds not in known and sounds[-1:] == ("r",) and sounds[:-1] in known:
        return sounds[:-1]
    return sounds


def in_reference(accent: str, r: Divided) -> Divided | None:
    """The reading of the reference accent that is projected to a reading; the likeliest, where several are said alike."""
    alike = [o for o in readings(REFERENCE, r.word, True) if o.graphemes == r.graphemes and o.sense == r.sense]
    exact = [o for o in alike if projected(accent, o) == [s.key for s in r.segments]]
    return next(iter(exact + alike), None)


def projected(accent: str, r: Divided) -> list[Key]:
    """The correspondences of a reading of the reference accent as another accent has them, one choice for each."""
    keys = []
    for seg in r.segments:
        codes = [row["sound"] for row in _inventory() if row["grapheme"] == seg.key[0]]
        same = [c for c in codes if ipa(seg.key[0], c, REFERENCE) == seg.key[1]]
        keys.append((seg.key[0], ipa(seg.key[0], same[0], accent)) if same else seg.key)
    return keys


@cache
def _inventory() -> list[dict[str, str]]:
    return [dict(row) for row in read_table(rules_folder() / "inventory.tsv")]


WEAK_SOUNDS = (("ɪ",), ("ʊ",), ("i",))
SCHWA = ("ə",)


def _stressed(accent: str, r: Divided) -> tuple[Segment, ...]:
    """The segments, each weakened vowel marked: a schwa, a letter that is silent, or /ɪ/, /ʊ/, /i/ without a stress."""
    if accent in PROJECTED:
        other = in_reference(accent, r)
        if other:
            return tuple(replace(s, weak=o.weak) for s, o in zip(r.segments, other.segments, strict=True))
    halves = [[h for s in seg.key[1] if vowel(s) for h in ([s, s] if s in ("ɪə", "ʊə") else [s])] for seg in r.segments]
    marks = stressed(r.word, r.said, sum(map(len, halves)), accent)
    out, at = [], 0
    for seg, sounds in zip(r.segments, halves, strict=True):
        strong = any(marks[at : at + len(sounds)]) if marks else False
        letter = len(seg.key[0]) == 1 and seg.key[0] in "aeiouy"
        weak = seg.key[1] in ((), SCHWA) or (seg.key[1] in WEAK_SOUNDS and not strong)
        out.append(replace(seg, weak=letter and weak))
        at += len(sounds)
    return tuple(out)
