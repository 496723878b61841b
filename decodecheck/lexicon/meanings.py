"""Which words mean nearly the same: the synonym sets of WordNet 3.0 that `rules/meanings/` keeps, as compiled columns.

The first senses of a word are those that are met most often (WordNet counted them in tagged texts). A set has words, wider sets (a kind
of what), sets that are near it (similar adjectives, grouped verbs), and a broad category.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cache

from decodecheck.lexicon.store import Tables, tables

NOUN, VERB, ADJECTIVE, ADVERB = PARTS_OF_SPEECH = ("noun", "verb", "adj", "adv")
MOST_TAGGED = 65535
CATEGORIES = (
    "adj.all", "adj.pert", "adv.all", "noun.Tops", "noun.act", "noun.animal", "noun.artifact", "noun.attribute", "noun.body",
    "noun.cognition", "noun.communication", "noun.event", "noun.feeling", "noun.food", "noun.group", "noun.location",
    "noun.motive", "noun.object", "noun.person", "noun.phenomenon", "noun.plant", "noun.possession", "noun.process",
    "noun.quantity", "noun.relation", "noun.shape", "noun.state", "noun.substance", "noun.time", "verb.body", "verb.change",
    "verb.cognition", "verb.communication", "verb.competition", "verb.consumption", "verb.contact", "verb.creation",
    "verb.emotion", "verb.motion", "verb.perception", "verb.possession", "verb.social", "verb.stative", "verb.weather", "adj.ppl",
)  # fmt: skip
"""WordNet's lexicographer files, in the order of their numbers there (its manual page lexnames)."""


@dataclass(frozen=True, slots=True)
class Sense:
    """A word in a synonym set: the set, which sense of the word it is as that part of speech (1 is the commonest), which share of
    the word's uses as that part of speech are of this sense (0 to 1), and how often it was met so in the texts that were counted."""

    word: str
    set: int
    pos: str
    number: int
    share: float
    tagged: int


class Meanings:
    """The synonym sets of a compiled lexicon. Raises UserError where they are damaged."""

    def __init__(self, known: Tables) -> None:
        self.tables = known
        self._word, self._set, self._sense, self._share, self._tagged = (
            known.column(f"meaning_{name}") for name in ("word", "set", "sense", "share", "tagged")
        )
        self._category = known.column("set_category")
        self._lists = {
            name: (known.column(f"set_{name}_start"), known.column(f"set_{name}"))
            for name in ("entry", "wider", "near", "narrower")
        }
        self._senses: dict[int, tuple[Sense, ...]] = {}

    def senses(self, word: str) -> tuple[Sense, ...]:
        """The senses of a plain lower-case word by part of speech, the commonest first; none for a word without."""
        return self._senses_of(self.tables.number(word))

    def words(self, number: int) -> list[Sense]:
        """The words of a set, each with its own sense."""
        found = []
        for entry in self._listed("entry", number):
            found += [s for s in self._senses_of(int(self._word[entry])) if s.set == number]
        return found

    def wider(self, number: int) -> list[int]:
        """The sets of which this is a kind."""
        return self._listed("wider", number)

    def near(self, number: int) -> list[int]:
        """The sets that are similar."""
        return self._listed("near", number)

    def narrower(self, number: int) -> list[int]:
        """The sets that are kinds of this."""
        return self._listed("narrower", number)

    def category(self, number: int) -> str:
        """The broad category of a set, one of CATEGORIES."""
        return CATEGORIES[self._category[number]]

    def _listed(self, name: str, number: int) -> list[int]:
        start, flat = self._lists[name]
        return flat[start[number] : start[number + 1]].tolist()

    def _senses_of(self, word: int) -> tuple[Sense, ...]:
        found = self._senses.get(word)
        if found is None:
            first = bisect_left(self._word, word)
            entries = range(first, bisect_right(self._word, word, lo=first))
            found = self._senses[word] = self._read(self.tables.word(word), entries) if entries else ()
        return found

    def _read(self, word: str, entries: range) -> tuple[Sense, ...]:
        return tuple(
            Sense(
                word,
                self._set[e],
                self.category(self._set[e]).partition(".")[0],
                self._sense[e],
                self._share[e] / 100,
                self._tagged[e],
            )
            for e in entries
        )


@cache
def meanings() -> Meanings:
    """The compiled synonym sets, opened when first asked for. Raises UserError where they are missing or damaged."""
    return Meanings(tables())
