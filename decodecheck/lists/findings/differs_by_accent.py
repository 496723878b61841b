"""A word of a list can be decoded in the progression's accent, and not in another one.

What it checks: every other accent that decodecheck knows, with the same progression read as one for that accent.

Why it matters: children and teachers of one school may have several accents. bath with the a of cat is decodable in the north of England, and not yet in the south.

Example: bath at a step where a is taught only as in cat, with accent northern-english.

Instead: use another word where the class has several accents; otherwise leave it.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.lists.examined import Examined
from decodecheck.lists.kinds import Told

SEVERITY = WARNING


def find(examined: Examined) -> Iterator[Told]:
    """Every word that cannot be decoded yet in another accent."""
    for fact in examined.words:
        accents = examined.not_yet_in.get(fact.word)
        if accents:
            message = f"This word can be decoded in {examined.order.accent}, and not yet in {', '.join(accents)}."
            yield Told(fact, message, "Leave it, or use another word where your class has several accents.")
