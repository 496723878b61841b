"""A name that the lexicon does not know.

What it checks: words with a capital inside a sentence that are not in the lexicon.

Why it matters: a family says how its name is said; no program should guess.

Example: Tilda met Zofka.

Instead: ask the family and pin the reading (`word Niamh = n + ia /iː/ + mh /v/`), or allow the name: `allow names Niamh`.
"""

from decodecheck.checking.findings._words import name_of
from decodecheck.checking.kinds import WARNING, Judged

SEVERITY = WARNING


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return word.verdict.unlisted and word.name


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    name = name_of(word)
    remedy = f"Add `allow names {name}` to the progression."
    pin = word.pin() if name == word.form else ""
    if pin:
        remedy += f" Or ask the family how it is said and add that (correct the sounds first): `{pin}`"
    return f"decodecheck does not know the name “{name}”.", remedy
