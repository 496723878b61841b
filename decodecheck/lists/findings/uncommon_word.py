"""A word of a list is one that a young child hardly knows.

What it checks: how likely the word is in books for young children, by decodecheck's own estimate (`decodecheck explain WORD` shows its parts). Told is what
is expected less than once in a million words; also abbreviations, parts of words and forms that standard English does not have (throwed).

Why it matters: a child who has never heard the word cannot tell whether it was read rightly.

Example: fen.

Instead: use a commoner word, or tell what it means.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.judging.verdict import ALLOWED
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told
from decodecheck.wordlists.likely import likely_column
from decodecheck.wordlists.pool import CHILD_LIKELY

SEVERITY = WARNING


def find(examined: Examined) -> Iterator[Told]:
    """Every uncommon word, but for names and unfit ones."""
    told = examined.of_kind("names")
    no_words = examined.of_kind("abbreviations")
    column = likely_column()
    for fact in examined.words:
        number = examined.numbers.get(fact.word)
        if number is None or fact.word in told or fact.unfit or fact.status == ALLOWED:
            continue
        if fact.word in no_words:
            message = "This is no word of standard English by itself: an abbreviation, a part of a word, or a form that it does not have."
            yield Told(fact, message, examined.or_instead(fact, "Use another word."))
        elif column[number] < CHILD_LIKELY:
            message = "This word is uncommon in books for young children."
            yield Told(fact, message, examined.or_instead(fact, "Tell what it means, or use a commoner word."))
