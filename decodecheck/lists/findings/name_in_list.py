"""A word of a list is a name.

What it checks: words that the lexicon knows as names alone (Omar, London).

Why it matters: names follow no rules of spelling that a list could teach, and need their capital.

Example: Omar.

Instead: take it out, unless the list is one of names.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.judging.verdict import ALLOWED
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told

SEVERITY = WARNING


def find(examined: Examined) -> Iterator[Told]:
    """Every name that the progression does not allow."""
    allowed = {name.lower() for name in examined.order.names}
    names = examined.of_kind("names") - allowed
    for fact in examined.words:
        if fact.word in names and fact.status != ALLOWED:
            yield Told(fact, "This word is a name.", examined.or_instead(fact, "Take it out, unless names are meant."))
