"""What only the place of a word decides: whether it is a name, which sense is meant, whether a line end divides it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from decodecheck.checking.context import choose, neighbours
from decodecheck.checking.senses import Senses
from decodecheck.checking.vocabulary import HYPHENS, Numbers, Part, Vocabulary
from decodecheck.documents.document import Document, Place
from decodecheck.documents.sentences import STOPS, starts_sentence
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import ALLOWED, UNJUDGED
from decodecheck.lexicon.lookup import plain_spelling

_MARKS = frozenset(STOPS + ",")
"""What ends a sentence, or what is said."""
_ONE_LINE_END = re.compile(r"[ \t]*(?:\r\n|\n|\r)[ \t]*\Z")

Settle = Callable[[str, Place], str]
"""The sense that somebody settled by hand for a plain word at a place, "" where nobody did."""
Tagger = Callable[[str, int, int], str]
"""The part of speech of text[start:end] by a trained tagger, "" where it has none."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a document: its text, where it starts there, and its stretches with their numbers and starts in the piece."""

    text: str
    offset: int
    stretches: Sequence[str]
    numbers: Numbers
    starts: Numbers


class SettledWord(NamedTuple):
    """A word at its place: where it stands in the document, its form, whether it is a name there, its sense ("" where open), its
    status and first step there."""

    start: int
    end: int
    form: str
    name: bool
    sense: str
    status: str
    first_step: int


class Settler:
    """Settles words of one document."""

    def __init__(
        self,
        document: Document,
        vocabulary: Vocabulary,
        senses: Senses,
        judge: Judge,
        by_hand: Settle | None,
        tagger: Tagger | None,
    ) -> None:
        self.document = document
        self.vocabulary = vocabulary
        self.senses = senses
        self.judge = judge
        self.by_hand = by_hand
        self.tagger = tagger

    def settle(self, piece: Piece, at: int) -> tuple[list[SettledWord], bool]:
        """The words of a stretch at its place, and whether those of the next one are among them: a line end divides a word."""
        start = piece.offset + int(piece.starts[at])
        parts = self.vocabulary.parts(int(piece.numbers[at]))
        before = int(piece.starts[at - 1]) + len(piece.stretches[at - 1]) if at else 0
        first = starts_sentence(piece.text, int(piece.starts[at]), before)
        joined = self._joined(piece, at, parts)
        own = parts[:-1] if joined else parts
        found = [self._part(part, start, first and n == 0) for n, part in enumerate(own)]
        if joined:
            form, end, others = joined
            known = self.judge.status(form)
            found.append(self._word(start + parts[-1].start, end, form, first and not own, known))
            after = piece.offset + int(piece.starts[at + 1])
            found += [self._as_known(part, after) for part in others]
        return found, joined is not None

    def _part(self, part: Part, start: int, starts_sentence: bool) -> SettledWord:
        if not self.vocabulary.is_word(part.form):
            return self._as_known(part, start)
        v, form = self.vocabulary, part.form
        known = v.status(form), v.steps[form]
        return self._word(start + part.start, start + part.end, v.forms[form], starts_sentence, known)

    def _as_known(self, part: Part, start: int) -> SettledWord:
        v, form = self.vocabulary, part.form
        return SettledWord(
            start + part.start, start + part.end, v.forms[form], False, "", v.status(form), v.steps[form]
        )

    def _word(self, start: int, end: int, form: str, starts_sentence: bool, known: tuple[str, int]) -> SettledWord:
        """A word at its place; `known` is its status and first step where its place decides nothing."""
        name = form[:1].isupper() and not starts_sentence and self.judge.is_name(form)
        if name and self.judge.order.skip_names:
            return SettledWord(start, end, form, True, "", ALLOWED, 0)
        sense = self._sense(form, start, end)
        if sense:
            verdict = self.judge.judge(form, sense)
            return SettledWord(start, end, form, name, sense, verdict.status, verdict.first_step)
        return SettledWord(start, end, form, name, "", *known)

    def _sense(self, form: str, start: int, end: int) -> str:
        """Which sense of a heteronym is meant: as settled by hand, else by the words around it; "" where that is open."""
        choices = self.senses.choices(form)
        if not choices:
            return ""
        word = plain_spelling(form).plain
        if self.by_hand:
            sense = self.by_hand(word, self.document.place(start))
            if sense in [c.label for c in choices]:
                return sense
        text = self.document.text
        around = neighbours(text, start, end)
        if not around.before and not around.after and text[end : end + 1] not in _MARKS:
            # a word of a list or a label is no sentence, and nothing says which sense it has
            return ""
        tag = self.tagger(text, start, end) if self.tagger else ""
        return choose(word, around, choices, tag) or ""

    def _joined(self, piece: Piece, at: int, parts: Sequence[Part]) -> tuple[str, int, Sequence[Part]] | None:
        """A word divided at the end of a line: (the word, where its second half ends, what follows in that stretch), if it is one."""
        stretch, v = piece.stretches[at], self.vocabulary
        if stretch[-1] not in HYPHENS or not parts or v.status(parts[-1].form) == UNJUDGED:
            return None
        if at + 1 == len(piece.stretches) or not piece.stretches[at + 1][0].islower():
            return None
        end, after = int(piece.starts[at]) + len(stretch), int(piece.starts[at + 1])
        second = v.parts(int(piece.numbers[at + 1]))
        if not _ONE_LINE_END.match(piece.text[end:after]):
            return None
        if not second or second[0].start or v.status(second[0].form) == UNJUDGED:
            return None
        form = stretch[parts[-1].start :].rstrip(HYPHENS) + v.forms[second[0].form]
        if not self.judge.lookup.readings(plain_spelling(form).plain):
            return None
        return form, piece.offset + after + second[0].end, second[1:]
