"""What a request asks, read from the fields of a form: a text, an order of teaching, a step, and what was settled by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from decodecheck.errors import Problem, UserError
from decodecheck.web.limits import LONGEST_FIELD, LONGEST_ORDER, LONGEST_TEXT

OWN = "own"
"""The name of the school's own order, which comes with the request, among those to choose from."""
EVERYWHERE = 0
"""In place of a number: every time that a word stands in a text."""
TOO_LARGE = "too-large"
"""The code of a problem with something that is larger than the page takes."""


class Fields(Protocol):
    """The fields of a form, some of them several times."""

    def get(self, name: str, default: str = "") -> str:
        """The last value of a field."""

    def getlist(self, name: str) -> Sequence[str]:
        """All its values."""


@dataclass(frozen=True, slots=True)
class Settled:
    """A sense settled by hand: of which word, which time it stands in the text (from 1; EVERYWHERE: each time), its label."""

    word: str
    number: int
    sense: str


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked.

    `order` is the name of an order of teaching that ships, or OWN, which `own` holds; `added` are lines in the language of progressions
    that hold for this text (names, readings). `step` is a number as it was written, or `at` the place of a step in the order from 1 (0: none
    is given; the last step holds); `group` says how a group differs: "also igh as in light".
    """

    text: str = ""
    order: str = ""
    own: str = ""
    added: str = ""
    step: str = ""
    at: int = 0
    group: str = ""
    settled: tuple[Settled, ...] = ()


def asked_of(fields: Fields) -> Asked:
    """What a form asks. Raises UserError for what is too long, or means nothing."""
    text = _field(fields, "text", LONGEST_TEXT, "The text", "Check it a chapter at a time.")
    own = _field(fields, "own", LONGEST_ORDER, "The order of teaching", "Take its comments out, or divide it.")
    added = _field(fields, "added", LONGEST_FIELD, "What was added for this text", "Take some of it out.")
    return Asked(
        text.replace("\r\n", "\n").replace("\r", "\n"),
        short(fields, "order"),
        own,
        added,
        short(fields, "step").strip(),
        number(fields, "at"),
        short(fields, "group").strip(),
        tuple(_settled(value) for value in fields.getlist("sense") if value),
    )


def number(fields: Fields, name: str, default: int = 0) -> int:
    """A field that holds a number. Raises UserError for another one."""
    value = short(fields, name).strip()
    if not value:
        return default
    if not value.isascii() or not value.isdigit() or len(value) > 9:
        raise UserError(Problem(name, f"“{value[:40]}” is no number.", "Write a number, or leave it out."))
    return int(value)


def short(fields: Fields, name: str) -> str:
    """A field that holds little. Raises UserError for much."""
    return _field(fields, name, LONGEST_FIELD, f"The field “{name}”", "Write less there.")


def _field(fields: Fields, name: str, most: int, what: str, todo: str) -> str:
    value = fields.get(name, "")
    if len(value) > most:
        said = f"{what} is too long: {len(value):,} characters, and the page takes up to {most:,}."
        raise UserError(Problem("the page", said, todo, code=TOO_LARGE))
    return value


def _settled(value: str) -> Settled:
    """`wind|2|moving air`, as a field holds it."""
    word, _, rest = value.partition("|")
    number, _, sense = rest.partition("|")
    if not word or not sense or not number.isascii() or not number.isdigit() or len(number) > 9:
        raise UserError(Problem("the page", f"“{value[:80]}” settles no word.", "Load the page again."))
    return Settled(word.lower(), int(number), sense)


class Given:
    """Fields from a mapping, each once; for programs and tests."""

    def __init__(self, fields: Mapping[str, str]) -> None:
        self._fields = fields

    def get(self, name: str, default: str = "") -> str:
        """The value of a field."""
        return self._fields.get(name, default)

    def getlist(self, name: str) -> Sequence[str]:
        """Its value, if there is one."""
        return [self._fields[name]] if name in self._fields else []
