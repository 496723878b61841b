"""The tables of a configuration that say what holds for files: [[texts]] and [[lists]]."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from decodecheck.errors import nearest
from decodecheck.lists.word_list import COLUMNS
from decodecheck.progression.step_expression import Wanted
from decodecheck.project.patterns import LONGEST, PathPattern
from decodecheck.project.toml_places import Places

GATE_KEYS = ("strict", "allow_blocked")
"""What is said at the top for all files, and in a table for its own: whether warnings fail, how many blocked words do not."""
TEXT_KEYS = ("files", "step", "group", *GATE_KEYS)
LIST_KEYS = (*TEXT_KEYS, "target", "columns", "order")
EASY = "easy"
EXAMPLES = {"texts": 'files = "texts/step-{step}/*.txt"', "lists": 'files = "lists/step-{step}.csv"'}


@dataclass(frozen=True, slots=True)
class Gate:
    """What a text may hold and pass: whether warnings fail (`strict`), and how many blocked words do not; None where a place says nothing of
    it. `lines` are those of the keys."""

    strict: bool | None = None
    allow_blocked: int | None = None
    lines: Mapping[str, int] = field(default_factory=dict, hash=False)


NO_GATE = Gate()


@dataclass(frozen=True, slots=True)
class TextRule:
    """Files by pattern (relative to the configuration), and their step; {step} in the pattern stands for the number."""

    pattern: str
    step: Wanted | None
    paths: PathPattern
    line: int = 0
    """Where its table opens; 0 where that is not known."""
    gate: Gate = NO_GATE


@dataclass(frozen=True, slots=True)
class ListRule(TextRule):
    """Files that are word lists: what every word is to hold ("" for nothing), the headers of columns by what they hold, and whether the words
    are to go from easy to hard. Without a step, that of a text holds."""

    target: str = ""
    columns: Mapping[str, str] = field(default_factory=dict)
    ordered: bool = False


Complain = Callable[..., None]


class RuleReader:
    """Reads the tables of one file; what is wrong with them is complained of."""

    def __init__(
        self, places: Places, complain: Complain, groups: Mapping[str, Wanted], *, general_step: bool = False
    ) -> None:
        self.places, self.complain, self.groups, self.general_step = places, complain, groups, general_step

    def text_rules(self, tables: object) -> tuple[TextRule, ...]:
        """The [[texts]] tables."""
        return tuple(rule for _, _, rule in self._rules("texts", tables, TEXT_KEYS))

    def list_rules(self, tables: object) -> tuple[ListRule, ...]:
        """The [[lists]] tables."""
        found = []
        for number, table, rule in self._rules("lists", tables, LIST_KEYS, needs_step=False):
            target = table.get("target", "")
            if not isinstance(target, str):
                self.complain(
                    "target", "`target` is not a text.", 'Write for instance: target = "ow as in grow"', number
                )
                target = ""
            order = table.get("order")
            if order not in (None, EASY):
                what = f"`order` is {order!r}; only {EASY!r} is known, from easy to hard to spell."
                self.complain("order", what, f'Write order = "{EASY}", or leave it out.', number)
            columns = self._columns(table.get("columns", {}), number)
            found.append(
                ListRule(rule.pattern, rule.step, rule.paths, rule.line, rule.gate, target, columns, order == EASY)
            )
        return tuple(found)

    def _columns(self, columns: object, number: int) -> dict[str, str]:
        todo = 'Write for instance: columns = { word = "Spelling", segmentation = "In graphemes" }'
        if not isinstance(columns, dict) or not all(isinstance(v, str) and v.strip() for v in columns.values()):
            self.complain("columns", "`columns` does not name headers.", todo, number)
            return {}
        for key in columns:
            if key not in COLUMNS:
                self.complain("columns", f"`{key}` is nothing that a column holds.", hint(key, COLUMNS), number)
        return {key: value for key, value in columns.items() if key in COLUMNS}

    def _rules(
        self, name: str, tables: object, keys: tuple[str, ...], *, needs_step: bool = True
    ) -> list[tuple[int, dict[str, Any], TextRule]]:
        """Every table with its `number` and what all rules have."""
        if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
            self.complain(name, f"`{name}` is not a list of tables.", f"Open each with a line [[{name}]].")
            return []
        found = []
        for nth, table in enumerate(tables, 1):
            number = self.places.number(name, nth)
            rule = self._rule(name, table, keys, number, needs_step)
            if rule:
                pattern, given = rule
                gate = gate_of(table, self.places, self.complain, number)
                head = self.places.head(number)
                found.append((number, table, TextRule(pattern, given, PathPattern(pattern), head, gate)))
        return found

    def _rule(
        self, name: str, table: dict[str, Any], keys: tuple[str, ...], number: int, needs_step: bool
    ) -> tuple[str, Wanted | None] | None:
        """Pattern and step of a table; None for one that is of no use."""
        complain = self.complain
        for key in table:
            if key not in keys:
                complain(key, f"`{key}` is no key of [[{name}]].", hint(key, keys), number)
        pattern = table.get("files")
        if not isinstance(pattern, str):
            what = f"A [[{name}]] table has no `files` pattern."
            complain(name, what, f"Write for instance: {EXAMPLES[name]}", number)
            return None
        own = step_of(table.get("step"), "step", complain, number)
        given = self.places.wanted("step", own, number) if own is not None else None
        if "group" in table:
            if given or not isinstance(table["group"], str) or table["group"] not in self.groups:
                what = "A group has a step of its own." if given else f"There is no group called {table['group']!r}."
                todo = (
                    "Take `step` or `group` out." if given else f"Name it under [groups], above the first [[{name}]]."
                )
                complain("group", what, todo, number)
                return None
            given = self.groups[table["group"]]
        if "{step}" in pattern and ("step" in table or "group" in table):
            what = f"The step is given twice: by {{step}} in `{pattern}` and by `{'step' if 'step' in table else 'group'}`."
            complain(pattern, what, "Write * instead of {step}, or take the other out.", number)
            return None
        if len(pattern) > LONGEST:
            complain(pattern, "This pattern is longer than any path.", "Write a shorter one.", number)
            return None
        if self.general_step and any(key in table for key in GATE_KEYS):
            needs_step = False
        if given is None and "{step}" not in pattern and needs_step:
            todo = "Add `step = N` or `group = NAME`, or put {step} where the path holds the number."
            complain(pattern, f"`{pattern}` has no step.", todo, number)
            return None
        return pattern, given


def gate_of(table: Mapping[str, Any], places: Places, complain: Complain, number: int = 0) -> Gate:
    """`strict` and `allow_blocked` of a table, or of the top; what is wrong with them is complained of."""
    strict, allow = table.get("strict"), table.get("allow_blocked")
    if strict is not None and not isinstance(strict, bool):
        complain("strict", "`strict` is neither true nor false.", "Write for instance: strict = true", number)
        strict = None
    if allow is not None and (isinstance(allow, bool) or not isinstance(allow, int) or allow < 0):
        what = "`allow_blocked` is no number of words."
        complain("allow_blocked", what, "Write for instance: allow_blocked = 2", number)
        allow = None
    return Gate(strict, allow, {key: places.line(key, number) for key in GATE_KEYS if key in table})


def step_of(value: object, key: str, complain: Callable[..., None], table: int = 0) -> str | None:
    """A step as a text; None where none is given, or where it is none, which is complained of."""
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | str):
        complain(key, "`step` is neither a number nor a text.", "Write for instance: step = 12", table)
        return None
    return str(value)


def hint(key: str, known: tuple[str, ...]) -> str:
    """What is said of an unknown key: the nearest one, or all that are known."""
    close = nearest(key, list(known), most=1)
    return f"Did you mean `{close[0]}`?" if close else "Its keys are: " + ", ".join(known) + "."
