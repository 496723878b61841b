"""A word of a list stands before one that is easier to spell.

What it checks: nothing, unless decodecheck.toml says `order = "easy"` for the list, or `--order easy` is given. Then every word is held against the one before it,
by the measure that orders `decodecheck words`: sounds, adjacent consonants, weak vowels, doubled letters, and how likely each spelling is for its
sound. An empty row begins anew, and so does another step or target.

Why it matters: a list that begins with its easiest words carries a child to the harder ones.

Example: straw before saw.

Instead: put the words in order; `--fix` does.
"""

from collections.abc import Iterator
from itertools import pairwise

from decodecheck.checking.kinds import WARNING
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told
from decodecheck.lists.ordering import Ordering

SEVERITY = WARNING


def find(examined: Examined) -> Iterator[Told]:
    """Every word that is easier than the one before it, in a list that is to be in order."""
    if not examined.asked.ordered:
        return
    ordering = Ordering(examined)
    for run in ordering.runs:
        for one, other in pairwise(f for f in run if f.word in ordering.effort):
            if ordering.rank(other) < ordering.rank(one):
                message = (
                    f"This word is easier to spell than “{one.form}” before it "
                    f"({ordering.effort[other.word]:.1f} against {ordering.effort[one.word]:.1f})."
                )
                yield Told(other, message, "Put the list in order, from easy to hard.")
