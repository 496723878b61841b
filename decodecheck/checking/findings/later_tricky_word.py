"""A tricky word that is taught later than this step.

What it checks: words that cannot be read by taught graphemes and that the progression teaches whole, but after this step.
A tricky word carries its endings and compounds: friends and friendly follow friend.

Why it matters: until the word has been taught, a child has no way to read it.

Example: said at step 3 where `tricky said` stands at step 11.

Instead: use another word, or teach this one sooner.
"""

from decodecheck.checking.findings._words import instead
from decodecheck.checking.kinds import ERROR, Judged
from decodecheck.judging.verdict import BLOCKED

SEVERITY = ERROR


def applies(word: Judged) -> bool:
    """Whether a word is of this kind."""
    return word.verdict.status == BLOCKED and bool(word.verdict.tricky_word)


def say(word: Judged) -> tuple[str, str]:
    """Message and remedy."""
    taught = f"taught as a tricky word at step {word.verdict.tricky_at}"
    own = word.verdict.tricky_word == word.plain.lower().replace("’", "'")
    message = (
        f"“{word.plain}” is {taught}"
        if own
        else f"“{word.plain}” is made of “{word.verdict.tricky_word}”, which is {taught}"
    )
    odd = ", ".join(f"{b.grapheme} /{''.join(b.sounds)}/" for b in word.verdict.blockers if b.letters and b.sounds)
    message += f" (unusual in it: {odd})." if odd else "."
    remedy = f"Use another word, save this {word.kept} for step {word.verdict.tricky_at}, or move the tricky word to step {word.step} or before."
    return message, instead(word, remedy, word.verdict.tricky_at or 0)
