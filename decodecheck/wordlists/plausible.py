"""Which readings of an invented word have to be accepted.

The scoring guidance of the phonics screening check in England asks that every plausible pronunciation of the graphemes of a
pseudo-word be accepted (Standards and Testing Agency, scoring guidance, June 2013 and 2014; in our words). What is plausible is
counted over the words of the lexicon.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from decodecheck.lexicon.beside import Spelling, contexts, vowel
from decodecheck.lexicon.units import SHORT
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import Sound, lexicon_of, project
from decodecheck.wordlists.measured import measured
from decodecheck.wordlists.spoken import Sounds

EVERYDAY = 15
"""What an everyday correspondence costs at most in the inventory; rarer ones (the ai of Thai) are not expected of a child."""
WEAK_SOUNDS: tuple[Sound, ...] = (("SCHWA",), ("KIT",))
"""What a single vowel letter of an unstressed syllable may be weakened to."""


def sounds_for(graphemes: Sequence[Spelling], at: int, accent: str) -> list[Sound]:
    """The sounds that are plausible for one grapheme of an invented word, its own first; one for each that the accent tells apart."""
    grapheme, own = graphemes[at]
    everyday = [c.sound for c in inventory().by_grapheme[grapheme] if c.cost <= EVERYDAY and c.vowel == vowel(own)]
    if {project(grapheme, sound, False, accent) for sound in everyday} <= {project(grapheme, own, False, accent)}:
        return [own]  # nothing to choose from, as for most consonants
    counts = measured(lexicon_of(accent), 2)
    syllables = _syllables(graphemes)
    found = [sound for context in contexts(graphemes, at) for _, sound in counts.plausible(context, syllables)]
    told: dict[tuple[str, ...], Sound] = {}
    for sound in (own, *(sound for sound in found if sound in everyday)):
        told.setdefault(project(grapheme, sound, False, accent), sound)
    return list(told.values())


def _syllables(graphemes: Sequence[Spelling]) -> int:
    return sum(vowel(sound) for _, sound in graphemes)


def readings(graphemes: Sequence[Spelling], accent: str) -> list[tuple[Spelling, ...]]:
    """Every reading of an invented word that has to be accepted, its own first, each once by what it says in the accent."""
    choices = [[(g, s) for s in sounds_for(graphemes, i, accent)] for i, (g, _) in enumerate(graphemes)]
    told: dict[Sounds, tuple[Spelling, ...]] = {}
    for reading in product(*choices):
        told.setdefault(said(reading, accent), reading)
    return list(told.values())


def weakened(graphemes: Sequence[Spelling]) -> Iterator[tuple[Spelling, ...]]:
    """What a word of several syllables may also be heard as: each single vowel letter but one as it is in unstressed syllables."""
    vowels = [i for i, (_, sound) in enumerate(graphemes) if vowel(sound)]
    if len(vowels) < 2:
        return
    for i in vowels:
        if graphemes[i][0] in SHORT:
            for sound in WEAK_SOUNDS:
                yield (*graphemes[:i], (graphemes[i][0], sound), *graphemes[i + 1 :])


def said(graphemes: Sequence[Spelling], accent: str) -> Sounds:
    """What graphemes say in an accent."""
    return tuple(s for grapheme, sound in graphemes for s in project(grapheme, sound, False, accent))
