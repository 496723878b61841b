"""What a piece of the language names, resolved by itself: for step expressions and for data files that speak of items."""

from __future__ import annotations

from dataclasses import dataclass, field

from decodecheck.errors import Problem
from decodecheck.lexicon.items import Item
from decodecheck.progression import syntax
from decodecheck.progression.mentions import Mentions
from decodecheck.progression.order import Mention, TeachingOrder
from decodecheck.progression.parse import parse_items
from decodecheck.progression.spot import Spot


@dataclass
class Lessons:
    """Resolves lessons against an empty order with the accent and the pinned readings of another."""

    like: TeachingOrder
    path: str = ""
    problems: list[Problem] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.order = TeachingOrder(self.like.name, self.like.path, self.like.accent, pinned=self.like.pinned)

    def read(self, lesson: syntax.Lesson, text: str, step: int) -> list[Mention]:
        """What a lesson teaches; a tricky word is a mention of kind "tricky" with its lower-case spelling as its key."""
        Mentions(self.order, may_be_tricky=True).take(Spot(self.path, 1, text, self.problems), lesson, step)
        tricky = [
            Mention(
                step, word, "tricky", frozenset((Item.tricky(word),)), self.path, 1, self.order.tricky_places[word][2]
            )
            for word in self.order.tricky
        ]
        return [*self.order.mentions, *tricky]


def items_named(text: str, order: TeachingOrder) -> frozenset[Item]:
    """The items that `ow as in town` or the like stands for in the accent of an order; none where it cannot be said so there.

    Raises lark's UnexpectedInput for text that is no list of items.
    """
    found = Lessons(order).read(parse_items(text), f"teach {text}", 1)
    return frozenset(key for mention in found for key in mention.keys)
