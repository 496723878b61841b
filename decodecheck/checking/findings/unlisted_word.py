"""A word that the lexicon does not know.

What it checks: words that are neither listed nor made of known words by endings or as a compound.

Why it matters: its sounds are not known, so nothing can be said for sure.

Example: Zog, flumped.

Instead: check it by eye, and pin its reading in the progression: `word Zog = z + o + g`.
"""

from decodecheck.checking.kinds import WARNING, Context
from decodecheck.checking.verdict import Verdict

SEVERITY = WARNING


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    message = "Not in the lexicon, so its sounds are not known."
    if verdict.tricky_at:
        message += f" A tricky word of step {verdict.tricky_at}."
    return message, f"Check it by eye, or pin its reading in the progression: `word {context.form} = ...`."
