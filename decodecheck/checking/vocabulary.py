"""What is known of every stretch of text at one step: its words, their status, and whether its place matters. Each is learnt once."""

from __future__ import annotations

import re
from array import array
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from decodecheck.checking.senses import Senses
from decodecheck.documents.words import LONGEST_WORD, Cut, cut
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import ALLOWED, BLOCKED, STATUSES, UNJUDGED, UNSURE
from decodecheck.lexicon.lookup import plain_spelling

Numbers = npt.NDArray[np.int64]

PLACED, CONTEXT, NO_WORD = 1, 2, 4
"""Of a form or stretch: it is to be told with its place; the words around it may change what is said; it is no word."""
_EVERYDAY = re.compile(rf"[\"“(\[]*+([A-Za-z]{{1,{LONGEST_WORD}}}+(?:['’][a-z]{{1,2}})?)[\"”)\],.;:!?…]*+\Z")
"""A word between ordinary marks, none of them an apostrophe; everything else is cut with care."""
HYPHENS = "-\u2010\u00ad"


_TOLD = (BLOCKED, UNSURE)
_RANK = {status: rank for rank, status in enumerate(STATUSES)}


class Part(NamedTuple):
    """A word inside a stretch: where it starts and ends there, and the number of its form."""

    start: int
    end: int
    form: int


class _Numbered(dict[str, int]):
    """Numbers things as they come, and lists those that are new."""

    def __init__(self) -> None:
        super().__init__()
        self.new: list[str] = []

    def __missing__(self, thing: str) -> int:
        number = self[thing] = len(self)
        self.new.append(thing)
        return number


class Vocabulary:
    """Stretches and forms, numbered as they are first met. A form is a word as it stands, or what is not judged."""

    def __init__(self, judge: Judge, senses: Senses) -> None:
        self.judge = judge
        self.senses = senses
        self.forms: list[str] = []
        self.plain: list[str] = []
        """The plain spelling of each form."""
        self.statuses = bytearray()
        """For each form, where its status stands in STATUSES."""
        self.steps = array("H")
        """For each form, the first step at which it can be read."""
        self.single = array("q")
        """For each stretch, the number of its form if it is one everyday word, else -1; below, where that starts and ends."""
        self.starts, self.ends = array("q"), array("q")
        self.flags = bytearray()
        """For each stretch, what matters of its place."""
        self._stretches = _Numbered()
        self._form_numbers: dict[str, int] = {}
        self._form_flags = bytearray()
        self._parts: dict[int, tuple[Part, ...]] = {}

    def numbers(self, stretches: Sequence[str]) -> Numbers:
        """The number of each stretch; what is new is learnt."""
        found = np.fromiter(map(self._stretches.__getitem__, stretches), np.int64, len(stretches))
        new = self._stretches.new
        if new:
            self._learn(new)
            new.clear()
        return found

    def parts(self, number: int) -> tuple[Part, ...]:
        """The words of a stretch, and what is not judged in it."""
        single = self.single[number]
        return (Part(self.starts[number], self.ends[number], single),) if single >= 0 else self._parts[number]

    def status(self, form: int) -> str:
        """The status of a form."""
        return STATUSES[self.statuses[form]]

    def is_word(self, form: int) -> bool:
        """Whether a form is a word, and no numeral, address or sign."""
        return not self._form_flags[form] & NO_WORD

    def _learn(self, stretches: Sequence[str]) -> None:
        everyday = list(map(_EVERYDAY.match, stretches))
        cuts = {at: cut(stretches[at]) for at, match in enumerate(everyday) if not match}
        words = dict.fromkeys([match[1] for match in everyday if match])
        words |= dict.fromkeys(stretches[at][p.start : p.end] for at, c in cuts.items() for p in c if p.kind == "word")
        known, form_flags = self._form_numbers, self._form_flags
        self._judge([word for word in words if word not in known])
        first = len(self.single)
        forms = [known[match[1]] if match else -1 for match in everyday]
        spans = [match.span(1) if match else (0, 0) for match in everyday]
        self.single.extend(forms)
        self.starts.extend([start for start, _ in spans])
        self.ends.extend([end for _, end in spans])
        self.flags += bytes([form_flags[form] if form >= 0 else 0 for form in forms])
        for at, pieces in cuts.items():
            stretch = stretches[at]
            self._parts[first + at] = parts = tuple([self._part(stretch, piece) for piece in pieces])
            flag = CONTEXT if len(stretch) > 1 and stretch[-1] in HYPHENS and stretch[-2].isalpha() else 0
            for part in parts:
                flag |= form_flags[part.form] & (PLACED | CONTEXT)
            self.flags[first + at] = flag

    def _part(self, stretch: str, piece: Cut) -> Part:
        text = stretch[piece.start : piece.end]
        form = self._form_numbers[text] if piece.kind == "word" else self._no_word(text)
        return Part(piece.start, piece.end, form)

    def _judge(self, forms: Sequence[str]) -> None:
        first = len(self.forms)
        plain = [
            form
            if form.isascii() and form.islower()
            else form.lower()
            if form.isascii()
            else plain_spelling(form).plain
            for form in forms
        ]
        judged = self.judge.statuses(forms)
        self._form_numbers.update(zip(forms, range(first, first + len(forms))))
        self.forms += forms
        self.plain += plain
        self.statuses += bytes(_RANK[status] for status, _ in judged)
        self.steps.extend(step for _, step in judged)
        self._form_flags += bytes(len(forms))
        skip = self.judge.order.skip_names
        told = [at for at, (status, _) in enumerate(judged) if skip or status in _TOLD]
        several = self.senses.several([plain[at] for at in told])
        for at, many in zip(told, several):
            self._form_flags[first + at] = self._flags(forms[at], judged[at][0], many)

    def _no_word(self, text: str) -> int:
        # the same letters may be a word elsewhere
        key = f"\0{text}"
        if key not in self._form_numbers:
            self._form_numbers[key] = len(self.forms)
            self.forms.append(text)
            self.plain.append(text)
            self.statuses.append(_RANK[UNJUDGED])
            self.steps.append(0)
            self._form_flags.append(NO_WORD)
        return self._form_numbers[key]

    def _flags(self, form: str, status: str, several: bool) -> int:
        """What matters of the place of a form that has `several` senses or one."""
        flags = PLACED if status in _TOLD else 0
        if flags and several and self.senses.choices(form):
            flags |= CONTEXT
        may_be_name = status == UNSURE or (self.judge.order.skip_names and status != ALLOWED)
        if may_be_name and form[:1].isupper() and self.judge.is_name(form):
            flags |= CONTEXT
        return flags
