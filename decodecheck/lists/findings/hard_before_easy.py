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
MOST_NAMED = 20


def find(examined: Examined) -> Iterator[Told]:
    """In every run of rows that is to be in order, the first word that is easier than the one before it."""
    if not examined.asked.ordered:
        return
    ordering = Ordering(examined)
    for run in ordering.runs:
        known = [fact for fact in run if fact.word in ordering.effort]
        wrong = next((pair for pair in pairwise(known) if ordering.rank(pair[1]) < ordering.rank(pair[0])), None)
        if wrong is None:
            continue
        one, other = wrong
        how = f"{ordering.effort[other.word]:.1f} against {ordering.effort[one.word]:.1f}"
        message = f"This word is easier to spell than “{one.form}” before it ({how})."
        words = [fact.form for fact in ordering.in_order(run)]
        more = f" and {len(words) - MOST_NAMED} more" if len(words) > MOST_NAMED else ""
        yield Told(other, message, f"From easy to hard: {', '.join(words[:MOST_NAMED])}{more}.")
