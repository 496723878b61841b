"""A word of a list holds the letters of the target, with another sound.

What it checks: words that have the grapheme of the target (of the row, or of the whole list), which says something else in them.

Why it matters: the same letters with another sound are another lesson, and in the same list they undo this one.

Example: bread in a list for ea as in leaf.

Instead: use a word in which the letters say what is taught; the remedy offers one, where there is one.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import ERROR
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told
from decodecheck.lists.targeted import holds, letters_of
from decodecheck.phonics.sounds import project
from decodecheck.progression.meanings import key_word

SEVERITY = ERROR


def find(examined: Examined) -> Iterator[Told]:
    """Every word in which the letters of the target say something else."""
    accent = examined.order.accent
    for fact in examined.words:
        if fact.target is None or holds(fact.readings, fact.target):
            continue
        found = letters_of(fact.readings, fact.target)
        if not found:
            continue
        said = "".join(project(found.grapheme, found.sound, found.linked, accent))
        example = key_word(found.grapheme, found.sound, accent)
        says = "say" if len(found.grapheme) > 1 else "says"
        what = f"{says} /{said}/" if said else "are silent" if len(found.grapheme) > 1 else "is silent"
        message = f"{found.grapheme} {what} here" + (f", as in “{example}”" if example else "")
        message += f"; the target is {fact.target.text}."
        yield Told(fact, message, examined.or_instead(fact, "Take it out, or mend the target."))
