"""A word that the lexicon does not know.

What it checks: words that are neither listed nor made of known words by endings or as a compound.

Why it matters: its sounds are not known, so nothing can be said for sure.

Example: Zog, flumped.

Instead: check it by eye, and pin its reading in the progression: `word Zog = z + o + g`.
"""

from decodecheck.checking.findings._words import offers, sound_word
from decodecheck.checking.kinds import WARNING, Judged
from decodecheck.judging.written_accents import is_without

SEVERITY = WARNING


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return word.verdict.unlisted and not word.name


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    # what the accents say of a word whose plain letters are known is not known: no reading of these is to be added
    accented = not is_without(word.form)
    name = word.form if accented else word.plain
    message = f"decodecheck does not know “{name}”, so it cannot say how it sounds."
    if word.verdict.tricky_at:
        message += f" It is taught as a tricky word at step {word.verdict.tricky_at}."
    offered = offers(word)
    pin = "" if accented or sound_word(word) else word.pin()
    if accented and not offered:
        return message, f"Read it yourself; if it is meant to be “{word.plain}”, write it so."
    if not pin:
        return message, offered or f"Read it yourself. If it is to be known whole, add `tricky {word.plain}`."
    ask = "If not, read it" if offered else "Read it"
    todo = f"{ask} yourself; to settle it, add this to the progression (correct the sounds first): `{pin}`"
    return message, f"{offered} {todo}".strip()
