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
    """What decides on the sound of a grapheme: of a consonant, what kind of sound stands before it, and after it which letter, with its sound if it is a
    vowel (the t of picture, not that of stun); of one of several letters, of what kind the next sound is (three, this), or whether it ends the word; of
    a vowel of several letters, a w before it (word, war); of a single one, also all consonants after it and whether they end the word."""
    grapheme, sound = graphemes[at]
    before = graphemes[at - 1] if at else None
    after = graphemes[at + 1] if at + 1 < len(graphemes) else None
    kind = "start" if before is None else "V" if vowel(before[1]) else "C"
    if len(grapheme) > 1 and vowel(sound):
        return ((grapheme, "w" if before and before[0] in ROUNDING else "", ""),)
    if len(grapheme) > 1:
        return ((grapheme, kind, "end" if after is None else "V" if vowel(after[1]) else "C"),)
    if not vowel(sound):
        if before and "-" in before[0]:
            return ((grapheme, kind, before[0][-1]),)  # the c of face stands before an e
        said = "".join(after[1]) if after and vowel(after[1]) else ""
        return ((grapheme, kind, after[0][0] + said if after else "end"),)
    consonants = []
    for following, said_there in graphemes[at + 1 :]:
        if vowel(said_there):
            break
        consonants.append(following)
    ends = at + 1 + len(consonants) == len(graphemes)
    with_these = grapheme, "", " ".join([*consonants, *["end"] * ends])
    if before and before[0] in ROUNDING:
        return with_these, (grapheme, before[0], "")
    return (with_these,)
