"""A word of a list is unfit for a primary classroom.

What it checks: `rules/unfit_words.tsv`, words with their forms and compounds; the project's own list, made by hand.

Why it matters: a list goes home.

Example: a swear word.

Instead: use another word; the remedy offers one, where there is one.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import ERROR
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told

SEVERITY = ERROR


def find(examined: Examined) -> Iterator[Told]:
    """Every entry with an unfit word."""
    for fact in examined.facts:
        if fact.unfit:
            message = (
                "This word has a meaning that is unfit for a primary classroom." if fact.word
                else f"“{fact.unfit}” has a meaning that is unfit for a primary classroom."
            )  # fmt: skip
            yield Told(fact, message, examined.or_instead(fact, "Take it out."))
