"""A word stands twice in a list.

What it checks: whether the same word, capitals aside, stands in the list before.

Why it matters: it takes the place of another word to practise.

Example: ship in lines 3 and 9.

Instead: take one out; `--fix` does where the rows say nothing different.
"""

from collections.abc import Iterator

from decodecheck.checking.kinds import WARNING
from decodecheck.lists.examined import Examined, Fact
from decodecheck.lists.kinds import Told

SEVERITY = WARNING


def find(examined: Examined) -> Iterator[Told]:
    """Every entry whose word stood in the list before."""
    first: dict[str, Fact] = {}
    for fact in examined.facts:
        key = fact.word or " ".join(fact.form.lower().split())
        before = first.setdefault(key, fact)
        if before is not fact:
            where = before.entry.word.place.words()
            message = f"This word stands in the list already ({where})."
            yield Told(fact, message, examined.or_instead(fact, "Take one of them out."))
