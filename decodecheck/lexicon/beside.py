"""What stands beside a grapheme and decides on its sound: asked of the words of a lexicon, and of invented ones."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from decodecheck.phonics.sounds import Sound, has_vowel

Spelling = tuple[str, Sound]
"""A grapheme with its sound."""
Run = tuple[Spelling, ...]
"""Consonants one after the other; none for a word that begins or ends with a vowel."""
Context = tuple[str, str, str]
"""A grapheme, what stands before it and what after it, as far as that matters; "" where it does not."""
ROUNDING = ("w", "wh", "qu")
"""After these an a or o often has another sound (swan, word); after other consonants what follows decides."""


@cache
def vowel(sound: Sound) -> bool:
    """Does this sound hold a vowel?"""
    return has_vowel(sound)


def contexts(graphemes: Sequence[Spelling], at: int) -> tuple[Context, ...]:
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
