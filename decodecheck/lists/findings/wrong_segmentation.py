"""The segmentation that a list gives for a word is not one of those that are accepted.

What it checks: the column `segmentation`, whatever stands between the graphemes: sh o p, sh-o-p, sh/o/p. Other accepted divisions are right,
too (ch a-e n g besides ch a n ge); so is a combination or an ending as one where the progression teaches it so (s t a tion).

Why it matters: the sheet and the lesson go by it, and a child counts sounds that are not there.

Example: k-n-e-e.

Instead: the remedy gives the segmentation; `--fix` writes it.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import ERROR
from decodecheck.lists.divisions import is_right
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told
from decodecheck.lists.mended_cells import right_segmentation
from decodecheck.lists.word_list import SEGMENTATION

SEVERITY = ERROR


def find(examined: Examined) -> Iterator[Told]:
    """Every entry with a wrong segmentation."""
    for fact in examined.words:
        cell = fact.entry.cells.get(SEGMENTATION)
        if cell and not is_right(cell.text, fact.readings, examined.order.item_step):
            message = f"“{cell.text}” is not how this word divides into graphemes."
            yield Told(fact, message, f"Write {right_segmentation(fact)}.", SEGMENTATION)
