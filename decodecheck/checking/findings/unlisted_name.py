"""A name that the lexicon does not know.

What it checks: words with a capital inside a sentence that are not in the lexicon.

Why it matters: a family says how its name is said; no program should guess.

Example: Tilda met Zofka.

Instead: ask the family and pin the reading (`word Niamh = n + ia /iː/ + mh /v/`), or allow the name: `allow names Niamh`.
"""

from decodecheck.checking.kinds import WARNING, Context
from decodecheck.checking.verdict import Verdict

SEVERITY = WARNING


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    name = context.form.replace("’", "'").removesuffix("'s")
    pin = context.guess.pin if context.guess and name == context.form else f"word {name} = ..."
    remedy = f"Write `allow names {name}`; or ask the family how it is said and pin that, in this form: `{pin}`"
    return "A name that is not in the lexicon.", remedy
