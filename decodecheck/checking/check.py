"""Check a text: cut it, judge each distinct word once, settle what depends on its place, report with positions."""

from __future__ import annotations

import gc
import re
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from decodecheck.checking.context import choose, neighbours
from decodecheck.checking.judge import Judge
from decodecheck.checking.report import TextReport
from decodecheck.checking.verdict import (
    ALLOWED,
    BLOCKED,
    DECODABLE,
    TRICKY,
    UNJUDGED,
    UNSURE,
)
from decodecheck.documents.words import PLAIN, STRETCH, cut
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.source import SourceText

REACH = 8
"""Blanks that may stand between a hyphen and its line end."""
PIECE = 1 << 18
"""Characters of a text that are held as a list of stretches at a time."""
_STOPS = (".", "!", "?", "…", ":")
_CLOSERS = "\"'”’)]"
_OPENING = "\"'“‘(["
_FINE = frozenset((DECODABLE, TRICKY))
_HYPHENS = "-\u2010\u00ad"
_LINE_END = re.compile(r"\r\n|\n|\r")
_ONE_LINE_END = re.compile(r"[ \t]*(?:\r\n|\n|\r)[ \t]*\Z")


Settle = Callable[[str, int], str]
"""The sense that somebody settled by hand for a plain word in a line, "" where nobody did."""
Tagger = Callable[[str, int, int], str]
"""The part of speech of text[start:end] by a trained tagger, "" where it has none."""
_Part = tuple[int, int, str, str]
"""A word inside a stretch: start, end, form, status (UNJUDGED for what is no word)."""


class Checker:
    """Checks texts against one judge; stretches seen in one text are known in the next."""

    def __init__(self, judge: Judge, tagger: Tagger | None = None) -> None:
        self.judge = judge
        self.tagger = tagger
        self._by_hand: Settle | None = None
        self._parts: dict[str, tuple[_Part, ...]] = {}
        self._placed: dict[str, tuple[_Part, ...]] = {}  # stretches with words that need a position, and those words
        self._contextual: set[str] = set()  # those of them that their neighbours may change
        self._ambiguous: set[str] = set()  # stretches with a word of several sounds

    def check(self, source: SourceText, *, every_word: bool = False, settled: Settle | None = None) -> TextReport:
        """The report on one text. `every_word` keeps the places of words that are fine, too; `settled` gives senses that were
        settled by hand, by plain word and line."""
        with _collection_paused():
            return self._check(source, every_word, settled)

    def _check(self, source: SourceText, every_word: bool, by_hand: Settle | None) -> TextReport:
        report = TextReport(source, self.judge, every_word)
        self._by_hand = by_hand
        tally: Counter[str] = Counter()
        settled: Counter[str] = Counter()
        for start, piece in _pieces(source.text):
            stretches = STRETCH.findall(piece)
            tally.update(stretches)
            distinct = set(stretches)
            for stretch in distinct.difference(self._parts):
                self._learn(stretch)
            if every_word or not distinct.isdisjoint(self._placed):
                self._place(report, piece, start, settled, every_word)
        forms: Counter[tuple[str, str]] = Counter()
        for stretch, times in (tally - settled).items():
            for part in self._parts[stretch]:
                forms[part[2], part[3]] += times
        for (form, status), times in forms.items():
            self._count(report, form, status, times)
        return report

    def _learn(self, stretch: str) -> None:
        plain = PLAIN.match(stretch)
        if plain and stretch[0] not in "'’‘":
            status = self.judge.status(plain[1])[0]
            if self.judge.choices(plain[1]):
                self._ambiguous.add(stretch)
            if status in _FINE and not plain[2].startswith(("'", "’")) and not self.judge.order.skip_names:
                self._parts[stretch] = ((plain.start(1), plain.end(1), plain[1], status),)
                return
        parts: list[_Part] = []
        contextual = len(stretch) > 1 and stretch[-1] in _HYPHENS and stretch[-2].isalpha()
        placed = False
        for piece in cut(stretch):
            form = stretch[piece.start : piece.end]
            status = self.judge.status(form)[0] if piece.kind == "word" else UNJUDGED
            if status in (BLOCKED, UNSURE):
                placed = True
            if piece.kind == "word" and self.judge.choices(form):
                self._ambiguous.add(stretch)
                contextual = contextual or status in (BLOCKED, UNSURE)
            if piece.kind == "word" and form[:1].isupper() and status != ALLOWED:
                contextual = contextual or (
                    (status == UNSURE or self.judge.order.skip_names) and self.judge.is_name(form)
                )
            parts.append((piece.start, piece.end, form, status))
        self._parts[stretch] = tuple(parts)
        if contextual:
            self._contextual.add(stretch)
        if contextual or placed:
            self._placed[stretch] = tuple(p for p in parts if p[3] in (BLOCKED, UNSURE))

    def _count(self, report: TextReport, form: str, status: str, times: int, sense: str = "") -> None:
        report.counts[status] += times
        if status == UNJUDGED:
            report.unjudged[form] += times
            return
        report.occurrences[form, sense, status] += times

    def _place(self, report: TextReport, piece: str, offset: int, settled: Counter[str], every_word: bool) -> None:
        """Go through a piece in order, with positions, for the stretches that need them."""
        sites, forms = report.sites, report.forms
        find = self._parts.get if every_word else self._placed.get
        contextual = self._contextual
        before: re.Match[str] | None = None
        skip_to = -1
        for match in STRETCH.finditer(piece):
            found = find(match[0])
            if found is not None:
                start = match.start()
                if start < skip_to:
                    pass
                elif match[0] in contextual or (every_word and match[0] in self._ambiguous):
                    starts = _starts_sentence(piece, start, before)
                    skip_to = self._in_context(report, piece, offset, start, match[0], starts, settled)
                else:
                    for a, b, form, status in found:
                        if status != UNJUDGED:
                            number = forms.setdefault((form, False, ""), len(forms))
                            sites.extend((offset + start + a, offset + start + b, number))
            before = match

    def _in_context(
        self, report: TextReport, piece: str, offset: int, start: int, stretch: str, starts: bool, settled: Counter[str]
    ) -> int:
        """Settle a stretch by its place: names, and words that a line end divides. Returns where to go on."""
        settled[stretch] += 1
        go_on = -1
        later: list[tuple[int, int, str, str]] = []
        parts = self._parts[stretch]
        joined = self._joined(piece, start, stretch)
        if joined:
            form, end, after = joined
            settled[after] += 1
            last = parts[-1]
            parts = (*parts[:-1], (last[0], end - start, form, self.judge.status(form)[0]))
            second = self._parts[after]
            base = offset + end - second[0][1]
            later = [(base + a, base + b, other, status) for a, b, other, status in second[1:]]
            go_on = end
        for index, (a, b, form, status) in enumerate(parts):
            name = form[:1].isupper() and not (starts and index == 0) and self.judge.is_name(form)
            if name and self.judge.order.skip_names:
                status = ALLOWED
            sense = self._sense(report, form, offset + start + a, offset + start + b)
            if sense:
                status = self.judge.judge(form, sense).status
            self._site(report, offset + start + a, offset + start + b, form, name, status, sense)
        for first, last_end, form, status in later:
            self._site(report, first, last_end, form, False, status)
        return go_on

    def _sense(self, report: TextReport, form: str, start: int, end: int) -> str:
        """Which sense of a heteronym is meant: as settled by hand, else by the words around it; "" where that is open."""
        choices = self.judge.choices(form)
        if not choices:
            return ""
        word = plain_spelling(form).plain
        if self._by_hand:
            sense = self._by_hand(word, report.source.place(start)[0])
            if sense in [c.label for c in choices]:
                return sense
        tag = self.tagger(report.source.text, start, end) if self.tagger else ""
        return choose(word, neighbours(report.source.text, start, end), choices, tag) or ""

    def _site(
        self, report: TextReport, start: int, end: int, form: str, name: bool, status: str, sense: str = ""
    ) -> None:
        self._count(report, form, status, 1, sense)
        if status in (BLOCKED, UNSURE) or (report.every_word and status != UNJUDGED):
            report.sites.extend((start, end, report.forms.setdefault((form, name, sense), len(report.forms))))

    def _joined(self, piece: str, start: int, stretch: str) -> tuple[str, int, str] | None:
        """A word divided at the end of a line: (the word, where its second half ends, the stretch that follows), if it is one."""
        end = start + len(stretch)
        parts = self._parts[stretch]
        if stretch[-1] not in _HYPHENS or not parts or parts[-1][3] == UNJUDGED:
            return None
        following = STRETCH.search(piece, end)
        between = piece[end : following.start()] if following else ""
        if not following or not _ONE_LINE_END.match(between) or not following[0][0].islower():
            return None
        second = self._parts.get(following[0]) or ()
        if not second or second[0][0] != 0 or second[0][3] == UNJUDGED:
            return None
        form = stretch[parts[-1][0] :].rstrip(_HYPHENS) + second[0][2]
        if not self.judge.lookup.readings(plain_spelling(form).plain):
            return None
        return form, following.start() + second[0][1], following[0]


@contextmanager
def _collection_paused() -> Iterator[None]:
    """Keep Python's cycle collector off: a check makes many small objects, none in cycles (a fifth of its time)."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _pieces(text: str) -> Iterator[tuple[int, str]]:
    """The text in pieces that end with a line, but not one that a hyphen ends."""
    start = 0
    while start < len(text):
        end = start + PIECE
        if end >= len(text):
            yield start, text[start:]
            return
        line = _LINE_END.search(text, end)
        while line and text[max(0, line.start() - REACH) : line.start()].rstrip(" \t")[-1:] in tuple(_HYPHENS):
            line = _LINE_END.search(text, line.end())
        at = line.end() if line else len(text)
        yield start, text[start:at]
        start = at


def _starts_sentence(piece: str, start: int, before: re.Match[str] | None) -> bool:
    """Does a sentence start here: after a full stop or the like, a blank line, or with an opening quotation mark?"""
    if before is None or piece[start] in _OPENING:
        return True
    if before[0].rstrip(_CLOSERS).endswith(_STOPS):
        return True
    return len(_LINE_END.findall(piece, before.end(), start)) > 1
