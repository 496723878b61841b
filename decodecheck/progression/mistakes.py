"""Name a mistake of form: what is wrong in a line that the grammar refuses, and what to write instead.

Lark finds the line of `mistake_examples.py` whose parser state is that of the user's line.
"""

from __future__ import annotations

import re

from lark import Lark, UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from decodecheck.errors import Problem, nearest
from decodecheck.progression.mistake_examples import (
    AS_IN,
    COMMAS,
    DIGITS,
    ENDS,
    LISTS,
    NO_STRUCTURE,
    PLACE,
    QUOTED,
    told_by_state,
)
from decodecheck.progression.statements import KINDS, Follows, Kind

KINDS_OF: dict[str, list[Kind]] = {}
"""The statements that a keyword opens."""
for _kind in KINDS:
    KINDS_OF.setdefault(_kind.keyword, []).append(_kind)
KEYWORDS = {keyword: kinds[0].example for keyword, kinds in KINDS_OF.items()}
"""Every keyword that opens a statement, with an example."""
OPENINGS = {k: kinds[0].opening for k, kinds in KINDS_OF.items() if len(kinds) == 1 and kinds[0].opening != k}
"""Keywords of one statement that opens with more than a keyword."""
SHARED = {k: tuple(kind.opening for kind in kinds) for k, kinds in KINDS_OF.items() if len(kinds) > 1}
"""Keywords that open more than one statement, which the words after them tell apart."""


def explain_mistake(parser: Lark, path: str, number: int, line: str, body: str, error: UnexpectedInput) -> Problem:
    """The problem for a line that the grammar refuses. The place lies inside the line."""
    first = body.split()[0]
    column = body.index(first) + 1

    def problem(what: str, todo: str, at: int, width: int = 1) -> Problem:
        return Problem(path, what, todo, number, at, line, width, code="cannot-be-read")

    colon = _COLON.match(body)
    if colon:
        opening = " ".join(colon[1].split())
        example = _OPENED[opening]
        return problem(
            f"decodecheck does not know a line that starts with `{opening}:`.",
            f"Did you mean `{opening}`" + (f", as in `{example}`?" if example != opening else "?"),
            column,
            colon.end() - colon.start(1),
        )
    bare = first.strip('",;=+/')
    if bare not in KEYWORDS:
        close = nearest(bare.lower(), list(KEYWORDS), most=1)
        todo = (
            f"Did you mean `{close[0]}`, as in `{KEYWORDS[close[0]]}`?"
            if close
            else "A line opens with one of: " + ", ".join(KEYWORDS) + "."
        )
        return problem(f"decodecheck does not know a line that starts with `{first}`.", todo, column, len(first))
    at = _column(error, body)
    digits = re.match(r"\s*step\s+(\d{5,})\b", body)
    if digits:
        return problem(*DIGITS, digits.start(1) + 1)
    example = f"Write for instance `{KEYWORDS[bare]}`."
    if bare in OPENINGS and not body.strip().startswith(OPENINGS[bare]):
        return problem(f"A line with `{bare}` reads `{OPENINGS[bare]}`.", example, column, len(first))
    if bare in SHARED and not body.strip().startswith(SHARED[bare]):
        *others, last = (f"`{opening.removeprefix(bare).strip()}`" for opening in SHARED[bare])
        what = f"`{bare}` is followed by {', '.join(others)} or {last}."
        return problem(what, example, column, len(first))
    second = _second_statement(body, at, column)
    if second:
        name, start = second
        what = f"`{name}` opens a statement of its own."
        return problem(what, "Put it on a line of its own; a line holds one statement.", start, len(name))
    quoted = _quotation(bare, body, at)
    if quoted:
        return problem(*quoted)
    place = _place(body, at) if bare == "teach" else None
    if place:
        return problem(*place)
    found = error.match_examples(parser.parse, told_by_state(), use_accepts=True)
    beside = _beside(body, at) if bare in _LISTED and found is None else None
    if beside:
        return problem(
            f"There is no comma between `{beside[0]}` and `{beside[1]}`.", "Put one there.", at, len(beside[1])
        )
    if bare == "structure" and found == COMMAS and body[at - 1] not in ",;" and at < len(body.rstrip()):
        found = NO_STRUCTURE  # lark tells these two states apart only by a token, and there is none
    if found and not found[1]:
        found = (found[0], example)
    what, todo = found or (
        "This line cannot be read from here on.",
        f"A line with `{bare}` looks like this: `{KEYWORDS[bare]}`",
    )
    return problem(what, todo, at)


_OPENED = {kind.opening: kind.example for kind in KINDS} | {k: KEYWORDS[k] for k in KEYWORDS if k not in SHARED}
"""Examples by what opens a statement: all of it, or a keyword that only it has."""
_COLON = re.compile(rf"\s*({'|'.join(_OPENED)})\s*:".replace(" ", r"\s+"))
"""A statement with a colon after what opens it."""
_NAMED = re.compile(r'\s*(?:progression|include|step\s+\d+)\s*"[^"]+"\s*(?=")')
"""A statement that is whole, and before a quotation mark that is too many."""
_LISTED = frozenset(kind.keyword for kind in LISTS)
_NUMBERED = frozenset(kind.keyword for kind in KINDS if kind.follows is Follows.NUMBER)
"""Statements that have no quotation marks at all: those that list something, and those that end in a number."""


def _surely(kind: Kind) -> str:
    """What opens a statement, with enough behind it to be meant so."""
    if kind.keyword in SHARED:
        return "(" + kind.opening.replace(" ", r"\s+") + r")\s"
    if kind.keyword in OPENINGS:
        return rf"({kind.keyword})\s+{kind.opening.split()[1]}\b"
    behind = {
        Follows.QUOTED: '["“]',
        Follows.ACCENT: r"\w+-\w",
        Follows.HEAD: r"\d",
        Follows.READING: r"\S+\s*=",
    }
    return rf"({kind.keyword})\s+" + behind.get(kind.follows, r"[^\s,;=]")


_STATEMENT = re.compile("|".join(map(_surely, KINDS)))
"""What opens a statement, wherever it stands."""
_SECOND_WORDS = frozenset(word for kind in LISTS for word in kind.opening.split()[1:])
_LAST_WORD = re.compile(r"[^\s,;]+")


def _second_statement(body: str, at: int, first: int) -> tuple[str, int] | None:
    """What opens a second statement where reading stopped, or in the word before, and its column; None where nothing does."""
    before = body[: at - 1].rstrip()
    start = max(before.rfind(sign) for sign in " \t,;") + 2 if before else 1
    for place in dict.fromkeys((at, start)):
        found = _STATEMENT.match(body, place - 1) if place > first else None
        if found and (place == 1 or body[place - 2] in " \t,;"):
            return next(name for name in found.groups() if name), place
    return None


def _beside(body: str, at: int) -> tuple[str, str] | None:
    """The two words between which a comma is missing where reading stopped; None where it is no word that stands there."""
    before, after = body[: at - 1], _LAST_WORD.match(body, at - 1)
    last = before.split()[-1:] if len(before) > len(before.rstrip()) else []
    if not after or not last or not re.match(r"[\w-]", after[0]) or not re.search(r"[\w'-]\Z", last[0]):
        return None
    if after[0] in ("as", "and", "at", "in") or last[0] in ("as", "and", "at", "in", *_LISTED, *_SECOND_WORDS):
        return None
    return last[0].rpartition(",")[2].rpartition(";")[2], after[0]


def _quotation(bare: str, body: str, at: int) -> tuple[str, str, int] | None:
    """What is wrong with the quotation marks of a line, what to do, and the column; None where they are right."""
    whole = _NAMED.match(body)
    if whole:
        return *ENDS, whole.end() + 1
    before = body[: at - 1].split()[-1:]
    if body[at - 1] == '"' and (bare in _LISTED or before == ["accent"] or (bare in _NUMBERED and before == ["step"])):
        return *QUOTED, at
    if body.count('"') % 2:
        return "The quotation mark is not closed.", "End the text with a second quotation mark.", body.rindex('"') + 1
    if body[at - 1 : at + 1] == '""':
        if bare == "step":
            return (
                "The title of this step is empty.",
                "Write it between the quotation marks, or take them out.",
                at,
            )
        if bare in ("progression", "include"):
            name = "FILE" if bare == "include" else "NAME"
            return "The name is empty.", f'Write it between the quotation marks: "{name}".', at
    if bare == "step" and '"' not in body and re.match(r"\s*step\s+\d+\s+\D", body):
        return "The title of a step is not in quotation marks.", 'Write it as "TITLE".', at
    return None


def _place(body: str, at: int) -> tuple[str, str, int, int] | None:
    """What is wrong where reading stopped at an `at` that was to open a place, or at the word after it; else None."""
    start = at
    if not re.match(r"at\b", body[at - 1 :]):
        before = re.search(r"(?<![^\s,;])at\s+\Z", body[: at - 1])
        if not before:
            return None
        start = before.start() + 1
    return (*(AS_IN if body[: start - 1].split()[-1] in ("in", "and") else PLACE), start, 2)


def _column(error: UnexpectedInput, body: str) -> int:
    """The column where reading stopped; lark has none at the end of the input."""
    end = len(body.rstrip())
    if isinstance(error, UnexpectedToken) and error.token.type == "$END":
        return max(1, end)
    column = getattr(error, "column", -1)
    if isinstance(error, UnexpectedCharacters) and column == -1:
        return max(1, end)
    return min(max(1, int(column)), max(1, end))
