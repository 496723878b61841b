"""A word structure that is held back until a later step.

What it checks: the pattern of consonant and vowel graphemes (CVC, CCVC), the number of syllables, adjacent consonants (st,
bl): only those that the progression names are held back. box, quick and cube are CVC; the -s of cats does not count.

Why it matters: blending four or five sounds is harder than blending three, even when every grapheme is known.

Example: stop at a step before `structure CCVC`.

Instead: use a shorter word, or keep the text for that step.
"""

from decodecheck.checking.findings._words import deciding_cause, reasons
from decodecheck.checking.kinds import ERROR, Judged
from decodecheck.judging.verdict import STRUCTURE

SEVERITY = ERROR


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return deciding_cause(word.verdict) == STRUCTURE


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    steps = [b.taught_at for b in word.verdict.blockers if b.taught_at]
    then = f"save this {word.kept} for step {max(steps)}" if steps else "wait with it"
    return reasons(word.verdict.blockers), f"Use a shorter word, or {then}."
