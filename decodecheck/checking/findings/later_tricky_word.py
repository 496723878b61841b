"""A tricky word that is taught later than this step.

What it checks: words that cannot be read by taught graphemes and that the progression teaches whole, but after this step.
A tricky word carries its endings and compounds: friends and friendly follow friend.

Why it matters: until the word has been taught, a child has no way to read it.

Example: said at step 3 where `tricky said` stands at step 11.

Instead: use another word, or teach this one sooner.
"""

from decodecheck.checking.findings._words import instead
from decodecheck.checking.kinds import ERROR, Context
from decodecheck.checking.verdict import Verdict

SEVERITY = ERROR


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    taught = f"taught as a tricky word at step {verdict.tricky_at}"
    own = verdict.tricky_word == context.plain.lower().replace("’", "'")
    message = (
        f"“{context.plain}” is {taught}"
        if own
        else f"“{context.plain}” is made of “{verdict.tricky_word}”, which is {taught}"
    )
    odd = ", ".join(f"{b.grapheme} /{''.join(b.sounds)}/" for b in verdict.blockers if b.letters and b.sounds)
    message += f" (unusual in it: {odd})." if odd else "."
    remedy = f"Use another word, save this text for step {verdict.tricky_at}, or move the tricky word to step {context.step} or before."
    return message, instead(context, remedy, verdict.tricky_at or 0)
