"""Many plain words at once: status and first step straight from the vectors over the lexicon.

A word is answered here only where it is proved to be plain: listed, with nothing in the order that speaks of it by itself. All others
are left to the judge.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from decodecheck.judging.blockers import capitals_step
from decodecheck.judging.verdict import BLOCKED, DECODABLE
from decodecheck.lexicon.vector import alike_with_capital
from decodecheck.progression.order import TeachingOrder

Answer = tuple[str, int] | None
"""Status and first step; None for a form that is not plain."""


class PlainWords:
    """The plain words of a teaching order."""

    def __init__(self, order: TeachingOrder) -> None:
        self.order = order
        self.numbers = order.lexicon.tables.numbers
        readiness = order.readiness
        self._late, self._early = readiness.of_words.all_senses, readiness.of_words.one_sense
        self._plain = _plain(order)
        self._gated = bool(order.capitals_from or order.capitals)

    def answers(self, forms: Sequence[str], step: int) -> list[Answer]:
        """What holds of each form at a step."""
        words = [form.lower().replace("’", "'") for form in forms]
        find = self.numbers.get
        numbers = np.fromiter((find(word, -1) for word in words), np.int64, len(words))
        late, early = self._late[numbers], self._early[numbers]
        plain = (numbers >= 0) & self._plain[numbers] & ((late <= step) | (early > step))
        readable, steps = (late <= step).tolist(), late.tolist()
        goes_by_items = self.order.goes_by_items
        found: list[Answer] = [None] * len(forms)
        for at in np.flatnonzero(plain).tolist():
            word, form = words[at], forms[at]
            if len(word) < 2 or not goes_by_items(word):
                continue
            first = steps[at]
            if self._gated and form != word:
                capital = capitals_step(form, self.order)
                if capital > step:
                    continue
                first = max(first, capital)
            found[at] = (DECODABLE if readable[at] else BLOCKED), first
        return found


def _plain(order: TeachingOrder) -> npt.NDArray[np.bool_]:
    """For each word of the lexicon, whether its steps alone decide: no tricky word is in it, and a capital changes nothing."""
    plain = alike_with_capital(order.lexicon)
    plain[list(order.readiness.touched)] = False
    return plain
