"""One spelling with two pronunciations, of which only one can be read at this step.

What it checks: words such as read, wind, live whose senses differ in sound, where the senses differ in verdict.

Why it matters: with one meaning the child can read the word, with the other not; the spelling alone does not say which.

Example: We read the map, where ea as in leaf is taught and ea as in head is not.

Instead: look which sense is meant; use another word if it is the one that cannot be read yet.
"""

from decodecheck.checking.kinds import WARNING, Context
from decodecheck.checking.verdict import Verdict
from decodecheck.phonics.sounds import project

SEVERITY = WARNING


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    seen: dict[str, str] = {}
    for reading in verdict.readings:
        ipa = "".join(s for x in reading.segments for s in project(x.grapheme, x.sound, x.linked, context.accent))
        seen.setdefault(ipa, reading.sense)
    senses = " and ".join(f"/{ipa}/" + (f" ({sense})" if sense else "") for ipa, sense in seen.items())
    hard = "; ".join(f"{b.grapheme} /{''.join(b.sounds)}/" for b in verdict.blockers if b.sounds)
    return f"It may be {senses}; not every one can be read at this step" + (
        f" ({hard})." if hard else "."
    ), "Look which is meant."
