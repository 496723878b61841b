"""Segment every word of both lexicons, with all variants of its parts, and build the units of each reading."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from decodecheck.lexicon.analysis import Analysis, Part, analyse
from decodecheck.lexicon.compiling.overrides import overridden, read_overrides
from decodecheck.lexicon.compiling.vocabulary import OVERRIDE, Sense, Vocabulary, read_vocabularies
from decodecheck.lexicon.endings import attach, unstressed
from decodecheck.lexicon.units import Unit, build_units
from decodecheck.phonics.align import Segment, harmonise
from decodecheck.phonics.sounds import AMERICAN, BRITISH
from decodecheck.tables import read_table

MOST_READINGS = 8
"""So many pronunciations of one sense are kept; more would only be combinations of variants."""


@dataclass(frozen=True, slots=True)
class Said:
    """One pronunciation of a word and its analysis."""

    pronunciation: str
    analysis: Analysis


@dataclass(frozen=True, slots=True)
class WordSense:
    """One sense of a word: label, parts of speech (with RARE among them), where it is from, its readings."""

    label: str
    pos: str
    origin: str
    readings: tuple[Said, ...]


Senses = list[WordSense]
Analysed = dict[str, Senses]


def analyse_lexicons(rules: Path) -> dict[str, Analysed]:
    """Segment every word of both lexicons. American words are guided by the British segmentation, and each lexicon's sounds
    are told apart by the other's (see `harmonise`)."""
    vocabularies = read_vocabularies(rules)
    overrides = read_overrides(rules)
    british = _analyse(vocabularies[BRITISH], overrides[BRITISH], {})
    american = _analyse(vocabularies[AMERICAN], overrides[AMERICAN], british)
    first = _harmonised(british, BRITISH, american, AMERICAN)
    second = _harmonised(american, AMERICAN, british, BRITISH)
    return {
        name: dict(sorted(_told_apart(words, rules).items())) for name, words in ((BRITISH, first), (AMERICAN, second))
    }


def _analyse(vocabulary: Vocabulary, overrides: dict[str, list[tuple[Segment, ...]]], guides: Analysed) -> Analysed:
    result: Analysed = {}
    # bases before their forms, so that a form has all variants of its base
    for word, senses in sorted(vocabulary.senses.items(), key=lambda item: len(item[0])):
        guide: frozenset[tuple[int, int]] = frozenset()
        if word in guides:
            spans = guides[word][0].readings[0].analysis.segments
            guide = frozenset((s.letters[0], s.letters[-1] + 1) for s in spans)
        done: Senses = []
        for sense in senses:
            found = _readings(word, sense, vocabulary, guide)
            if word in overrides:
                first = found[0] if found else Said(sense.pronunciations[0], Analysis((), 0))
                own = [overridden(first.analysis if found else None, segments) for segments in overrides[word]]
                done = [WordSense("", "", OVERRIDE, tuple(replace(first, analysis=a) for a in own))]
                break
            if found:
                done.append(WordSense(sense.label, sense.pos + ",RARE" * sense.rare, sense.origin, tuple(found)))
        if done:
            result[word] = done
    return result


def _readings(word: str, sense: Sense, vocabulary: Vocabulary, guide: frozenset[tuple[int, int]]) -> list[Said]:
    """The readings of one sense: those that are listed, and those that follow from variants of its parts."""
    found: list[Said] = []
    heard: set[str] = set()
    for pronunciation in sense.pronunciations:
        analysis = analyse(word, pronunciation, vocabulary.lexicon, vocabulary, guide)
        if analysis:
            found.append(Said(pronunciation, analysis))
            heard.add(unstressed(pronunciation))
    for said in list(found):
        for variant in _variants(word, said, vocabulary):
            if unstressed(variant) in heard or len(found) >= MOST_READINGS:
                continue
            heard.add(unstressed(variant))
            analysis = analyse(word, variant, vocabulary.lexicon, vocabulary, guide)
            if analysis and analysis.parts:
                found.append(Said(variant, analysis))
                sense.pronunciations.append(variant)
    return _alike(found)


def _variants(word: str, said: Said, vocabulary: Vocabulary) -> Iterator[str]:
    """Pronunciations of a word with another variant of one of its parts (again, often): readable by one, readable by all."""
    for part in said.analysis.parts:
        for other in _same_sense(part, vocabulary):
            if said.analysis.ending:
                yield attach(part.word, other, said.analysis.ending.ending, vocabulary.lexicon)[0][0]
                continue
            tokens, own = said.pronunciation.split(" "), part.pronunciation.split(" ")
            if part.first == 0:
                yield " ".join([other, *tokens[len(own) :]])
            else:
                yield " ".join([*tokens[: -len(own)], other])


def _same_sense(part: Part, vocabulary: Vocabulary) -> list[str]:
    for sense in vocabulary.senses.get(part.word, ()):
        if part.pronunciation in sense.pronunciations:
            return [p for p in sense.pronunciations if p != part.pronunciation]
    return []


def _alike(readings: list[Said]) -> list[Said]:
    """Readings of one sense fall into the same parts, where their letters do: greasy with /z/ is grease and -y as well."""
    model = next((r.analysis for r in readings if r.analysis.parts), None)
    if model is None:
        return readings
    letters = [s.letters for s in model.segments]
    return [
        replace(r, analysis=replace(r.analysis, ending=model.ending, parts=model.parts, joins=model.joins))
        if not r.analysis.parts and [s.letters for s in r.analysis.segments] == letters
        else r
        for r in readings
    ]


def _harmonised(own: Analysed, lexicon: str, other: Analysed, other_lexicon: str) -> Analysed:
    result: Analysed = {}
    for word, senses in own.items():
        partner = other.get(word)
        if not partner:
            result[word] = senses
            continue
        done = []
        for k, sense in enumerate(senses):
            against = partner[min(k, len(partner) - 1)].readings[0].analysis.segments
            new = [
                replace(
                    r,
                    analysis=replace(
                        r.analysis, segments=harmonise(r.analysis.segments, lexicon, against, other_lexicon)
                    ),
                )
                for r in sense.readings
            ]
            done.append(replace(sense, readings=tuple(new)))
        result[word] = done
    return result


def _told_apart(words: Analysed, rules: Path) -> Analysed:
    """Put in the sounds that only one accent tells apart and no dictionary shows (`rules/told_apart.tsv`)."""
    for row in read_table(rules / "told_apart.tsv"):
        start = row["word"].removesuffix("*")
        sound = tuple(row["instead"].split("|")[1].split("+"))
        for word in [w for w in words if w == start or (w.startswith(start) and row["word"] != start)]:
            words[word] = [
                replace(sense, readings=tuple(_with_sound(r, row["correspondence"], sound) for r in sense.readings))
                for sense in words[word]
            ]
    return words


def _with_sound(said: Said, key: str, sound: tuple[str, ...]) -> Said:
    segments = tuple(replace(s, sound=sound) if s.key == key else s for s in said.analysis.segments)
    return replace(said, analysis=replace(said.analysis, segments=segments))


class Units:
    """The units of every reading of a lexicon; those of a part are those of the part as a word."""

    def __init__(self, analysed: Analysed) -> None:
        self._analyses = {
            (word, said.pronunciation): said.analysis
            for word, senses in analysed.items()
            for sense in senses
            for said in reversed(sense.readings)
        }
        # a word divided by hand has one division, whatever its pronunciation
        self._by_hand = {
            word: senses[0].readings[0].analysis for word, senses in analysed.items() if senses[0].origin == OVERRIDE
        }
        self._built: dict[tuple[str, str], tuple[Unit, ...]] = {}

    def of(self, word: str, pronunciation: str, analysis: Analysis) -> tuple[Unit, ...]:
        """The units of a reading."""
        key = (word, pronunciation)
        built = self._built.get(key)
        if built is None:
            built = build_units(analysis, self.of_part)
            if self._analyses.get(key) is analysis:
                self._built[key] = built
        return built

    def of_part(self, part: Part) -> tuple[Unit, ...] | None:
        """The units of a known word; None where it could not be analysed."""
        analysis = self._by_hand.get(part.word) or self._analyses.get((part.word, part.pronunciation))
        return None if analysis is None else self.of(part.word, part.pronunciation, analysis)
