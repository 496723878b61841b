"""Every kind of statement, once: how it opens, what follows, where it stands, what it sets and how people are told of it.

From this table follow the keywords and the messages on mistakes of form (`mistakes.py`), the place of a statement in a printed
file (`printer.py`), what a comparison says outside the steps, and the rules of a brief.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

from decodecheck.progression import syntax
from decodecheck.progression.settings import Setting, Value, Words, allowed, from_step, switch


class Place(Enum):
    """Where a statement stands in a file."""

    OUTSIDE = auto()
    HEAD = auto()
    """It opens a step."""
    INSIDE = auto()


class Follows(Enum):
    """What follows the words that open a statement."""

    QUOTED = auto()
    """A text in quotation marks."""
    ACCENT = auto()
    HEAD = auto()
    """The number of a step, and its title."""
    ITEMS = auto()
    SHAPES = auto()
    WORDS = auto()
    NAMES = auto()
    NUMBER = auto()
    READING = auto()
    """A word, an equals sign, and its graphemes."""
    NOTHING = auto()


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of statement: its class, the words that open it, an example, where it stands, what follows, what it sets.

    `setting` is None for what is no setting: the title, an include, steps and what they teach.
    """

    statement: type[syntax.Statement]
    opening: str
    example: str
    place: Place
    follows: Follows
    setting: Setting | None = None

    @property
    def keyword(self) -> str:
        """The first of the words that open it."""
        return self.opening.split()[0]

    @property
    def lists(self) -> bool:
        """Does it list things with commas between them?"""
        return self.follows in (Follows.ITEMS, Follows.SHAPES, Follows.WORDS, Follows.NAMES)

    @property
    def item(self) -> str:
        """The first thing that the example lists."""
        return self.example.removeprefix(self.opening).split(",")[0].strip()


KINDS = (
    Kind(
        syntax.Progression, "progression", 'progression "Harbour Lane order of teaching"', Place.OUTSIDE, Follows.QUOTED
    ),
    Kind(
        syntax.Accent, "accent", "accent southern-british", Place.OUTSIDE, Follows.ACCENT,
        Value("accent", lambda order: order.accent, None),
    ),
    Kind(syntax.Include, "include", 'include "autumn.progression"', Place.OUTSIDE, Follows.QUOTED),
    Kind(syntax.Step, "step", 'step 3 "after half term"', Place.HEAD, Follows.HEAD),
    Kind(syntax.Teach, "teach", "teach p, ow as in grow, a-e, -ing", Place.INSIDE, Follows.ITEMS),
    Kind(syntax.Together, "together", "together nk, ture", Place.INSIDE, Follows.WORDS),
    Kind(syntax.Structure, "structure", "structure CCVC, 2 syllables", Place.INSIDE, Follows.SHAPES),
    Kind(syntax.Tricky, "tricky", "tricky said, don't, Mr", Place.INSIDE, Follows.WORDS),
    Kind(
        syntax.Capitals, "capitals from step", "capitals from step 6", Place.OUTSIDE, Follows.NUMBER,
        from_step("capitals from step", lambda order: order.capitals_from, "none before step {}", "capitals"),
    ),
    Kind(
        syntax.Doubled, "doubled letters from step", "doubled letters from step 4", Place.OUTSIDE, Follows.NUMBER,
        from_step(
            "doubled letters from step", lambda order: order.doubled_from,
            "only those that are taught, before step {}", "doubled letters",
        ),
    ),
    Kind(
        syntax.AllowNames, "allow names", "allow names Tilda, Mr Pike", Place.OUTSIDE, Follows.NAMES,
        allowed("names allowed", lambda order: order.names, "names"),
    ),
    Kind(
        syntax.AllowSounds, "allow sounds", "allow sounds brrr, moo", Place.OUTSIDE, Follows.WORDS,
        allowed("sounds allowed", lambda order: order.sounds, "sound-words"),
    ),
    Kind(
        syntax.SkipNames, "skip all names", "skip all names", Place.OUTSIDE, Follows.NOTHING,
        switch("skip all names", lambda order: order.skip_names, rank=1),
    ),
    Kind(
        syntax.Weakened, "weakened vowels exact", "weakened vowels exact", Place.OUTSIDE, Follows.NOTHING,
        switch("weakened vowels exact", lambda order: order.weak_exact),
    ),
    Kind(
        syntax.Word, "word", "word Niamh = n + ia /iː/ + mh /v/", Place.OUTSIDE, Follows.READING,
        Words("readings pinned", lambda order: order.pinned, None, "another reading pinned"),
    ),
)  # fmt: skip
"""In the order in which messages list the keywords."""

KIND_OF = {kind.statement: kind for kind in KINDS}
SETTINGS = tuple(sorted((kind.setting for kind in KINDS if kind.setting), key=lambda s: s.rank))
"""The settings in the order in which changes of them are told."""
RULES = tuple(kind.setting.rule for kind in KINDS if kind.setting and kind.setting.rule)
"""The rules of a brief."""
LESSONS = tuple(kind.opening for kind in KINDS if kind.place is Place.INSIDE)
"""What opens a statement that teaches something."""


def place_of(statement: syntax.Statement) -> Place:
    """Where a statement stands in a file."""
    return KIND_OF[type(statement)].place
