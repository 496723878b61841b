"""Readings of a word that the lexicon does not list, from words that it does: endings and closed compounds."""

from __future__ import annotations

from functools import lru_cache

from decodecheck.lexicon.analysis import analyse, compound, not_endings
from decodecheck.lexicon.endings import attach, splits
from decodecheck.lexicon.store import Lexicon, Reading
from decodecheck.lexicon.units import build_units
from decodecheck.phonics.sounds import is_vowel, reference_accent, tokens

COMMON_ZIPF = 260
"""Hundredths on the Zipf scale: a rarer word is no base and no half of a compound."""
HALF_ZIPF = 320
"""Both halves of a compound that no dictionary lists must be as common as this."""


def said(reading: Reading, lexicon: str) -> str:
    """A reading as tokens with stress marks, as the pronunciation files write it; a weak vowel is one that may be excused."""
    accent = reference_accent(lexicon)
    out: list[str] = []
    segments = iter(reading.segments)
    for unit in reading.units:
        weak = any("weak" in alternative for alternative in unit.alternatives)
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
        self._deriver = deriver

    def common(self, word: str) -> bool:
        """Is the word the base, or a common one?"""
        return word == self.base or self._deriver.common(word)

    def is_name(self, word: str) -> bool:
        """Is the word only a name, and not the base?"""
        return word != self.base and self._deriver.is_name(word)


class Deriver:
    """Derives readings from one lexicon; remembers what it has been asked."""

    def __init__(self, lexicon: Lexicon) -> None:
        self.lexicon = lexicon
        self._remembered = lru_cache(maxsize=4096)(self._known)
        self.readings = lru_cache(maxsize=65536)(self._readings)

    def common(self, word: str) -> bool:
        """Is the word in the lexicon and common enough to be a base?"""
        number = self.lexicon.tables.number(word)
        return number >= 0 and int(self.lexicon.tables.zipf[number]) >= COMMON_ZIPF and len(word) > 1

    def known(self, word: str) -> tuple[str, ...]:
        """Pronunciations of a listed word in its everyday senses, as tokens."""
        return self._remembered(word)

    def is_name(self, word: str) -> bool:
        """Is the word only a name?"""
        number = self.lexicon.tables.number(word)
        return number >= 0 and bool(self.lexicon.tables.is_name[number])

    def _known(self, word: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(said(r, self.lexicon.name) for r in self.lexicon.readings(word) if not r.rare))

    def _readings(self, word: str) -> tuple[Reading, ...]:
        """Derived readings of a lower-case word, none where nothing fits."""
        name = self.lexicon.name
        for split in splits(word):
            if (word, split.ending) in not_endings() or len(split.base) < 2:
                continue
            found = []
            for base in self.known(split.base):
                for built, _ in attach(split.base, base, split.ending, name)[:1]:
                    analysis = analyse(word, built, name, _With(self, split.base))
                    if analysis and analysis.endings:
                        found.append(Reading(analysis.segments, build_units(analysis), "derived"))
            if found:
                return tuple(found)
        return self._compound(word)

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
        if not 5 <= len(word) <= 24:
            return ()
        name = self.lexicon.name
        best: tuple[int, str, str] | None = None
        for at in range(3, len(word) - 2):
            left, right = word[:at], word[at:]
            rank = min(self._zipf(left), self._zipf(right))
            if rank >= HALF_ZIPF and (best is None or rank > best[0]):
                best = (rank, left, right)
        if not best:
            return ()
        found = []
        for one in self.known(best[1])[:1]:
            for other in self.known(best[2])[:1]:
                pronunciation = f"{one} {other}"
                if compound(word, pronunciation, self):
                    analysis = analyse(word, pronunciation, name, self)
                    if analysis:
                        found.append(Reading(analysis.segments, build_units(analysis), "derived"))
        return tuple(found)

    def _zipf(self, word: str) -> int:
        number = self.lexicon.tables.number(word)
        if number < 0 or self.lexicon.tables.is_name[number]:
            return 0
        return int(self.lexicon.tables.zipf[number])
