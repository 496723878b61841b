"""A word of a list does not hold the correspondence that the list is for.

What it checks: the target of a row (its column `target`), or of the whole list (decodecheck.toml), against the graphemes of the word. Letters
that stand next to each other across a join (the s and h of mishap) are not the grapheme.

Why it matters: the word practises something else, and the lesson's own correspondence goes without it.

Example: rain in a list for ay as in day.

Instead: use a word that holds the target; the remedy offers one that is as long, where there is one.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import ERROR
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told
from decodecheck.lists.targeted import holds, letters_of, same_sound

SEVERITY = ERROR


def find(examined: Examined) -> Iterator[Told]:
    """Every word without its target, but for those that hold its letters with another sound."""
    for fact in examined.words:
        wanted = fact.target
        if wanted is None or holds(fact.readings, wanted) or letters_of(fact.readings, wanted):
            continue
        apart = next((g for g in wanted.graphemes if g in fact.word and len(g) > 1), "")
        if apart:
            message = f"The letters {apart} stand in this word, and are not one grapheme there."
        else:
            message = f"This word does not hold {wanted.text}."
            other = same_sound(fact.readings, wanted, examined.order.accent)
            if other:
                message += f" Its sound is spelt {other} here."
        yield Told(fact, message, examined.or_instead(fact, "Take it out, or mend the target."))
