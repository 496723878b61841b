"""What a report is made of: findings, words with their places, columns of forms, and what is told of one."""

from __future__ import annotations

import re
from array import array
from dataclasses import dataclass
from typing import NamedTuple

from decodecheck.checking.kinds import Kind
from decodecheck.documents.document import Place
from decodecheck.judging.verdict import Blocker, Verdict
from decodecheck.lexicon.lookup import plain_spelling

_DIVISION = re.compile(r"[\s-]+")


@dataclass(frozen=True, slots=True)
class Finding:
    """One occurrence of something that is to be told. Offsets are into the text, `end` and `end_place` are exclusive.

    `status` is that of the word, "" for a kind that is not about one word.
    """

    kind: str
    severity: str
    word: str
    status: str
    start: int
    end: int
    place: Place
    end_place: Place
    blockers: tuple[Blocker, ...]
    message: str
    remedy: str
    excerpt: str = ""
    """The line of a file that it stands in, where that is no line of the text."""

    @property
    def plain(self) -> str:
        """The word in its plain spelling, without the hyphens and blanks at which a line end may divide it today and not tomorrow."""
        return _DIVISION.sub("", plain_spelling(self.word).plain)


@dataclass(frozen=True, slots=True)
class WordAt:
    """One occurrence of any word, with its verdict."""

    word: str
    start: int
    end: int
    verdict: Verdict


class Occurrence(NamedTuple):
    """A form as it stands, its plain spelling, the sense that its place decided ("" where none did), its status and first step
    there, and how often it occurs so."""

    form: str
    plain: str
    sense: str
    status: str
    first_step: int
    times: int


class Forms(NamedTuple):
    """Columns of forms: how they are written, their plain spelling, where their status stands in STATUSES, their first step, how
    often they occur."""

    written: tuple[str, ...] = ()
    plain: tuple[str, ...] = ()
    ranks: bytes = b""
    steps: array[int] = array("H")
    times: array[int] = array("Q")


class Entry(NamedTuple):
    """A form that is told, with what its place decided: whether it is a name there, its sense ("" where that is open), whether it is allowed
    there by hand."""

    form: str
    name: bool
    sense: str
    allowed: bool = False


@dataclass(frozen=True, slots=True)
class Word:
    """A distinct word of a text, whatever its capitals and senses there: the worst status, the step from which every occurrence
    can be read (NEVER if none), and the form and sense of the occurrence that has this status and comes last."""

    status: str
    first_step: int
    form: str
    sense: str = ""


class Told(NamedTuple):
    """What is told of a form: the kind of finding, its verdict, message and remedy."""

    kind: Kind
    verdict: Verdict
    message: str
    remedy: str
