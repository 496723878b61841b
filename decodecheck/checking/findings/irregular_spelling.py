"""A spelling that no list of correspondences holds.

What it checks: letters that stand for a sound they have in hardly any other word (the ph of shepherd is in the inventory,
the olo of colonel is not).

Why it matters: nothing that is taught will make the word decodable; it has to be taught whole.

Example: colonel.

Instead: use another word, or teach it as a tricky word.
"""

from decodecheck.checking.findings._words import instead, reasons
from decodecheck.checking.kinds import ERROR, Context
from decodecheck.checking.verdict import Verdict

SEVERITY = ERROR


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    remedy = f"Use another word, or add `tricky {context.plain}` to a step of the progression."
    return reasons(verdict.blockers), instead(context, remedy)
