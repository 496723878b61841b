"""A doubled letter that comes only later.

What it checks: doubled consonants (bb, rr) where the progression says `doubled letters from step N` and teaches no such double
by itself.

Why it matters: two letters for one sound are a lesson of their own in some schools.

Example: rabbit at a step before `doubled letters from step 8`.

Instead: use another word, or keep the text for that step.
"""

from decodecheck.checking.findings._words import deciding_cause, reasons
from decodecheck.checking.kinds import ERROR, Judged
from decodecheck.judging.verdict import DOUBLED

SEVERITY = ERROR


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return deciding_cause(word.verdict) == DOUBLED


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    steps = [b.taught_at for b in word.verdict.blockers if b.taught_at]
    return reasons(word.verdict.blockers), f"Use another word, or keep it for step {max(steps, default=word.step)}."
