"""The number of sounds that a list gives for a word is wrong.

What it checks: the column `sounds` against the sounds of the word in the progression's accent. x and qu are two sounds, the vowel of bird is one
with its r. Where a word has several readings, the number of any of them is right.

Why it matters: a phoneme frame with a box too many sets a child looking for a sound that is not there.

Example: box with 3 sounds.

Instead: the remedy gives the number; `--fix` writes it.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import ERROR
from decodecheck.errors import count
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told
from decodecheck.lists.mended_cells import declared_sounds
from decodecheck.lists.word_list import SOUNDS

SEVERITY = ERROR


def find(examined: Examined) -> Iterator[Told]:
    """Every entry with a wrong number of sounds."""
    for fact in examined.words:
        cell = fact.entry.cells.get(SOUNDS)
        if cell is None:
            continue
        right = {examined.sounds(reading): examined.said(reading) for reading in fact.readings[::-1]}
        given = declared_sounds(cell.text)
        if given in right:
            continue
        ours = examined.sounds(fact.readings[0])
        message = (
            f"“{cell.text}” is no number of sounds." if given is None
            else f"This word has {count(ours, 'sound')}, not {given} (/{right[ours]}/)."
        )  # fmt: skip
        yield Told(fact, message, f"Write {ours}.", SOUNDS)
