"""A word that the lexicon does not know.

What it checks: words that are neither listed nor made of known words by endings or as a compound.

Why it matters: its sounds are not known, so nothing can be said for sure.

Example: Zog, flumped.

Instead: check it by eye, and pin its reading in the progression: `word Zog = z + o + g`.
"""

import re

from decodecheck.checking.findings._words import reasons
from decodecheck.checking.kinds import WARNING, Context
from decodecheck.checking.verdict import Verdict

VOWELS = re.compile("[aeiouy]")

SEVERITY = WARNING


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    message = "Not in the lexicon, so its sounds are not known."
    guess = context.guess
    if guess:
        message += f" From its spelling alone it may be {guess.graphemes} /{guess.ipa}/"
        message += f"; then {reasons(guess.blockers)}" if guess.blockers else ", which can be read at this step."
    if verdict.tricky_at:
        message += f" A tricky word of step {verdict.tricky_at}."
    pin = guess.pin if guess else f"word {context.form} = ..."
    sound = f", or for a sound-word `allow sounds {context.plain}`" if not VOWELS.search(context.plain) else ""
    return message, f"Check it by eye. To settle it, write into the progression, mended if need be: `{pin}`{sound}"
