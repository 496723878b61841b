"""One spelling with two pronunciations, of which only one can be read at this step.

What it checks: words such as read, wind, live whose senses differ in sound, where the senses differ in verdict.

Why it matters: with one meaning the child can read the word, with the other not; the spelling alone does not say which.

Example: We read the map, where ea as in leaf is taught and ea as in head is not.

Instead: look which sense is meant, and settle it with a table [[settled]] in decodecheck.toml; use another word if it is the
one that cannot be read yet.
"""

import json

from decodecheck.checking.kinds import WARNING, Context
from decodecheck.checking.verdict import Verdict
from decodecheck.phonics.sounds import project

SEVERITY = WARNING
PLACED = True


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    seen: dict[str, str] = {}
    for reading in verdict.readings:
        ipa = "".join(s for x in reading.segments for s in project(x.grapheme, x.sound, x.linked, context.accent))
        seen.setdefault(ipa, reading.sense)
    senses = " and ".join(f"/{ipa}/" + (f" ({sense})" if sense else "") for ipa, sense in seen.items())
    hard = "; ".join(f"{b.grapheme} /{''.join(b.sounds)}/" for b in verdict.blockers if b.sounds)
    return f"It may be {senses}; not every one can be read at this step" + (f" ({hard})." if hard else "."), _remedy(
        context, list(dict.fromkeys(seen.values()))
    )


def _remedy(context: Context, senses: list[str]) -> str:
    """What to do: a table to paste into decodecheck.toml, where the text has a name there."""
    if not (context.settled_as and context.line and all(senses)):
        return "Look which is meant."
    first, *others = map(_quoted, senses)
    return "\n".join(
        (
            "Look which is meant, and write it into decodecheck.toml:",
            "[[settled]]",
            f"files = {_quoted(context.settled_as)}",
            f"word = {_quoted(context.plain)}",
            f"sense = {first}  # or {' or '.join(others)}",
            f"line = {context.line}",
        )
    )


def _quoted(text: str) -> str:
    """A text as TOML writes it; its escapes are those of JSON (TOML 1.0, "String"), but for one sign."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
