"""The orders of teaching that the page knows: those that ship, one named at the start, and those that come with a request.

A request names an order by a word of ours, never by a path; what it brings along may not include other files.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import replace
from functools import cache
from pathlib import Path

from decodecheck.errors import Problem, UserError, count
from decodecheck.orders import Orders
from decodecheck.progression import syntax
from decodecheck.progression.many import first_of
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.parse import parse
from decodecheck.progression.resolve import resolve
from decodecheck.progression.step_expression import Standing, Wanted, choose_step
from decodecheck.resources import rules_folder
from decodecheck.source import SourceText
from decodecheck.web.asked import OWN, TOO_LARGE, Asked

SHIPPED = {
    "england-national-curriculum": "England's national curriculum (three steps)",
    "us-common-core-foundational-skills": "Common Core, foundational skills (three steps)",
    "everything": "Everything there is to teach (one step)",
}
"""The orders that ship, by the name of their file, with what the list of choices calls them."""
GIVEN = "given"
"""The name of an order that was named when the page was started."""
YOURS = "your order"
"""What messages call an order that came with a request."""
HERE = "added here"
"""What messages call the lines that were added for a text."""
MOST_KEPT = 12
"""Orders that came with requests and are kept, each with what has been judged by it."""
MOST_STANDINGS = 80
"""Steps and groups of an order that are kept."""
NO_STEP, NO_ORDER = "no-such-step", "no-such-order"
_ADDED = (syntax.AllowNames, syntax.AllowSounds, syntax.Word)


class Teaching:
    """Orders of teaching by name and by content; of those that came with requests the latest are kept."""

    def __init__(self, given: str | None = None) -> None:
        self.given = given
        """The path of an order that the person named who started the page; she may include what she likes."""
        self.kept: OrderedDict[tuple[str, str, str], TeachingOrder] = OrderedDict()
        """Orders by name, by their own text and by what was added, the latest last."""
        self._orders = Orders()

    def choices(self) -> dict[str, str]:
        """The orders to choose from, without the school's own: name and label."""
        first = {GIVEN: self.order(Asked(order=GIVEN)).name} if self.given else {}
        return first | SHIPPED

    def usual(self) -> str:
        """The order that holds where none is named."""
        return GIVEN if self.given else next(iter(SHIPPED))

    def order(self, asked: Asked) -> TeachingOrder:
        """The order of a request. Raises UserError with all its mistakes, or for a name that is none."""
        name = asked.order or self.usual()
        own = asked.own if name == OWN else ""
        if name == GIVEN and self.given:
            # read again when one of its files has changed
            found = self._orders.order(self.given)
            if not asked.added.strip():
                return found
            own = "\n".join(line for lines in found.sources.values() for line in lines)
        key = name, own, asked.added
        if key not in self.kept:
            self.kept[key] = self._made(name, asked)
            while len(self.kept) > MOST_KEPT:
                self.kept.popitem(last=False)
        self.kept.move_to_end(key)
        return self.kept[key]

    def standing(self, asked: Asked) -> Standing:
        """Where the readers of a request stand. Raises UserError for a step that is none."""
        order = self.order(asked)
        step = asked.step
        if not step and asked.at:
            if asked.at > len(order.steps):
                what = f"This order of teaching has {count(len(order.steps), 'step')}, and no step number {asked.at}."
                raise UserError(Problem("the step", what, "Move the slider.", code=NO_STEP))
            step = str(order.steps[asked.at - 1].number)
        standings = order.remembered.setdefault("standings", {})
        assert isinstance(standings, dict)
        key = step, asked.group
        if key not in standings:
            if len(standings) >= MOST_STANDINGS:
                standings.clear()
            standings[key] = _standing(order, step, asked.group)
        found: Standing = standings[key]
        return found

    def _made(self, name: str, asked: Asked) -> TeachingOrder:
        if name == OWN:
            if not asked.own.strip():
                what, todo = "There is no order of your own here yet.", "Drop its file, or write it into the field."
                raise UserError(Problem(YOURS, what, todo, code=NO_ORDER))
            return brought(asked.own, asked.added)
        if name == GIVEN and self.given:
            return brought_beside(self.given, asked.added)
        if name not in SHIPPED:
            shown = f"“{name[:60]}”" if name else "This"
            raise UserError(
                Problem("the order of teaching", f"{shown} is no order here.", "Choose one of the list.", code=NO_ORDER)
            )
        text = shipped_text(name)
        return resolved(text, name, asked.added)


def _standing(order: TeachingOrder, step: str, group: str) -> Standing:
    if not step and not group:
        return choose_step(order, None)
    text = f"{step or order.last} {group}".strip()
    try:
        return choose_step(order, Wanted(text, "the step"))
    except UserError as error:
        raise UserError(*(replace(problem, code=NO_STEP) for problem in error.problems)) from None


@cache
def shipped_text(name: str) -> str:
    """The text of an order that ships."""
    return (rules_folder() / "progressions" / f"{name}.progression").read_text(encoding="utf-8")


def brought(text: str, added: str = "") -> TeachingOrder:
    """An order that came with a request. Raises UserError with every mistake, each at its line."""
    kept, problems = _without_includes(text, YOURS)
    if problems:
        raise UserError(*problems)
    return resolved(kept, YOURS, added)


def brought_beside(path: str, added: str) -> TeachingOrder:
    """An order in a file of the person who started the page, with lines added. Raises UserError."""
    from decodecheck.progression.reading import read_progression

    folder = Path(path).parent
    lines = _added_lines(added)
    order, problems = resolve(_joined(read_progression(path).text, lines), str(folder / Path(path).name))
    return _right(order, problems, lines)


def resolved(text: str, name: str, added: str) -> TeachingOrder:
    """An order of one text with the lines that were added to it. Raises UserError with every mistake."""
    lines = _added_lines(added)
    order, problems = resolve(_joined(text, lines), name, read=_refused)
    return _right(order, problems, lines, len(text.splitlines()))


def _right(order: TeachingOrder, problems: list[Problem], lines: list[str], own: int = 0) -> TeachingOrder:
    errors = [problem for problem in problems if not problem.note]
    if errors:
        # what stands in an added line is told of that line
        moved = (replace(p, path=HERE, line=p.line - own) if lines and own and p.line > own else p for p in errors)
        raise UserError(*first_of(list(moved)))
    return order


def _joined(text: str, lines: list[str]) -> str:
    if not lines:
        return text
    return "\n".join([*text.replace("\r\n", "\n").replace("\r", "\n").splitlines(), *lines, ""])


def _added_lines(added: str) -> list[str]:
    """The lines that hold for one text: they allow or read words, and teach nothing. Raises UserError for others."""
    lines = [line for line in added.replace("\r\n", "\n").split("\n") if line.strip()]
    source, problems = parse("\n".join(lines), HERE)
    wrong = [line for line in source.lines if line.statement and not isinstance(line.statement, _ADDED)]
    what, todo = "This cannot be added for a text.", "Write `allow names`, `allow sounds` or `word ... = ...`."
    problems += [Problem(HERE, what, todo, line.number, 1, lines[line.number - 1]) for line in wrong]
    if problems:
        raise UserError(*first_of(problems))
    return lines


def _without_includes(text: str, name: str) -> tuple[str, list[Problem]]:
    """A text, and what is to be said of its includes: no file of this computer is read because a page asks for it."""
    source, _ = parse(text, name)
    todo = "Put the lines of that file in its place."
    what = "An order that is given to the page cannot include another file."
    return text, [
        Problem(name, what, todo, line.number, 1, source.text[line.number - 1], len("include"), code="include-refused")
        for line in source.lines
        if isinstance(line.statement, syntax.Include)
    ]


def _refused(path: str) -> SourceText:
    """Reads nothing. Raises UserError."""
    raise UserError(Problem(path, "The page opens no files.", "Put its lines into the order.", code=TOO_LARGE))
