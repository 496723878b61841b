"""A row of a list has cells beyond the last header.

What it checks: cells that are not empty in columns without a header.

Why it matters: it is what becomes of a comma inside a cell without quotation marks, and then the cells before it are not what they seem.

Example: cat,3,a pet, small under the headers word, sounds, notes.

Instead: put the cell into quotation marks, or give the column a header.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told

SEVERITY = WARNING


def find(examined: Examined) -> Iterator[Told]:
    """Every row that is longer than the header."""
    width = examined.list.width
    for fact in examined.facts:
        extra = [text for text in fact.entry.texts[width:] if text] if width else []
        if extra:
            message = f"This row goes on beyond the headers: “{extra[0]}”."
            yield Told(fact, message, "Put a cell with a comma into quotation marks, or give the column a header.")
