"""A word of a list is in the spelling of the other country.

What it checks: spellings that only American English has, under a British accent, and the other way round (color, colour).

Why it matters: it is a mistake where the list is used.

Example: color under accent southern-british.

Instead: write it as it is written here.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told

SEVERITY = WARNING
COUNTRY = {"british": "American", "american": "British"}


def find(examined: Examined) -> Iterator[Told]:
    """Every word in the spelling of the other country."""
    words = examined.of_kind("other-country")
    other = COUNTRY[examined.order.lexicon.name]
    for fact in examined.words:
        if fact.word in words:
            message = f"This is the {other} spelling; the progression's accent is {examined.order.accent}."
            yield Told(fact, message, "Write it as it is written here.")
