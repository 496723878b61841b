"""What a list is to hold or to leave out, as it is written: `ow as in grow`, `-ing`, `st`, `tion`."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cached_property

from lark import UnexpectedInput

from decodecheck.errors import Problem, UserError
from decodecheck.lexicon.items import GPC, TOGETHER, Item
from decodecheck.lexicon.store import NEVER
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import Sound
from decodecheck.progression.lessons import Lessons
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.parse import parse_items
from decodecheck.wordlists.columns import PLACES, Columns, Mask

IN_BRACKETS = re.compile(r"\s*\(\s*(?:as in\s+)?([A-Za-z']+(?:(?:\s*,\s*|\s+and\s+)[A-Za-z']+)*)\s*\)")
AFTER_A_SLASH = re.compile(r"(?<![\w/])([A-Za-z]+(?:-[A-Za-z])?)\s*/\s*([A-Za-z']+)(?![\w/])")
BETWEEN = re.compile(r"\s*,\s*|\s+and\s+")
OPENING = "teach "
EXAMPLE = "Write it as a progression does, for instance `ow as in grow`."


@dataclass(frozen=True)
class Target:
    """One option's items: a word holds the target where it holds one of them."""

    option: str
    text: str
    items: frozenset[Item]

    @property
    def name(self) -> str:
        """The option as it is typed."""
        return f'{self.option} "{self.text}"'

    @cached_property
    def forms(self) -> frozenset[tuple[str, Sound]]:
        """Correspondences that are meant wherever they stand in a word."""
        places: dict[tuple[str, Sound], set[str]] = {}
        for item in self.items:
            if item.kind == GPC:
                places.setdefault(item.correspondence, set()).add(item.place)
        return frozenset(c for c, found in places.items() if len(found) == len(PLACES))

    @cached_property
    def graphemes(self) -> frozenset[str]:
        """The graphemes of the correspondences that are meant."""
        return frozenset(item.grapheme for item in self.items if item.kind == GPC)

    def first_step(self, order: TeachingOrder) -> int:
        """The step at which the first of the items is taught; NEVER where none is."""
        return min((order.item_step.get(item, NEVER) for item in self.items), default=NEVER)

    def of_forms(self, columns: Columns) -> Mask:
        """For each form, whether it is what the target names wherever it stands."""
        return columns.forms_where(lambda form: not form[3] and (form[0], form[1]) in self.forms)

    def of_units(self, columns: Columns) -> Mask:
        """For each unit, whether it holds the target, by its forms or by its items."""
        named = [i for i in self.items if i.kind == TOGETHER]
        rest = [i for i in self.items if i.kind != TOGETHER and not (i.kind == GPC and i.correspondence in self.forms)]
        by_item = columns.units_with_item(
            columns.items_where(map(str, rest)), columns.items_where(map(str, named)) if named else None
        )
        found: Mask = columns.has_form(self.of_forms(columns)) | by_item
        return found


def target(order: TeachingOrder, text: str, option: str) -> Target:
    """What an option names, as a progression writes it or as teachers do: `oo (moon)` and `oo/moon` for `oo as in moon`.

    Raises UserError, with the place in the option, for what is unknown or may mean several sounds."""
    lessons = Lessons(order, option)
    said = as_progressions_do(text)
    try:
        parsed = parse_items(said)
    except UnexpectedInput as error:
        at = getattr(error, "column", 0) if said == text else _first_odd(text) + len(OPENING)
        column = at - len(OPENING) if isinstance(at, int) and at > len(OPENING) else len(text.rstrip()) + 1
        column = min(max(1, column), max(1, len(text.rstrip())))
        what = "This cannot be read from here on." if text.strip() else "Nothing is named here."
        raise UserError(Problem(option, what, EXAMPLE, 0, column if text.strip() else 0, text)) from None
    mentions = lessons.read(parsed, OPENING + said, 1)
    if lessons.problems:
        moved = [
            replace(p, line=0, column=_column(p, said, text), excerpt=text, todo=_todo(p, order))
            for p in lessons.problems
        ]
        raise UserError(*moved)
    return Target(option, text, frozenset(key for mention in mentions for key in mention.keys))


def as_progressions_do(text: str) -> str:
    """Items in which a word in brackets, or after a slash, names the sound, as a progression writes them; anything else as it stands."""
    return IN_BRACKETS.sub(lambda m: f" as in {' and '.join(re.split(BETWEEN, m[1]))}", AFTER_A_SLASH.sub(_named, text))


def _named(match: re.Match[str]) -> str:
    """`oo/moon` as `oo as in moon`; of two graphemes (ee/ea), and of a sound (s/z/), what is meant is not known."""
    return match[0] if match[2].lower() in inventory().by_grapheme else f"{match[1]} as in {match[2]}"


def _first_odd(text: str) -> int:
    """The column of the first bracket or slash of a text."""
    return next((at for at, letter in enumerate(text, 1) if letter in "(/"), 1)


def _column(problem: Problem, said: str, text: str) -> int:
    """Where what a problem is about stands in the text as it was written."""
    column = max(1, problem.column - len(OPENING))
    if said == text:
        return column
    named = said[column - 1 :][: problem.width]
    # the word of oo (ship) is looked for after its grapheme
    before = said[: column - 1].count(named)
    at = -1
    for _ in range(before + 1):
        at = text.find(named, at + 1)
    return at + 1 if at >= 0 else _first_odd(text)


def _todo(problem: Problem, order: TeachingOrder) -> str:
    """What to do about a problem: of a sound that is left open, with the sounds that the progression teaches."""
    if problem.code != "which-sound":
        return problem.todo
    named = problem.excerpt[problem.column - 1 :][: problem.width]
    taught = dict.fromkeys(m.label for m in order.mentions if m.label.split(" ")[0] == named and " as in " in m.label)
    return problem.todo + (
        f" {order.name} teaches " + ", ".join(f"`{label}`" for label in taught) + "." if taught else ""
    )
