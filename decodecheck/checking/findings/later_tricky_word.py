"""A tricky word that is taught later than this step.

What it checks: words that cannot be read by taught graphemes and that the progression teaches whole, but after this step.
A tricky word carries its endings and compounds: friends and friendly follow friend.

Why it matters: until the word has been taught, a child has no way to read it.

Example: said at step 3 where `tricky said` stands at step 11.

Instead: use another word, or teach this one sooner.
"""

from decodecheck.checking.findings._words import reasons
from decodecheck.checking.kinds import ERROR, Context
from decodecheck.checking.verdict import Verdict

SEVERITY = ERROR


def say(verdict: Verdict, context: Context) -> tuple[str, str]:
    """Message and remedy."""
    message = f"A tricky word of step {verdict.tricky_at}."
    odd = ", ".join(f"{b.grapheme} /{''.join(b.sounds)}/" for b in verdict.blockers if b.letters and b.sounds)
    if odd:
        message += f" Its odd part: {odd}."
    elif not verdict.blockers:
        message += reasons(verdict.blockers)
    return message, f"Use another word, or teach `{context.plain}` by step {context.step}."
