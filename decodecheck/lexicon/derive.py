"""Readings of a word that the lexicon does not list, from words that it does or that are pinned: endings, compounds, un- and -ful."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache

from decodecheck.lexicon.analysis import Analysis, EndingSpan, Part, analyse, not_endings
from decodecheck.lexicon.compounds import compound, prefixes, suffixes
from decodecheck.lexicon.endings import Split, attach, splits
from decodecheck.lexicon.items import WEAKENED
from decodecheck.lexicon.pinned_forms import inflected
from decodecheck.lexicon.store import Lexicon, Reading, WordPart
from decodecheck.lexicon.units import Unit, build_units
from decodecheck.phonics.align import align
from decodecheck.phonics.sounds import is_vowel, reference_accent, split_stress, tokens

COMMON_ZIPF = 260
"""Hundredths on the Zipf scale: a rarer word is no base and no half of a compound."""
HALF_ZIPF = 320
"""Both halves of a compound that no dictionary lists must be as common as this."""
_CONSONANTS = ("'s", "-s", "-es", "-ly")
_AFTER = (*_CONSONANTS, "-ing", "-ed", "-er", "-est", "-y")
"""Endings that leave a base as it is, unless it ends in a sound that is heard only before a vowel (those of `_CONSONANTS` begin with
none, or with one that a hissing sound comes before)."""
LONGEST = 24
"""A longer word is no unlisted compound; looking for one in a text without a space would take minutes."""


def said(reading: Reading, lexicon: str) -> str:
    """A reading as tokens with stress marks, as the pronunciation files write it; a weak vowel is one that may be excused."""
    accent = reference_accent(lexicon)
    out: list[str] = []
    segments = iter(reading.segments)
    for unit in reading.units:
        weak = any(WEAKENED in alternative for alternative in unit.alternatives)
        for _ in unit.forms:
            segment = next(segments)
            written = list(tokens(segment.sound, segment.linked, accent))
            if written and not weak and segment.sound and any(map(is_vowel, segment.sound)):
                first = sum(len(tokens((code,), False, accent)) for code in _before_vowel(segment.sound))
                written[first] = "ˈ" + written[first]
            out += written
    return " ".join(out)


def _before_vowel(sound: tuple[str, ...]) -> tuple[str, ...]:
    return sound[: next(i for i, code in enumerate(sound) if is_vowel(code))]


class _With:
    """The words of a deriver, with one more that may be a base however rare it is."""

    def __init__(self, deriver: Deriver, base: str) -> None:
        self.base = base
        self.known = deriver.known
        self.rank = deriver.rank
        self.listed = deriver.listed
        self._deriver = deriver

    def common(self, word: str) -> bool:
        """Is the word the base, or a common one?"""
        return word == self.base or self._deriver.common(word)

    def is_name(self, word: str) -> bool:
        """Is the word only a name, and not the base?"""
        return word != self.base and self._deriver.is_name(word)


class Deriver:
    """Derives readings from one lexicon and from pinned readings; remembers what it has been asked."""

    def __init__(self, lexicon: Lexicon, pinned: Mapping[str, Reading]) -> None:
        self.lexicon = lexicon
        self.pinned = pinned
        self._remembered = lru_cache(maxsize=4096)(self._known)
        self.readings = lru_cache(maxsize=65536)(self._readings)

    def common(self, word: str) -> bool:
        """Is the word in the lexicon and common enough to be a base?"""
        number = self.lexicon.tables.number(word)
        return number >= 0 and int(self.lexicon.tables.zipf[number]) >= COMMON_ZIPF and len(word) > 1

    def known(self, word: str) -> tuple[str, ...]:
        """Pronunciations of a listed or pinned word in its everyday senses, as tokens."""
        return tuple(self._remembered(word))

    def is_name(self, word: str) -> bool:
        """Is the word only a name?"""
        number = self.lexicon.tables.number(word)
        return number >= 0 and bool(self.lexicon.tables.is_name[number])

    def listed(self, word: str) -> bool:
        """Is the word in the lexicon, or pinned?"""
        return word in self.pinned or self.lexicon.has(word)

    def rank(self, word: str) -> float:
        """How common the word is; of a word that is not listed, nothing is known."""
        number = self.lexicon.tables.number(word)
        return int(self.lexicon.tables.zipf[number]) / 100 if number >= 0 else 0.0

    def _known(self, word: str) -> dict[str, Reading]:
        """Everyday readings of a word by pronunciation; of an unlisted one (uncoil), those of its parts."""
        if word in self.pinned:
            return {said(self.pinned[word], self.lexicon.name): self.pinned[word]}
        listed = [r for r in self.lexicon.readings(word) if not r.rare]
        found: dict[str, Reading] = {}
        for reading in listed or self._compound(word):
            found.setdefault(said(reading, self.lexicon.name), reading)
        return found

    def _readings(self, word: str) -> tuple[Reading, ...]:
        """Derived readings of a lower-case word, none where nothing fits."""
        name = self.lexicon.name
        for split in splits(word):
            if (word, split.ending) in not_endings() or len(split.base) < 2:
                continue
            if split.base in self.pinned:
                own = inflected(self.pinned[split.base], split, word, name)
                if own:
                    return (own,)
            known = self._on_base(word, split)
            if known:
                return known
            found = []
            for base in self.known(split.base):
                for built, _ in attach(split.base, base, split.ending, name)[:1]:
                    analysis = analyse(word, built, name, _With(self, split.base))
                    if analysis and analysis.ending:
                        found.append(self._reading(analysis))
            if found:
                return tuple(found)
        return self._compound(word)

    def _on_base(self, word: str, split: Split) -> tuple[Reading, ...]:
        """Readings of a word whose listed base is spelt and said in it as by itself: those of the base with the ending after it.

        Empty where the ending changes the base, or where another base may be meant: then the whole word has to be analysed.
        """
        if split.change or split.start != len(split.base) or split.ending not in _AFTER:
            return ()
        if not self.lexicon.has(split.base):
            return ()
        bases = self._remembered(split.base)
        if any(other.base != split.base and self.known(other.base) for other in splits(word)):
            return ()
        found = []
        for pronunciation, base in bases.items():
            built, count = attach(split.base, pronunciation, split.ending, self.lexicon.name)[0]
            sounds = split_stress(built)[0]
            linking = base.segments[-1].grapheme.endswith(("r", "re")) and split.ending not in _CONSONANTS
            if linking or not count or len(word) - split.start < count:
                return ()
            tail = sounds[len(sounds) - count :]
            ending = align(word[split.start :], tail, [False] * count, self.lexicon.name, endings=frozenset((0, 1)))
            if ending is None or ending.irregular:
                return ()
            moved = [replace(s, letters=tuple(i + split.start for i in s.letters)) for s in ending.segments]
            segments = (*base.segments, *moved)
            span = EndingSpan(split.ending, len(base.segments), len(segments) - 1)
            part = Part(split.base, pronunciation, 0, len(base.segments) - 1)
            found.append(self._reading(Analysis(segments, 0, span, (part,), frozenset((split.start,)))))
        return tuple(found)

    def _reading(self, analysis: Analysis) -> Reading:
        """A reading from an analysis, with the units of its parts as they are by themselves."""
        units = build_units(analysis, self._units_of)
        at = [n for n, unit in enumerate(units) for _ in unit.forms]
        parts = tuple(
            WordPart(part.word, self._part(part), at[part.first], at[part.last])
            for part in analysis.parts
            if part.last >= part.first and part.pronunciation in self._remembered(part.word)
        )
        return Reading(analysis.segments, units, "derived", parts=parts)

    def _part(self, part: Part) -> Reading:
        return self._remembered(part.word)[part.pronunciation]

    def _units_of(self, part: Part) -> tuple[Unit, ...] | None:
        found = self._remembered(part.word).get(part.pronunciation)
        return found.units if found else None

    def without_g(self, word: str) -> tuple[Reading, ...]:
        """Readings of a word in -in that stands for one in -ing (goin')."""
        found = []
        for pronunciation in self.known(f"{word}g"):
            if pronunciation.endswith("ɪ ŋ"):
                said_so = f"{pronunciation.removesuffix('ŋ')}n"
                analysis = analyse(word, said_so, self.lexicon.name, self, depth=0)
                if analysis:
                    found.append(Reading(analysis.segments, build_units(analysis), "derived"))
        return tuple(found)

    def _compound(self, word: str) -> tuple[Reading, ...]:
        """Readings of a closed compound of common words, or of a known word after un- and the like or before -ful and the like."""
        if not 4 <= len(word) <= LONGEST or "-" in word:
            return ()
        for pronunciation in self._put_together(word):
            if compound(word, pronunciation, self):
                analysis = analyse(word, pronunciation, self.lexicon.name, self)
                if analysis and analysis.parts:
                    return (self._reading(analysis),)
        return ()

    def _put_together(self, word: str) -> Iterator[str]:
        best: tuple[int, str, str] | None = None
        for at in range(2, len(word) - 1):
            left, right = word[:at], word[at:]
            if left in prefixes() and self.common(right):
                yield from (f"{one} {other}" for one in prefixes()[left] for other in self._listed(right))
            if right in suffixes() and self.common(left):
                yield from (f"{one} {other}" for one in self._listed(left) for other in suffixes()[right])
            rank = min(self._zipf(left), self._zipf(right)) if len(left) > 2 < len(right) else 0
            if rank >= HALF_ZIPF and (best is None or rank > best[0]):
                best = (rank, left, right)
        if best:
            yield from (f"{one} {other}" for one in self._listed(best[1])[:1] for other in self._listed(best[2])[:1])

    def _listed(self, word: str) -> list[str]:
        return [said(r, self.lexicon.name) for r in self.lexicon.readings(word) if not r.rare]

    def _zipf(self, word: str) -> int:
        number = self.lexicon.tables.number(word)
        if number < 0 or self.lexicon.tables.is_name[number]:
            return 0
        return int(self.lexicon.tables.zipf[number])
