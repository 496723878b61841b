"""A text line by line, its words divided into letters that stand in the way and others. Nothing in it that may not be printed is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby, pairwise
from typing import NamedTuple

from decodecheck.checking.report import TextReport
from decodecheck.checking.values import where_they_stand
from decodecheck.judging.verdict import BLOCKED, UNSURE, Blocker
from decodecheck.printing import safe
from decodecheck.reports.marks import owners
from decodecheck.reports.told import elsewhere


class Letters(NamedTuple):
    """A run of letters that stand in the way together, or of letters that do not."""

    text: str
    in_the_way: bool


class Piece(NamedTuple):
    """A stretch of a line: of a word that is told its letters and status, or what stands between such words. `start` is where the
    word starts in the text; -1 of what is no such word, and of the rest of a word that a line end divides."""

    letters: tuple[Letters, ...]
    status: str = ""
    start: int = -1


class Line(NamedTuple):
    """A line of a text with its number, or its place where the file has no lines. One without pieces is blank."""

    place: str
    pieces: tuple[Piece, ...]


def marked_lines(report: TextReport, first: int = 0, last: int | None = None) -> Iterator[Line]:
    """The lines of a text, or those from `first` (0: the first one) up to `last`, which is left out."""
    document = report.document
    starts = [*document.line_starts, len(document.text) + 1][first : None if last is None else last + 1]
    words = _told(report, starts[0] if starts else 0)
    word = next(words, None)
    for start, following in pairwise(starts):
        end = start + len(document.text[start:following].rstrip("\r\n"))
        pieces: list[Piece] = []
        at = start
        while word and word.start < end:
            if word.start > at:
                pieces.append(Piece(_divided(document.text[at : word.start], {})))
            here = max(word.start, at)
            pieces.append(_piece(document.text, word, here, min(word.end, end)))
            at = min(word.end, end)
            if word.end > end:
                break
            word = next(words, None)
        if at < end:
            pieces.append(Piece(_divided(document.text[at:end], {})))
        place = document.place(start)
        yield Line(elsewhere(place) or str(place.line), tuple(pieces) if document.text[start:end].strip() else ())


class _Word(NamedTuple):
    start: int
    end: int
    status: str
    in_the_way: dict[int, int]


def _told(report: TextReport, first: int) -> Iterator[_Word]:
    """The words that are blocked or to be checked by eye and end after an offset, with what their letters in the way belong to."""
    for start, end, entry in report.sites:
        if end <= first:
            continue
        verdict = report.verdict(entry)
        if verdict.status == BLOCKED:
            # what is not in single letters, such as a structure, is in the way as the whole word
            word = report.document.text[start:end]
            hindrance = where_they_stand(verdict.blockers, word, entry.form)
            own = owners(word, hindrance) or dict.fromkeys(range(end - start), 0)
            yield _Word(start, end, BLOCKED, own)
        elif verdict.status == UNSURE:
            yield _Word(start, end, UNSURE, {})


def _piece(text: str, word: _Word, start: int, end: int) -> Piece:
    before = start - word.start
    own = {at - before: number for at, number in word.in_the_way.items()}
    return Piece(_divided(text[start:end], own), word.status, word.start if start == word.start else -1)


def _divided(word: str, own: Mapping[int, int]) -> tuple[Letters, ...]:
    """A word in runs of letters, by the number of what they belong to."""
    shown = safe(word.replace("\t", " "))
    runs = groupby(range(len(word)), own.get)
    return tuple(Letters("".join(shown[at] for at in letters), number is not None) for number, letters in runs)


def marked_word(word: str, blockers: Sequence[Blocker]) -> tuple[Letters, ...]:
    """A word by itself with the letters that are in its way."""
    return _divided(word, owners(word, blockers))
