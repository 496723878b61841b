"""One spelling with two pronunciations, of which only one can be read at this step.

What it checks: words such as read, wind, live whose senses differ in sound, where the senses differ in verdict.

Why it matters: with one meaning the child can read the word, with the other not; the spelling alone does not say which.

Example: We read the map, where ea as in leaf is taught and ea as in head is not.

Instead: look which sense is meant, and settle it with a table [[settled]] in decodecheck.toml; use another word if it is the
one that cannot be read yet.
"""

import json

from decodecheck.checking.kinds import WARNING, Judged
from decodecheck.judging.verdict import UNSURE
from decodecheck.phonics.sounds import project

SEVERITY = WARNING
PLACED = True


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return word.verdict.status == UNSURE and not word.verdict.unlisted


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    seen: dict[str, str] = {}
    for reading in word.verdict.readings:
        ipa = "".join(s for x in reading.segments for s in project(x.grapheme, x.sound, x.linked, word.accent))
        seen.setdefault(ipa, reading.sense)
    senses = " and ".join(f"/{ipa}/" + (f" ({sense})" if sense else "") for ipa, sense in seen.items())
    hard = "; ".join(f"{b.grapheme} /{''.join(b.sounds)}/" for b in word.verdict.blockers if b.sounds)
    return f"It may be {senses}; not every one can be read at this step" + (f" ({hard})." if hard else "."), _remedy(
        word, list(dict.fromkeys(seen.values()))
    )


def _remedy(word: Judged, senses: list[str]) -> str:
    """What to do: a table to paste into decodecheck.toml, where the text has a name there."""
    if not (word.settled_as and word.place and all(senses)):
        return "Look which is meant."
    first, *others = map(_quoted, senses)
    return "\n".join(
        (
            "Look which is meant, and write it into decodecheck.toml:",
            "[[settled]]",
            f"files = {_quoted(word.settled_as)}",
            f"word = {_quoted(word.plain)}",
            f"sense = {first}  # or {' or '.join(others)}",
            word.place,
        )
    )


def _quoted(text: str) -> str:
    """A text as TOML writes it; its escapes are those of JSON (TOML 1.0, "String"), but for one sign."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
