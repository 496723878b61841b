"""Check a text: number its stretches, judge each distinct word once, settle what depends on its place, count."""

from __future__ import annotations

import re
from array import array
from collections import Counter
from collections.abc import Iterator

import numpy as np

from decodecheck.checking.report import TextReport
from decodecheck.checking.senses import Senses
from decodecheck.checking.settle import Piece, Settle, SettledWord, Settler, Tagger
from decodecheck.checking.values import Entry, Forms, Occurrence
from decodecheck.checking.vocabulary import CONTEXT, HYPHENS, PLACED, Numbers, Vocabulary
from decodecheck.documents.document import Document
from decodecheck.garbage import collection_paused
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import BLOCKED, STATUSES, UNJUDGED, UNSURE
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.source import SourceText

REACH = 8
"""Blanks that may stand between a hyphen and its line end."""
PIECE = 1 << 18
"""Characters of a text that are looked at in one go."""
FEW = 2_000
"""Fewer stretches than these are counted one by one; more in a column for all that is known, which is large."""
_LINE_END = re.compile(r"\r\n|\n|\r")


class Checker:
    """Checks texts against one judge; stretches seen in one text are known in the next."""

    def __init__(self, judge: Judge, tagger: Tagger | None = None) -> None:
        self.judge = judge
        self.tagger = tagger
        self.senses = Senses(judge.lookup)
        self.vocabulary = Vocabulary(judge, self.senses)

    def check(
        self, text: Document | SourceText, *, every_word: bool = False, settled: Settle | None = None
    ) -> TextReport:
        """The report on one text. `every_word` keeps the places of words that are fine, too; `settled` gives senses that were
        settled by hand, by plain word and place."""
        document = text if isinstance(text, Document) else Document.of(text)
        settler = Settler(document, self.vocabulary, self.senses, self.judge, settled, self.tagger)
        tally = _Tally(self.vocabulary)
        with collection_paused():
            for offset, piece in _pieces(document.text):
                tally.add(_cut(self.vocabulary, piece, offset), settler, every_word)
            return tally.report(document, self.judge, every_word)


class _Tally:
    """Counts the forms of one document, and collects the places that are told."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.times: Counter[int] = Counter()
        """How often each stretch stands where its place does not matter."""
        self.settled: list[SettledWord] = []
        self.plain_sites: list[tuple[Numbers, Numbers, Numbers]] = []
        """Starts, ends and forms of words that are told, and whose place does not matter."""

    def add(self, piece: Piece, settler: Settler, every_word: bool) -> None:
        """Take in the next piece of the document."""
        v, numbers = self.vocabulary, piece.numbers
        flags = np.frombuffer(v.flags, np.uint8)[numbers]
        single = np.frombuffer(v.single, np.int64)[numbers]
        one_by_one = np.ones(len(numbers), bool) if every_word else flags & CONTEXT > 0
        by_itself = ~one_by_one
        gone = -1
        for at in np.flatnonzero(one_by_one).tolist():
            if at == gone:
                continue
            words, joined = settler.settle(piece, at)
            self.settled += words
            if joined:
                gone = at + 1
                by_itself[gone] = False
        self._count(numbers[by_itself])
        told = (flags & PLACED > 0) & by_itself
        if not told.any():
            return
        alone = np.flatnonzero(told & (single >= 0))
        which, starts = numbers[alone], piece.starts[alone] + piece.offset
        first, last = (np.frombuffer(column, np.int64)[which] for column in (v.starts, v.ends))
        self.plain_sites.append((starts + first, starts + last, single[alone]))
        several = [
            (
                int(piece.starts[at]) + piece.offset + part.start,
                int(piece.starts[at]) + piece.offset + part.end,
                part.form,
            )
            for at in np.flatnonzero(told & (single < 0)).tolist()
            for part in v.parts(int(numbers[at]))
            if v.status(part.form) in (BLOCKED, UNSURE)
        ]
        if several:
            rows = np.array(several, np.int64)
            self.plain_sites.append((rows[:, 0], rows[:, 1], rows[:, 2]))

    def _count(self, numbers: Numbers) -> None:
        if len(numbers) < FEW:
            self.times.update(numbers.tolist())
            return
        times = np.bincount(numbers)
        seen = np.flatnonzero(times)
        self.times.update(dict(zip(seen.tolist(), times[seen].tolist())))

    def report(self, document: Document, judge: Judge, every_word: bool) -> TextReport:
        """Everything that was taken in, as a report."""
        counts: Counter[str] = Counter()
        unjudged: Counter[str] = Counter()
        forms = self._forms(counts, unjudged)
        settled = []
        for o in self._settled_occurrences():
            counts[o.status] += o.times
            if o.status == UNJUDGED:
                unjudged[o.form] += o.times
            else:
                settled.append(o)
        entries, starts, ends, which = self._sites(every_word)
        return TextReport(
            document, judge.order, judge.step, every_word, counts, unjudged, forms, tuple(settled), entries, starts, ends, which
        )  # fmt: skip

    def _forms(self, counts: Counter[str], unjudged: Counter[str]) -> Forms:
        """The judged forms whose place does not matter; all are added to the counts."""
        v = self.vocabulary
        often: dict[int, int] = {}
        single, known = v.single, often.get
        # only what this text has: in a folder of short ones, that is little of what is known by then
        for stretch, number in self.times.items():
            alone = single[stretch]
            if alone >= 0:
                often[alone] = known(alone, 0) + number
                continue
            for part in v.parts(stretch):
                often[part.form] = known(part.form, 0) + number
        forms = sorted(often)
        totals = [0] * len(STATUSES)
        for form in forms:
            totals[v.statuses[form]] += often[form]
        counts.update({status: total for status, total in zip(STATUSES, totals) if total})
        if counts[UNJUDGED]:
            none = STATUSES.index(UNJUDGED)
            for form in [form for form in forms if v.statuses[form] == none]:
                unjudged[v.forms[form]] += often.pop(form)
            forms = sorted(often)
        return Forms(
            tuple(map(v.forms.__getitem__, forms)),
            tuple(map(v.plain.__getitem__, forms)),
            bytes(map(v.statuses.__getitem__, forms)),
            array("H", map(v.steps.__getitem__, forms)),
            array("Q", map(often.__getitem__, forms)),
        )

    def _settled_occurrences(self) -> Iterator[Occurrence]:
        for key, times in Counter((w.form, w.sense, w.status, w.first_step) for w in self.settled).items():
            form, sense, status, step = key
            yield Occurrence(form, plain_spelling(form).plain, sense, status, step, times)

    def _sites(self, every_word: bool) -> tuple[tuple[Entry, ...], array[int], array[int], array[int]]:
        """What is told, and where, in the order of the text: (entries, starts, ends, numbers of entries)."""
        told = [w for w in self.settled if w.status in (BLOCKED, UNSURE) or (every_word and w.status != UNJUDGED)]
        if not told and not self.plain_sites:
            return (), array("I"), array("I"), array("I")
        own: dict[Entry, int] = {}
        numbers = [own.setdefault(Entry(w.form, w.name, w.sense), len(own)) for w in told]
        entries = list(own)
        columns = [
            (
                np.array([w.start for w in told], np.int64),
                np.array([w.end for w in told], np.int64),
                np.array(numbers, np.int64),
            )
        ]
        if self.plain_sites:
            starts, ends, forms = (np.concatenate(column) for column in zip(*self.plain_sites))
            distinct, which = np.unique(forms, return_inverse=True)
            columns.append((starts, ends, which + len(entries)))
            entries += [Entry(self.vocabulary.forms[form], False, "") for form in distinct.tolist()]
        starts, ends, which = (np.concatenate(column) for column in zip(*columns))
        order = np.argsort(starts, kind="stable")
        first, last, number = (
            array("I", column[order].astype(np.uint32).tobytes()) for column in (starts, ends, which)
        )
        return tuple(entries), first, last, number


def _cut(vocabulary: Vocabulary, text: str, offset: int) -> Piece:
    """A piece of a document, divided at white space."""
    stretches = text.split()
    return Piece(text, offset, stretches, vocabulary.numbers(stretches), _starts(text))


_SPACES = np.array([chr(code).isspace() for code in range(0x3002)])
"""Whether a character is white space; the last one listed stands for all above it, of which none is (Unicode's White_Space)."""


def _starts(text: str) -> Numbers:
    """Where the stretches of a text start."""
    if text.isascii():
        space = _SPACES[np.frombuffer(text.encode("ascii"), np.uint8)]
    else:
        codes = np.frombuffer(text.encode("utf-32-le", "surrogatepass"), np.uint32)
        space = _SPACES[np.minimum(codes, len(_SPACES) - 1)]
    starts = ~space
    starts[1:] &= space[:-1]
    return np.flatnonzero(starts)


def _pieces(text: str) -> Iterator[tuple[int, str]]:
    """The text in pieces that end with a line, but not one that a hyphen ends."""
    start = 0
    while start < len(text):
        end = start + PIECE
        if end >= len(text):
            yield start, text[start:]
            return
        line = _LINE_END.search(text, end)
        while line and text[max(0, line.start() - REACH) : line.start()].rstrip(" \t")[-1:] in tuple(HYPHENS):
            line = _LINE_END.search(text, line.end())
        at = line.end() if line else len(text)
        yield start, text[start:at]
        start = at
