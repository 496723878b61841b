"""What the program says of a word: its status, and what stands in the way."""

from __future__ import annotations

from dataclasses import dataclass

from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import NEVER, Reading

DECODABLE, TRICKY, ALLOWED, BLOCKED, UNSURE, UNJUDGED = (
    "decodable",
    "tricky",
    "allowed",
    "blocked",
    "unsure",
    "unjudged",
)
STATUSES = (DECODABLE, TRICKY, ALLOWED, BLOCKED, UNSURE, UNJUDGED)
LABELS = {
    DECODABLE: "decodable",
    TRICKY: "tricky word",
    ALLOWED: "allowed",
    BLOCKED: "not yet decodable",
    UNSURE: "check by eye",
    UNJUDGED: "not judged",
}
"""How people are told a status."""

TAUGHT_LATER, NEVER_TAUGHT, TRICKY_LATER = "taught-later", "never-taught", "tricky-later"
ENDING, STRUCTURE, IRREGULAR, CAPITAL = "untaught-ending", "untaught-structure", "irregular", "untaught-capital"
DOUBLED = "untaught-double"
"""A doubled letter that comes with its single one only from a later step."""
EXCEPTED = "excepted"
"""Taught to the class at `taught_at`, but left out for this group."""


@dataclass(frozen=True, slots=True)
class Blocker:
    """One thing that stands in the way of a word.

    `grapheme` is a grapheme, ending, structure or capital; `letters` are 0-based positions in the form (none for a
    structure); `sounds` are IPA strings; `as_in` is a familiar word with this grapheme and sound ("" if there is none);
    `taught_at` is a step, None if it is never taught here; `item` is what a progression would have to teach;
    `elsewhere` is where in words, and at which step, it is taught already ("at word end"), ("", 0) where it is not.
    """

    grapheme: str
    letters: tuple[int, ...]
    sounds: tuple[str, ...]
    as_in: str
    taught_at: int | None
    cause: str
    item: Item
    elsewhere: tuple[str, int] = ("", 0)
    written: str = ""
    """What stands in the word for the grapheme, where an ending has changed it: the ie of cried, for the y of cry."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """The judgement on one form.

    `first_step` is the first step at which the word can be read, NEVER if no step of this progression does it. `readings` are
    those the verdict rests on (several where senses differ, none where the word is not known).
    `tricky_at` is the step from which the word is known by tricky words, if it is, and `tricky_word` the one that decides that: the
    word itself, or one that it is made of ("" where what stands beside it does). `detail` is why a form is not judged; of an
    unknown word, what in it is not known.
    """

    status: str
    first_step: int = NEVER
    blockers: tuple[Blocker, ...] = ()
    readings: tuple[Reading, ...] = ()
    tricky_at: int | None = None
    detail: str = ""
    tricky_word: str = ""

    @property
    def unlisted(self) -> bool:
        """Whether the word, or a part of it, is not known."""
        return self.status == UNSURE and not self.readings
