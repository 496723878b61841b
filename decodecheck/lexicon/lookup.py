"""Find the readings of a word as it stands in a text: pinned, listed, derived; whatever its case, apostrophes, stretching."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from itertools import product
from typing import TYPE_CHECKING

from decodecheck.lexicon.derive import Deriver
from decodecheck.lexicon.endings import splits
from decodecheck.lexicon.forms import UNSEEN
from decodecheck.lexicon.store import Lexicon, Reading
from decodecheck.lexicon.store import lexicon as open_lexicon
from decodecheck.phonics.align import Segment
from decodecheck.phonics.sounds import lexicon_of
from decodecheck.resources import compiled_folder

if TYPE_CHECKING:
    from decodecheck.lexicon.predict import Model

_LIGATURES = {"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "ﬅ": "st", "ﬆ": "st", "æ": "ae", "œ": "oe"}
_UNSEEN = re.compile(f"[{UNSEEN}]")
_SAME = {"’": "'", "‘": "'", "\u2010": "-", "\u2011": "-"}
STRETCHED = re.compile(r"(.)\1{2,}")
LONGEST = 200
"""Letters; what is longer is no word."""
MOST_RUNS = 4
"""So many stretched letters of a word are tried both ways."""


@dataclass(frozen=True, slots=True)
class Spelling:
    """A form brought to plain lower-case letters; `origin[i]` is the position in the form of plain letter i."""

    plain: str
    origin: tuple[int, ...]


def plain_spelling(form: str) -> Spelling:
    """Straight apostrophes and hyphens, no soft hyphens, accents or ligatures, lower case, with the way back."""
    if form.isascii():
        return Spelling(form.lower(), tuple(range(len(form))))
    letters: list[str] = []
    origin: list[int] = []
    for i, character in enumerate(form):
        if _UNSEEN.match(character):
            continue
        text = _SAME.get(character) or _LIGATURES.get(character.lower())
        if text is None:
            decomposed = unicodedata.normalize("NFD", character.lower())
            text = "".join(c for c in decomposed if not unicodedata.combining(c))
        letters.append(text)
        origin += [i] * len(text)
    return Spelling("".join(letters), tuple(origin))


@dataclass(frozen=True, slots=True)
class Found:
    """The readings of a plain word, and the word under which they were found (*so* for *sooooo*)."""

    word: str
    readings: tuple[Reading, ...]
    origin: tuple[int, ...]


class Lookup:
    """Looks words up in the lexicon of an accent, pinned readings first."""

    def __init__(self, accent: str, pinned: Mapping[str, Reading] | None = None) -> None:
        self.accent = accent
        self.lexicon: Lexicon = open_lexicon(lexicon_of(accent))
        self.pinned = pinned or {}
        self.deriver = Deriver(self.lexicon, self.pinned) if self.pinned else _deriver(self.lexicon.name)

    def knows(self, word: str) -> bool:
        """Whether a plain lower-case word has readings."""
        return word in self.pinned or self.lexicon.has(word) or bool(self.readings(word))

    def readings(self, word: str) -> tuple[Reading, ...]:
        """Readings of a plain lower-case word; none where it is unknown."""
        if word in self.pinned:
            return (self.pinned[word],)
        if self.pinned and any(split.base in self.pinned for split in splits(word)):
            found = self.deriver.readings(word)
            if found and found[0].origin == "yours":
                return found
        listed = self.lexicon.readings(word)
        if listed:
            return tuple(listed)
        if word.startswith("'") or word.endswith("'"):
            return self._clipped(word)
        return self.deriver.readings(word) if len(word) <= LONGEST else ()

    def find(self, spelling: Spelling) -> Found:
        """Readings of a form: as it stands, else with stretched letters shortened to the commonest word (so for sooooo)."""
        found = self.readings(spelling.plain)
        if found or not STRETCHED.search(spelling.plain) or len(spelling.plain) > LONGEST:
            return Found(spelling.plain, found, spelling.origin)
        best: tuple[float, str, list[int]] | None = None
        for kept in _shortened(spelling.plain):
            word = "".join(spelling.plain[i] for i in kept)
            if self.readings(word) and (best is None or self.deriver.rank(word) > best[0]):
                best = (self.deriver.rank(word), word, kept)
        if best:
            return Found(best[1], self.readings(best[1]), tuple(spelling.origin[i] for i in best[2]))
        return Found(spelling.plain, (), spelling.origin)

    def joined(self, spelling: Spelling) -> Found:
        """The reading of a hyphenated word that is not listed (one-eyed), from the usual readings of its parts."""
        parts = [(m.start(), m[0]) for m in re.finditer("[^-]+", spelling.plain)]
        readings = [(start, self.find(Spelling(part, tuple(range(len(part)))))) for start, part in parts]
        if len(parts) < 2 or any(
            not found.readings or found.word != part for (_, part), (_, found) in zip(parts, readings)
        ):
            return Found(spelling.plain, (), spelling.origin)
        hyphens = [Segment("-", (), False, False, (m.start(),), True) for m in re.finditer("-", spelling.plain)]
        segments = [
            replace(s, letters=tuple(i + start for i in s.letters))
            for start, f in readings
            for s in f.readings[0].segments
        ]
        units = tuple(unit for _, f in readings for unit in f.readings[0].units)
        whole = tuple(sorted((*segments, *hyphens), key=lambda s: s.letters[0]))
        return Found(spelling.plain, (Reading(whole, units, "derived"),), spelling.origin)

    def predicted(self, spelling: Spelling) -> Found:
        """The likeliest reading of an unknown word from its spelling alone; none where its letters allow none."""
        # loading the model takes a tenth of a second, and most texts need it for no word
        from decodecheck.lexicon.predict import predicted_reading

        reading = predicted_reading(_model(self.lexicon.name), spelling.plain, self.lexicon.name)
        return Found(spelling.plain, (reading,) if reading else (), spelling.origin)

    def _clipped(self, word: str) -> tuple[Reading, ...]:
        """dogs' is read as dogs, goin' as going that ends in n; others are not known unless listed."""
        if word.endswith("s'"):
            base = self.readings(word[:-1])
            return tuple(replace(r, origin="derived" if r.origin == "listed" else r.origin) for r in base)
        if word.endswith("in'"):
            return self.deriver.without_g(word[:-1])
        return ()


@cache
def _deriver(name: str) -> Deriver:
    """Derives from a lexicon alone; what it has derived holds for everybody."""
    return Deriver(open_lexicon(name), {})


@cache
def _model(name: str) -> Model:
    from decodecheck.lexicon.predict import load

    return load(compiled_folder() / f"{name}.ngrams")


def _shortened(word: str) -> Iterator[list[int]]:
    """Positions of the letters of a word in which each run of three or more is cut to two or to one, in every combination."""
    runs = [(m.start(), m.end()) for m in STRETCHED.finditer(word)]
    for cuts in product((2, 1), repeat=min(len(runs), MOST_RUNS)):
        kept: list[int] = []
        at = 0
        for (start, end), keep in zip(runs, (*cuts, *[1] * (len(runs) - len(cuts)))):
            kept += range(at, start + keep)
            at = end
        yield [*kept, *range(at, len(word))]
