"""What a piece of the language names, resolved by itself: for step expressions and for data files that speak of items."""

from __future__ import annotations

from dataclasses import dataclass, field

from decodecheck.errors import Problem
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import lexicon
from decodecheck.phonics.sounds import Sound, lexicon_of
from decodecheck.progression import meanings, syntax
from decodecheck.progression.mentions import Mentions
from decodecheck.progression.order import Mention, TeachingOrder
from decodecheck.progression.parse import parse_statement
from decodecheck.progression.syntax import Source, Text


@dataclass
class Lessons(Mentions):
    """Resolves statements against an empty order with the accent and the pinned readings of another."""

    like: TeachingOrder
    path: str = ""
    problems: list[Problem] = field(default_factory=list)
    named: list[tuple[Sound, ...]] = field(default_factory=list)
    by_key: dict[Item, list[int]] = field(default_factory=dict)
    unknown: int = 0

    def __post_init__(self) -> None:
        self.order = TeachingOrder(self.like.name, self.like.path, self.like.accent, pinned=self.like.pinned)
        self.names = meanings.known_names(self.order.lexicon)

    def read(self, statement: syntax.Statement, text: str, step: int) -> list[Mention]:
        """What a statement teaches; a tricky word is a mention of kind "tricky"."""
        self._taught(Source(self.path, (), (text,)), 1, statement, step)
        tricky = [
            Mention(
                step, word, "tricky", frozenset((Item.tricky(word),)), self.path, 1, self.order.tricky_places[word][2]
            )
            for word in self.order.tricky
        ]
        return [*self.order.mentions, *tricky]

    def _problem(
        self, source: Source, number: int, text: Text, what: str, todo: str = "", *, note: bool = False
    ) -> None:
        known = lexicon(lexicon_of(self.order.accent))
        if "no grapheme" in what and known.has(text.value.lower()):
            todo = f"To name a word taught whole, write `tricky {text}`."
        self.problems.append(Problem(self.path, what, todo, 1, text.column, source.text[0], max(1, text.width), note))


def items_named(text: str, order: TeachingOrder) -> frozenset[Item]:
    """The items that `ow as in town` or the like stands for in the accent of an order; none where it cannot be said so there.

    Raises lark's UnexpectedInput for text that is no list of items.
    """
    found = Lessons(order).read(parse_statement(f"teach {text}"), f"teach {text}", 1)
    return frozenset(key for mention in found for key in mention.keys)
