"""A grapheme has a sound here that is not taught by this step.

What it checks: every grapheme of the word, with the sound it has in this word, against what the progression teaches up to
the step. The same letters with another sound do not count: ea as in leaf does not make bread decodable.

Why it matters: a child who says the taught sound gets another word or none, and is left to guess.

Example: bread at a step where ea is taught only as in leaf.

Instead: use another word, keep the text for the step at which the grapheme is taught, or teach the word as a tricky word.
"""

from decodecheck.checking.findings._words import item_text, reasons
from decodecheck.checking.kinds import ERROR, Context
from decodecheck.checking.verdict import Verdict

SEVERITY = ERROR


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    never = [b for b in verdict.blockers if b.taught_at is None]
    later = [b.taught_at for b in verdict.blockers if b.taught_at]
    if never:
        remedy = f"Use another word, or write `teach {item_text(never[0])}` or `tricky {context.plain}` into the progression."
    else:
        remedy = f"Use another word, keep it for step {max(later)}, or teach it before as a tricky word."
    return reasons(verdict.blockers), remedy
