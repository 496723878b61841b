"""Checks texts for the page. What is known of words is kept from request to request; no text is."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.checking.settle import Settle
from decodecheck.documents.document import Document, Place
from decodecheck.errors import Problem, UserError
from decodecheck.judging.judge import judge_at
from decodecheck.progression.step_expression import Standing
from decodecheck.web.asked import EVERYWHERE, Asked, Settled
from decodecheck.web.teaching import Teaching

NAME = "the text"
EMPTY = "empty"
"""The code of the problem that there is no text yet."""
LONGEST_PASSAGE = 4000
"""Characters around a word that are looked at to explain it."""
MOST_FORMS = 60_000
"""Forms of which an order keeps what was learnt, in all its steps; with more of them it begins anew, so that a page that runs for months stays small."""
_BLANK_LINE = re.compile(r"\n[ \t]*\n")


@dataclass(frozen=True, slots=True)
class Passage:
    """The paragraph around a word: where it starts in the text, and the report on it with every word."""

    start: int
    report: TextReport


class Desk:
    """Answers what the page asks about texts. One thread at a time: what is learnt of words is shared."""

    def __init__(self, teaching: Teaching | None = None) -> None:
        self.teaching = teaching or Teaching()

    def standing(self, asked: Asked) -> Standing:
        """Where the readers stand. Raises UserError for an order or a step that is wrong."""
        return self.teaching.standing(asked)

    def check(self, asked: Asked, *, every_word: bool = False) -> TextReport:
        """The report on the text; with `every_word`, with the places of those that are fine, too. Raises UserError for an empty one, and for an order or a step that is wrong."""
        standing = self.standing(asked)
        if not asked.text.strip():
            what, todo = "There is no text yet.", "Paste one, write one, or drop a file."
            raise UserError(Problem(NAME, what, todo, code=EMPTY))
        document = Document(NAME, asked.text)
        return self.checker(standing).check(
            document, every_word=every_word, settled=by_hand(asked.text, 0, asked.settled)
        )

    def passage(self, asked: Asked, start: int) -> Passage:
        """The report on the paragraph that holds an offset, with every word of it."""
        standing = self.standing(asked)
        first, last = around(asked.text, start)
        settled = by_hand(asked.text, first, asked.settled)
        document = Document(NAME, asked.text[first:last])
        return Passage(first, self.checker(standing).check(document, every_word=True, settled=settled))

    def checker(self, standing: Standing) -> Checker:
        """The checker of a step; it is kept with its order, and goes with it, or when very much has been learnt of words."""
        kept = standing.order.remembered
        checker = kept.get(("page", standing.step))
        if not isinstance(checker, Checker):
            others = [other for other in kept.values() if isinstance(other, Checker)]
            if sum(len(other.vocabulary.forms) for other in others) > MOST_FORMS:
                kept.clear()
            checker = kept["page", standing.step] = Checker(judge_at(standing.order, standing.step))
        elif len(checker.vocabulary.forms) > MOST_FORMS:
            kept.clear()
            return self.checker(standing)
        return checker


def around(text: str, offset: int) -> tuple[int, int]:
    """The paragraph around an offset: from blank line to blank line, if that is not very long."""
    low, high = max(0, offset - LONGEST_PASSAGE), min(len(text), offset + LONGEST_PASSAGE)
    before = [match.end() for match in _BLANK_LINE.finditer(text, low, offset)]
    after = _BLANK_LINE.search(text, offset, high)
    first = before[-1] if before else low
    if first and not before:
        # within a word nothing begins
        first = next((at + 1 for at in range(first, offset) if text[at].isspace()), first)
    return first, after.start() if after else high


def by_hand(text: str, start: int, settled: Sequence[Settled]) -> Settle | None:
    """What was settled by hand, as a check asks it of a passage that starts somewhere in a text; None where nothing was."""
    if not settled:
        return None
    everywhere = {s.word: s.sense for s in settled if s.number == EVERYWHERE}
    single = {(s.word, s.number): s.sense for s in settled}
    starts = [start]
    while at := text.find("\n", starts[-1]) + 1:
        starts.append(at)

    def sense(word: str, place: Place) -> str:
        own = single.get((word, time_of(text, word, starts[place.line - 1] + place.column - 1)))
        return own or everywhere.get(word, "")

    return sense


def time_of(text: str, word: str, offset: int) -> int:
    """Which time it is, from 1, that a plain word stands in a text, by where it starts."""
    pattern = re.compile(rf"(?<!\w){re.escape(word).replace(chr(39), '[’' + chr(39) + ']')}(?!\w)", re.IGNORECASE)
    return 1 + sum(1 for match in pattern.finditer(text, 0, offset))
