"""A grapheme has a sound here that is not taught by this step.

What it checks: every grapheme of the word, with the sound it has in this word, against what the progression teaches up to
the step. The same letters with another sound do not count: ea as in leaf does not make bread decodable.

Why it matters: a child who says the taught sound gets another word or none, and is left to guess.

Example: bread at a step where ea is taught only as in leaf.

Instead: use another word, keep the text for the step at which the grapheme is taught, or teach the word as a tricky word.
"""

from decodecheck.checking.findings._words import deciding_cause, instead, is_rare, item_text, reasons
from decodecheck.checking.kinds import ERROR, Judged
from decodecheck.judging.verdict import EXCEPTED, NEVER_TAUGHT, TAUGHT_LATER, TRICKY_LATER

SEVERITY = ERROR


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return deciding_cause(word.verdict) in (TAUGHT_LATER, NEVER_TAUGHT, TRICKY_LATER, EXCEPTED)


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    never = [b for b in word.verdict.blockers if b.taught_at is None]
    later = [b.taught_at for b in word.verdict.blockers if b.taught_at]
    if never:
        remedy = f"Use another word, or add `tricky {word.plain}` to a step of the progression"
        rare = any(is_rare(b) for b in never)
        remedy += "." if rare or len(never) > 1 else f", or `teach {item_text(never[0])}`."
    else:
        remedy = f"Use another word, save this {word.kept} for step {max(later)}, or teach this word earlier as a tricky word."
    return reasons(word.verdict.blockers), instead(word, remedy, 0 if never else max(later))
