"""A word of a list is in the spelling of the other country.

What it checks: spellings that only American English has, under a British accent, and the other way round (color, colour).

Why it matters: it is a mistake where the list is used.

Example: color under accent southern-british.

Instead: write it as it is written here; the remedy says how, where decodecheck knows.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.lexicon.common_words import is_fit
from decodecheck.lists.examined import Examined, Fact
from decodecheck.lists.kinds import Told
from decodecheck.wordlists.alike import other_spellings

SEVERITY = WARNING
COUNTRY = {"british": "American", "american": "British"}


def find(examined: Examined) -> Iterator[Told]:
    """Every word in the spelling of the other country."""
    words = examined.of_kind("other-country")
    other = COUNTRY[examined.order.lexicon.name]
    for fact in examined.words:
        if fact.word in words:
            message = f"This is the {other} spelling; the progression's accent is {examined.order.accent}."
            here = _spelt_here(examined, fact)
            yield Told(fact, message, f"Write {here}." if here else "Write it as it is written here.")


def _spelt_here(examined: Examined, fact: Fact) -> str:
    """How the word is spelt in the country of the accent; "" where that is not known."""
    lexicon = examined.order.lexicon
    said = {examined.said(reading) for reading in fact.readings}
    return next(
        (
            spelling
            for spelling in other_spellings(fact.word)
            if lexicon.has(spelling)
            and is_fit(spelling, lexicon.name)
            and said & {examined.said(reading) for reading in lexicon.readings(spelling)}
        ),
        "",
    )
