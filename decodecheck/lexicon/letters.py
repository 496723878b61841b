"""Letter positions of graphemes given in the order of their sounds."""

from __future__ import annotations

from collections.abc import Sequence

from decodecheck.lexicon.units import Form
from decodecheck.phonics.align import Segment


def place_graphemes(graphemes: Sequence[str]) -> list[tuple[int, ...]]:
    """Letter positions (0-based) of each grapheme.

    A split digraph takes its first letter where it stands and its last after the one grapheme that follows it.
    """
    result: list[tuple[int, ...]] = []
    at = 0
    pending: tuple[int, int] | None = None
    for grapheme in graphemes:
        # a hyphen by itself is one of a hyphenated word
        head, _, tail = (grapheme, "", "") if grapheme == "-" else grapheme.partition("-")
        result.append(tuple(range(at, at + len(head))))
        at += len(head)
        if tail:
            pending = (len(result) - 1, len(tail))
        elif pending:
            index, width = pending
            result[index] = (*result[index], *range(at, at + width))
            at += width
            pending = None
    return result


def spell(graphemes: Sequence[str]) -> str:
    """The word that graphemes spell."""
    letters: dict[int, str] = {}
    for grapheme, positions in zip(graphemes, place_graphemes(graphemes)):
        letters.update(zip(positions, grapheme.replace("-", "") or grapheme))
    return "".join(letters[i] for i in sorted(letters))


def lay_out(forms: Sequence[Form]) -> tuple[Segment, ...]:
    """Forms as segments with their letters."""
    positions = place_graphemes([f[0] for f in forms])
    return tuple(Segment(f[0], f[1], f[2], f[3], p) for f, p in zip(forms, positions))
