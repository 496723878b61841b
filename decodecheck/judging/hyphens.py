"""The parts of a hyphenated word that are judged: one-eyed, b-b-but, too-o-o, sp-la-sh."""

from __future__ import annotations

import re
from dataclasses import dataclass

from decodecheck.lexicon.lookup import Lookup, Spelling

LONGEST_STUTTER = 3
"""Letters; a longer first part that comes again is a word said twice."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of a hyphenated form: where it starts in the plain spelling, and the positions of its letters in the form."""

    start: int
    origin: tuple[int, ...]

    def form(self, whole: str) -> str:
        """The part as it stands in the form, without hyphens inside it."""
        return "".join(whole[i] for i in dict.fromkeys(self.origin))

    def moved(self, letters: tuple[int, ...]) -> tuple[int, ...]:
        """Positions in the part as positions in the form."""
        places = tuple(dict.fromkeys(self.origin))
        return tuple(places[i] for i in letters)


def pieces(spelling: Spelling, lookup: Lookup) -> list[Piece]:
    """What of a hyphenated word is judged.

    A stutter (b-b-but) is judged by its last part, a word that is drawn out (too-o-o) by its first; a word that is cut into
    pieces which are none themselves (sp-la-sh) is judged whole.
    """
    parts = [(m.start(), m.end()) for m in re.finditer("[^-]+", spelling.plain)]
    texts = [spelling.plain[a:b] for a, b in parts]
    if len(texts) > 1:
        first, last = texts[0], texts[-1]
        if len(first) <= LONGEST_STUTTER and last.startswith(first) and all(t == first for t in texts[:-1]):
            return [_piece(spelling, *parts[-1])]
        if all(first.endswith(t) and set(t) == {first[-1]} for t in texts[1:]) and lookup.knows(first):
            return [_piece(spelling, *parts[0])]
        if not all(map(lookup.knows, texts)) and lookup.knows("".join(texts)):
            letters = tuple(i for a, b in parts for i in spelling.origin[a:b])
            return [Piece(parts[0][0], letters)]
    return [_piece(spelling, a, b) for a, b in parts]


def _piece(spelling: Spelling, start: int, end: int) -> Piece:
    # marks inside the part that the plain spelling drops stay with it
    return Piece(start, tuple(range(spelling.origin[start], spelling.origin[end - 1] + 1)))
