"""A spelling that no list of correspondences holds.

What it checks: letters that stand for a sound they have in hardly any other word (the ph of shepherd is in the inventory,
the olo of colonel is not).

Why it matters: nothing that is taught will make the word decodable; it has to be taught whole.

Example: colonel.

Instead: use another word, or teach it as a tricky word.
"""

from decodecheck.checking.findings._words import deciding_cause, instead, is_short_for, reasons
from decodecheck.checking.kinds import ERROR, Judged
from decodecheck.judging.verdict import IRREGULAR

SEVERITY = ERROR


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return deciding_cause(word.verdict) == IRREGULAR


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    short = any(map(is_short_for, word.verdict.blockers))
    remedy = f"Use another word, or add `tricky {word.form if short else word.plain}` to a step of the progression."
    return reasons(word.verdict.blockers), instead(word, remedy)
