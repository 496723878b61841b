"""An entry of a list is more than one word.

What it checks: entries with a blank inside (ice cream) whose row also gives a target, a segmentation or a number of sounds.

Why it matters: these are of one word, so they are not compared, and nobody knows whether they are right.

Example: good morning, 8 sounds.

Instead: give each word a row of its own, or leave these cells empty.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told
from decodecheck.lists.word_list import SEGMENTATION, SOUNDS, TARGET

SEVERITY = WARNING


def find(examined: Examined) -> Iterator[Told]:
    """Every entry of several words whose row says more."""
    for fact in examined.facts:
        given = [name for name in (TARGET, SEGMENTATION, SOUNDS) if name in fact.entry.cells]
        if not fact.word and given:
            message = f"This is no single word, so its {' and '.join(given)} {'is' if len(given) == 1 else 'are'} not compared."
            yield Told(fact, message, "Give each word a row of its own, or leave these cells empty.")
