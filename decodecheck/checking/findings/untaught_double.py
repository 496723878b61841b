"""A doubled letter that comes only later.

What it checks: doubled consonants (bb, rr) where the progression says `doubled letters from step N` and teaches no such double
by itself.

Why it matters: two letters for one sound are a lesson of their own in some schools.

Example: rabbit at a step before `doubled letters from step 8`.

Instead: use another word, or keep the text for that step.
"""

from decodecheck.checking.findings._words import reasons
from decodecheck.checking.kinds import ERROR, Context
from decodecheck.checking.verdict import Verdict

SEVERITY = ERROR


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    steps = [b.taught_at for b in verdict.blockers if b.taught_at]
    return reasons(verdict.blockers), f"Use another word, or keep it for step {max(steps, default=context.step)}."
