"""An ending that is not taught by this step.

What it checks: -s -es -ed -ing -er -est -y -ly 's n't 'll 've 're 'd 'm where the rest of the word is a word and base and
ending give its pronunciation (jumped; not bed, king, bus). Only an ending that the progression mentions holds a word back;
one that it never mentions is read by its letters, which -ed as /t/ or /d/ cannot be.

Why it matters: endings change how letters are read (hoped, hopped) and are lessons of their own.

Example: jumped at a step before `teach -ed`.

Instead: use the word without its ending, or keep the text for that step.
"""

from decodecheck.checking.findings._words import LONE_S, SHORT_FORMS, deciding_cause, reasons
from decodecheck.checking.kinds import ERROR, Judged
from decodecheck.judging.verdict import ENDING

SEVERITY = ERROR


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return deciding_cause(word.verdict) == ENDING


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    endings = list(dict.fromkeys(b.grapheme for b in word.verdict.blockers))
    never = [b.grapheme for b in word.verdict.blockers if not b.taught_at]
    then = (
        f"add `teach {', '.join(dict.fromkeys(never))}` to the progression"
        if never
        else f"save this {word.kept} for step {max(b.taught_at or 0 for b in word.verdict.blockers)}"
    )
    return reasons(word.verdict.blockers), f"{_instead(word.plain.lower(), endings)}, or {then}."


def _instead(word: str, endings: list[str]) -> str:
    """What to use in place of a word with endings that are not taught."""
    base = word.replace("’", "'").removesuffix("'s")
    if len(endings) == 1 and (endings[0] in SHORT_FORMS or (endings[0] == "'s" and base in LONE_S)):
        return "Write the short form in full (it is, did not)"
    if len(endings) > 1 or endings[0] in ("-er", "-est", "-y", "-ly"):
        # without its ending a farmer is a farm
        return "Use another word"
    return f"Use the word without {endings[0]}"
