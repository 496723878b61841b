"""Which readings of an invented word have to be accepted.

The scoring guidance of the phonics screening check in England asks that every plausible pronunciation of the graphemes of a
pseudo-word be accepted (Standards and Testing Agency, scoring guidance, June 2013 and 2014; in our words). What is plausible is
counted over the words of the lexicon.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import product

from decodecheck.lexicon.units import SHORT
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import Sound, lexicon_of, project
from decodecheck.wordlists.measured import DISTINCT, Spelling, vowel, words_of
from decodecheck.wordlists.spoken import Sounds

SHARE, SHARE_HERE = 0.08, 0.2
"""A sound is plausible for a grapheme that has it in so large a part of its words; for a single letter, in so large a part of those
in which the same stands beside it."""
EVERYDAY = 15
"""What an everyday correspondence costs at most in the inventory; rarer ones (the ai of Thai) are not expected of a child."""
ROUNDING = ("w", "wh", "qu")
"""After these an a or o often has another sound (swan, word); after other consonants what follows decides."""
WEAK_SOUNDS: tuple[Sound, ...] = (("SCHWA",), ("KIT",))
"""What a single vowel letter of an unstressed syllable may be weakened to."""


Context = tuple[str, str, str]
"""A grapheme, what stands before it and what after it, as far as that matters; "" where it does not."""


def sounds_for(graphemes: Sequence[Spelling], at: int, accent: str) -> list[Sound]:
    """The sounds that are plausible for one grapheme of an invented word, its own first; one for each that the accent tells apart."""
    grapheme, own = graphemes[at]
    everyday = [c.sound for c in inventory().by_grapheme[grapheme] if c.cost <= EVERYDAY and c.vowel == vowel(own)]
    if {project(grapheme, sound, False, accent) for sound in everyday} <= {project(grapheme, own, False, accent)}:
        return [own]  # nothing to choose from, as for most consonants
    counts = counted(lexicon_of(accent), _syllables(graphemes), grapheme)
    least = SHARE if len(grapheme) > 1 else SHARE_HERE
    found = [sound for context in _contexts(graphemes, at) for sound in _share(counts.get(context), least)]
    told: dict[tuple[str, ...], Sound] = {}
    for sound in (own, *(sound for sound in found if sound in everyday)):
        told.setdefault(project(grapheme, sound, False, accent), sound)
    return list(told.values())


def _contexts(graphemes: Sequence[Spelling], at: int) -> tuple[Context, ...]:
    """What decides on the sound of a grapheme: of a consonant, what kind of sound stands before it and which letter after it, of one of several
    letters whether it ends the word; of a vowel of several letters, a w before it (word, war); of a single one, also all consonants after it."""
    grapheme, sound = graphemes[at]
    before = graphemes[at - 1] if at else None
    kind = "" if before is None else "V" if vowel(before[1]) else "C"
    if len(grapheme) > 1 and vowel(sound):
        return ((grapheme, "w" if before and before[0] in ROUNDING else "", ""),)
    if len(grapheme) > 1:
        return ((grapheme, kind or "start", "end" if at + 1 == len(graphemes) else ""),)
    if not vowel(sound):
        after = graphemes[at + 1][0][0] if at + 1 < len(graphemes) else "end"
        # the c of face stands before an e
        return ((grapheme, kind or "start", before[0][-1] if before and "-" in before[0] else after),)
    consonants = []
    for following, said in graphemes[at + 1 :]:
        if vowel(said):
            break
        consonants.append(following)
    with_these = grapheme, "", " ".join(consonants) or "end"
    if before and before[0] in ROUNDING:
        return with_these, (grapheme, before[0], "")
    return (with_these,)


def _syllables(graphemes: Sequence[Spelling]) -> int:
    return sum(vowel(sound) for _, sound in graphemes)


@cache
def counted(name: str, syllables: int, grapheme: str) -> dict[Context, Counter[Sound]]:
    """In how many distinct words of the British or American lexicon, of so many syllables, a grapheme has each sound."""
    pairs = Counter(
        (context, graphemes[at][1])
        for graphemes, at in _holding(name, syllables).get(grapheme, ())
        for context in _contexts(graphemes, at)
    )
    found: dict[Context, Counter[Sound]] = {}
    for (context, sound), times in pairs.items():
        found.setdefault(context, Counter())[sound] = times
    return found


@cache
def _holding(name: str, syllables: int) -> dict[str, list[tuple[list[Spelling], int]]]:
    """The measured words with a grapheme, and where in them it stands."""
    found: dict[str, list[tuple[list[Spelling], int]]] = {}
    for word in words_of(name, syllables):
        graphemes = [spelling for run in word for spelling in run]
        for at, (grapheme, _) in enumerate(graphemes):
            if grapheme in found:
                found[grapheme].append((graphemes, at))
            else:
                found[grapheme] = [(graphemes, at)]
    return found


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


def _share(counts: Counter[Sound] | None, least: float) -> list[Sound]:
    if counts is None:
        return []
    total = counts.total()
    return [sound for sound, times in counts.most_common() if times >= DISTINCT and times >= least * total]
