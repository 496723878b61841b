"""What is worth saying about a segmentation: other accepted ones, and letters that only look like a digraph."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from decodecheck.phonics.align import Segment
from decodecheck.phonics.inventory import also_accepted, inventory
from decodecheck.phonics.sounds import has_vowel


def other_segmentations(segments: Sequence[Segment]) -> list[str]:
    """Other accepted segmentations as graphemes with spaces between, each changing one stretch: `ch a-e n g`."""
    keys = [s.key for s in segments]
    found = []
    for canonical, other in also_accepted():
        for i in range(len(keys) - len(canonical) + 1):
            if tuple(keys[i : i + len(canonical)]) == canonical:
                replaced = [*keys[:i], *other, *keys[i + len(canonical) :]]
                found.append(" ".join(key.partition("|")[0] for key in replaced))
    return list(dict.fromkeys(found))


def false_digraphs(segments: Sequence[Segment]) -> list[tuple[str, str]]:
    """Pairs of neighbouring graphemes that meet in letters which are a taught digraph elsewhere (the s and h of mishap)."""
    found = []
    listed = inventory().by_grapheme
    for number, (one, other) in enumerate(pairwise(segments), 2):
        pair = one.grapheme[-1:] + other.grapheme[:1]
        meets = one.letters[-1] + 1 == other.letters[0] and not one.irregular and not other.irregular
        # the te of ten is no grapheme, and nobody takes it for that of route: it is one at the end of words only
        ends = number == len(segments)
        # and the ed of red is no ending: there is no word that it could be added to
        before = any(has_vowel(segment.sound) for segment in segments[: number - 2])
        usual = any(
            c.bare != "no" and (not c.place or (ends and (before or c.place != "ending"))) for c in listed.get(pair, ())
        )
        if (
            meets
            and usual
            and "-" not in one.grapheme
            and len(one.grapheme) == len(other.grapheme) == 1
            and pair[0] != pair[1]
        ):
            found.append((one.grapheme, other.grapheme))
    return found
