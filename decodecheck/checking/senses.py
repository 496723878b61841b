"""The senses of a form that differ in sound: what the words around it have to decide."""

from __future__ import annotations

from collections.abc import Sequence

from decodecheck.checking.context import Choice
from decodecheck.lexicon.lookup import Lookup, plain_spelling


class Senses:
    """The senses of forms, found once for each."""

    def __init__(self, lookup: Lookup) -> None:
        self.lookup = lookup
        self._choices: dict[str, tuple[Choice, ...]] = {}

    def choices(self, form: str) -> tuple[Choice, ...]:
        """The senses of a form that differ in sound; none for a word with one."""
        found = self._choices.get(form)
        if found is None:
            found = self._choices[form] = self._find(plain_spelling(form).plain)
        return found

    def several(self, words: Sequence[str]) -> list[bool]:
        """Whether each plain word has more than one sense; quicker than to look whether they differ."""
        find, sense = self.lookup.lexicon.tables.numbers.get, self.lookup.lexicon.word_sense
        numbers = [find(word, -1) for word in words]
        return [n >= 0 and sense[n + 1] - sense[n] > 1 for n in numbers]

    def _find(self, word: str) -> tuple[Choice, ...]:
        if len(self.lookup.lexicon.senses(word)) < 2 or word in self.lookup.pinned:
            return ()
        senses = {r.sense: r for r in self.lookup.readings(word)}
        sounds = {tuple(s.key for s in r.segments) for r in senses.values()}
        if len(sounds) < 2:
            return ()
        return tuple(Choice(label, r.pos - {"RARE"}, r.rare) for label, r in senses.items())
