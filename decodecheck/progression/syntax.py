"""What a progression file says, statement by statement, with the place of everything a message may point at."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Text:
    """A piece of the source: what it says and its 1-based column. Two are equal if they say the same."""

    value: str
    column: int = field(default=0, compare=False)
    width: int = field(default=1, compare=False)

    def __str__(self) -> str:
        return self.value


@dataclass(frozen=True, slots=True)
class Item:
    """`ow as in grow and town, at word end`: a grapheme (or ending, capital, combination), words, place ("", start, end)."""

    name: Text
    words: tuple[Text, ...] = ()
    place: str = ""


@dataclass(frozen=True, slots=True)
class Shape:
    """A word structure: `CCVC` or `2 syllables` (then `name` is the number)."""

    name: Text
    syllables: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """One grapheme of a pinned reading and its sound in IPA (none where the usual one is meant)."""

    name: Text
    ipa: Text | None = None


@dataclass(frozen=True, slots=True)
class Progression:
    """`progression "NAME"`"""

    title: Text


@dataclass(frozen=True, slots=True)
class Accent:
    """`accent NAME`"""

    name: Text


@dataclass(frozen=True, slots=True)
class Include:
    """`include "FILE"`: build on another progression."""

    path: Text


@dataclass(frozen=True, slots=True)
class Step:
    """`step NUMBER "TITLE"`: what follows is taught here."""

    number: Text
    title: Text | None = None


@dataclass(frozen=True, slots=True)
class Teach:
    """`teach ITEM, ITEM`"""

    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Together:
    """`together NAME, NAME`: combinations taught as one item."""

    names: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class Structure:
    """`structure CCVC, 2 syllables`"""

    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Tricky:
    """`tricky WORD, WORD`"""

    words: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class Capitals:
    """`capitals from step NUMBER`"""

    number: Text


@dataclass(frozen=True, slots=True)
class Doubled:
    """`doubled letters from step NUMBER`: for doubles that no statement mentions."""

    number: Text


@dataclass(frozen=True, slots=True)
class AllowNames:
    """`allow names Tilda, Mr Pike`"""

    names: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class AllowSounds:
    """`allow sounds brrr, moo`"""

    words: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class SkipNames:
    """`skip all names`: no name is judged."""


@dataclass(frozen=True, slots=True)
class Weakened:
    """`weakened vowels exact`: a weakened vowel counts only where it is taught as such."""


@dataclass(frozen=True, slots=True)
class Word:
    """`word Niamh = n + ia /iː/ + mh /v/`: a pinned reading."""

    word: Text
    parts: tuple[Part, ...]


Lesson = Teach | Together | Structure | Tricky
"""What stands inside a step: something that is taught there."""
Single = Progression | Accent | Capitals | Doubled | Word
"""Statements of which one holds (of `word`, one for each word)."""
Repeated = AllowNames | AllowSounds | SkipNames | Weakened
"""Statements outside steps that may be said again; what they say adds up."""
Statement = Include | Step | Lesson | Single | Repeated


@dataclass(frozen=True, slots=True)
class Lag:
    """`lag NUMBER`: so many steps behind."""

    number: Text


@dataclass(frozen=True, slots=True)
class Also:
    """`also ITEM, ITEM`, `also tricky WORD`: taught to a group before its step."""

    lesson: Lesson


@dataclass(frozen=True, slots=True)
class Without:
    """`except ITEM, ITEM`, `except tricky WORD`: not yet taught to a group at its step."""

    lesson: Lesson


@dataclass(frozen=True, slots=True)
class StepExpression:
    """`14 also igh as in light`: a step, and how a group differs from it."""

    number: Text
    clauses: tuple[Lag | Also | Without, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a file: its statement, its comment, both or neither."""

    number: int = field(compare=False)
    statement: Statement | None = None
    comment: str = ""


@dataclass(frozen=True, slots=True)
class Source:
    """A parsed file: its lines in order, and the text for excerpts."""

    path: str = field(compare=False)
    lines: tuple[Line, ...]
    text: tuple[str, ...] = field(compare=False, default=())
