"""A word of a list sounds like another one in it.

What it checks: whether two words of the list have the same sounds in the progression's accent and are spelt differently.

Why it matters: when they are dictated, a child cannot know which of them is meant without a sentence.

Example: sea and see.

Instead: put one of them into another list, or dictate each in a sentence.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.lists.examined import Examined, sole
from decodecheck.lists.kinds import Told
from decodecheck.wordlists.alike import other_spellings

SEVERITY = WARNING


def find(examined: Examined) -> Iterator[Told]:
    """Every word that sounds like one before it."""
    heard: dict[str, str] = {}
    for fact in sole(examined.words):
        sounds = {examined.said(reading) for reading in fact.readings}
        # colour and color are one word
        before = dict.fromkeys(
            heard[said] for said in sounds if said in heard and heard[said].lower() not in other_spellings(fact.word)
        )
        for said in sounds:
            heard.setdefault(said, fact.form)
        if before:
            message = (
                f"This word sounds like {' and '.join(f'“{word}”' for word in before)}, which is in the list, too."
            )
            remedy = "Dictate each in a sentence, or put one into another list."
            yield Told(fact, message, examined.or_instead(fact, remedy))
