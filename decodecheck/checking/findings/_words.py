"""Sentences that several kinds of findings share."""

from __future__ import annotations

from functools import cache

from decodecheck.checking.kinds import Judged
from decodecheck.judging.verdict import (
    BLOCKED,
    CAPITAL,
    DOUBLED,
    ENDING,
    EXCEPTED,
    IRREGULAR,
    STRUCTURE,
    Blocker,
    Verdict,
)
from decodecheck.lexicon.items import GPC
from decodecheck.lexicon.lookup import STRETCHED
from decodecheck.lexicon.store import NEVER, tables
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.shape_names import in_words
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

RARE = 14
"""From this cost in the inventory on, no school teaches a correspondence: the word is taught whole."""
MOST_SOUNDS = 2
"""What stands for more sounds is no grapheme: the x of box has two."""
VOWEL_LETTERS = frozenset("aeiouy")
LONE_S = ("it", "he", "she", "that", "there", "here", "what", "who", "where", "when", "why", "how", "let")
"""What 's is short for "is", "has" or "us" after."""
SHORT_FORMS = ("n't", "'ll", "'ve", "'re", "'d", "'m")


def deciding_cause(verdict: Verdict) -> str:
    """Which cause decides the kind of a blocked word: what stands most in the way; of endings, structures and doubled letters, the
    last one taught; a capital only where it is all. "" for a word that is not blocked, or that waits for a tricky word.
    """
    if verdict.status != BLOCKED or verdict.tricky_word:
        return ""
    hindrance = [b for b in verdict.blockers if b.cause != CAPITAL] or verdict.blockers
    causes = [b.cause for b in hindrance]
    if IRREGULAR in causes:
        return IRREGULAR
    light = (ENDING, STRUCTURE, DOUBLED, CAPITAL)
    main = next((cause for cause in causes if cause not in light), "")
    return main or max(hindrance, key=lambda b: b.taught_at or NEVER).cause


def when(taught_at: int | None) -> str:
    """When something is taught."""
    return f"taught at step {taught_at}" if taught_at else "never taught in this progression"


def comes(taught_at: int | None) -> str:
    """When something is taught, with "that" for what it is."""
    return f"that comes at step {taught_at}" if taught_at else "this progression never teaches that"


def describe(blocker: Blocker) -> str:
    """What a blocker is, what it says here and when it is taught: `the letters ow say /aʊ/ here, as in “town”; ...`."""
    if blocker.cause == EXCEPTED:
        return f"{_says(blocker)}; this group has not learnt that (its class did at step {blocker.taught_at})"
    if blocker.cause == ENDING:
        return f"the ending {blocker.grapheme} is {when(blocker.taught_at)}"
    if blocker.cause == STRUCTURE:
        return f"this word has {in_words(blocker.grapheme)}; {comes(blocker.taught_at)}"
    if blocker.cause == CAPITAL:
        return f"the capital letter {blocker.grapheme} is {when(blocker.taught_at)}"
    if blocker.cause == DOUBLED:
        return f"the doubled letter {blocker.grapheme} is {when(blocker.taught_at)}"
    if is_short_for(blocker):
        return "this is short for a longer word, and is not sounded out"
    if blocker.cause == IRREGULAR:
        return f"{_says(blocker)}; hardly any other word is spelt like that"
    place, step = blocker.elsewhere
    if place:
        here = f", and elsewhere at step {blocker.taught_at}" if blocker.taught_at else ""
        return f"{_says(blocker)}; that is taught only {place} (step {step}){here}"
    return f"{_says(blocker)}; {comes(blocker.taught_at)}"


def is_short_for(blocker: Blocker) -> bool:
    """Do the letters stand for more than graphemes do: the r of Mr, which is read as mister is?"""
    return blocker.cause == IRREGULAR and len(blocker.sounds) > MOST_SOUNDS


def _says(blocker: Blocker) -> str:
    """What letters stand for here."""
    if not blocker.letters and not blocker.sounds:
        return f"this needs {blocker.grapheme}"
    written = blocker.written or blocker.grapheme
    single = len(written) == 1
    letters = f"the letter{'' if single else 's'} {written}"
    as_in = f", as in “{blocker.as_in}”" if blocker.as_in else ""
    if blocker.written and blocker.sounds:
        as_in = f", as {blocker.grapheme} does" + (f" in “{blocker.as_in}”" if blocker.as_in else "")
    if not blocker.sounds:
        return f"{letters} {'is' if single else 'are'} silent here{as_in}"
    return f"{letters} say{'s' * single} /{''.join(blocker.sounds)}/ here{as_in}"


def reasons(blockers: tuple[Blocker, ...]) -> str:
    """All blockers, each once, in sentences."""
    said = dict.fromkeys(map(describe, blockers))
    return " ".join(f"{text[0].upper()}{text[1:]}." for text in said)


def item_text(blocker: Blocker) -> str:
    """How a progression teaches this: ready to paste after `teach`."""
    return f"{blocker.grapheme} as in {blocker.as_in}" if blocker.as_in else blocker.grapheme


def is_rare(blocker: Blocker) -> bool:
    """Is this a correspondence so rare that a word with it is better taught whole (the ach of yacht)?"""
    if blocker.item.kind != GPC:
        return False
    found = inventory().get(*blocker.item.correspondence)
    return found is None or found.cost >= RARE


def name_of(word: Judged) -> str:
    """The name that a form is, without a possessive 's; "" for a form that is none."""
    plain = word.plain.replace("’", "'")
    if not plain[:1].isupper() or plain == "I":
        return ""
    plain = plain.removesuffix("'s").removesuffix("'")
    return plain.capitalize() if plain.isupper() and len(plain) > 1 else plain


@cache
def _sound_words() -> frozenset[str]:
    return frozenset(r["word"] for r in read_table(rules_folder() / "supplement" / "words.tsv") if r["kind"] == "sound")


def sound_word(word: Judged) -> str:
    """The sound-word that a form is: unlisted and without a vowel letter, stretched (sploosh, sploooosh), or known as one; else ""."""
    plain = word.plain.lower()
    if not plain.isalpha() or len(plain) < 2:
        return ""
    if plain in _sound_words() or STRETCHED.search(plain):
        return plain
    # Mrs has no vowel letter either, but is listed
    return plain if VOWEL_LETTERS.isdisjoint(plain) and tables().number(plain) < 0 else ""


def offers(word: Judged) -> str:
    """What to write for a sound-word or a name, which nobody is asked to replace; "" for other words."""
    sound = sound_word(word)
    if sound:
        return f"If this is a sound-word, add `allow sounds {sound}` to the progression."
    name = name_of(word)
    return f"If this is a name, add `allow names {name}` to the progression." if name else ""


def instead(word: Judged, remedy: str, save_for: int = 0) -> str:
    """A remedy; for what may be a sound-word that is offered first, and a name is never to be replaced by another word.

    `save_for` is the step at which the word can be read, 0 where there is none.
    """
    name = name_of(word)
    if sound_word(word):
        return f"{offers(word)} If not: {remedy[0].lower()}{remedy[1:]}"
    if name:
        later = f", or save this {word.kept} for step {save_for}" if save_for else ""
        return f"If this is a name, add `allow names {name}` to the progression. Or teach it as a tricky word: `tricky {name}`{later}."
    return remedy
