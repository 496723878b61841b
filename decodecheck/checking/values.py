"""What a report is made of: findings, words with their places, columns of forms, and what is told of one."""

from __future__ import annotations

import re
from array import array
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

from decodecheck.checking.kinds import Kind
from decodecheck.documents.document import Place
from decodecheck.judging.verdict import STATUSES, Blocker, Verdict
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


def where_they_stand(hindrance: tuple[Blocker, ...], word: str, form: str) -> tuple[Blocker, ...]:
    """Blockers with the places of their letters in the word as the text has it: a line end may divide it (bre- ad)."""
    if len(word) == len(form):
        return hindrance
    places: list[int] = []
    for letter in form:
        at = word.find(letter, places[-1] + 1 if places else 0)
        if at < 0:
            return hindrance
        places.append(at)
    return tuple(replace(b, letters=tuple(places[i] for i in b.letters)) for b in hindrance)


def by_word(occurrences: Iterable[Occurrence]) -> dict[str, Word]:
    """Forms by their plain spelling, each word with its worst status and its latest step."""
    rank = {status: n for n, status in enumerate(STATUSES)}
    found: dict[str, Word] = {}
    for form, plain, sense, status, step, _ in occurrences:
        old = found.get(plain)
        if old is None:
            found[plain] = Word(status, step, form, sense)
        elif (rank[status], step) > (rank[old.status], old.first_step):
            found[plain] = Word(status, max(step, old.first_step), form, sense)
        elif step > old.first_step:
            found[plain] = Word(old.status, step, old.form, old.sense)
    return found


class Told(NamedTuple):
    """What is told of a form: the kind of finding, its verdict, message and remedy."""

    kind: Kind
    verdict: Verdict
    message: str
    remedy: str
