"""An ending that is not taught by this step.

What it checks: -s -es -ed -ing -er -est -y -ly 's n't 'll 've 're 'd 'm where the rest of the word is a word and base and
ending give its pronunciation (jumped; not bed, king, bus). Only an ending that the progression mentions holds a word back;
one that it never mentions is read by its letters, which -ed as /t/ or /d/ cannot be.

Why it matters: endings change how letters are read (hoped, hopped) and are lessons of their own.

Example: jumped at a step before `teach -ed`.

Instead: use the word without its ending, or keep the text for that step.
"""

from decodecheck.checking.findings._words import reasons
from decodecheck.checking.kinds import ERROR, Context
from decodecheck.checking.verdict import Verdict

SEVERITY = ERROR


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    first = verdict.blockers[0]
    remedy = f"Use the word without {first.grapheme}"
    remedy += (
        f", or keep it for step {first.taught_at}."
        if first.taught_at
        else f", or write `teach {first.grapheme}` into the progression."
    )
    return reasons(verdict.blockers), remedy
