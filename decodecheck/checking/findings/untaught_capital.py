"""A capital letter that is not taught by this step.

What it checks: a capital at the start of a word, where the progression says `capitals from step N` or teaches capitals one
by one. Otherwise capitals come with their letters.

Why it matters: many capitals look nothing like their small letters.

Example: Dan at a step before `teach D`.

Instead: move the word off the start of the sentence, or keep the text for that step.
"""

from decodecheck.checking.findings._words import deciding_cause, reasons
from decodecheck.checking.kinds import ERROR, Judged
from decodecheck.judging.verdict import CAPITAL

SEVERITY = ERROR


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return deciding_cause(word.verdict) == CAPITAL


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    return reasons(
        word.verdict.blockers
    ), f"Save this {word.kept} for that step, or move the word away from the start of the sentence."
