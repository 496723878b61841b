"""Parse a progression file line by line with lark; every line that cannot be read becomes a problem, and the rest is kept."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any

from lark import Lark, Token, Transformer, UnexpectedInput
from lark.exceptions import VisitError

from decodecheck.errors import Problem
from decodecheck.progression import syntax
from decodecheck.progression.mistakes import explain_mistake
from decodecheck.progression.syntax import Line, Part, Shape, Source, Statement, Text
from decodecheck.progression.tabulate import built, loaded

MOST_EXPLAINED = 120
"""Lines that cannot be read whose mistake is looked for; more than are told (`many.MOST`)."""


@cache
def parser(start: str = "start") -> Lark:
    """The LALR parser of one statement, or of what another rule of the grammar describes."""
    return loaded(start) or built(start)


def parse(text: str, path: str) -> tuple[Source, list[Problem]]:
    """All statements of a progression file, and what is wrong with the lines that have none."""
    lines: list[Line] = []
    problems: list[Problem] = []
    raw = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if raw and raw[-1] == "":
        raw.pop()
    for number, line in enumerate(raw, 1):
        body, comment = split_comment(line)
        statement: Statement | None = None
        if body.strip():
            try:
                statement = parse_statement(body)
            except UnexpectedInput as error:
                if len(problems) < MOST_EXPLAINED:
                    problems.append(explain_mistake(parser(), path, number, line, _straight(body), error))
                else:
                    # to say what is wrong takes a hundred times as long as to read a line
                    column = len(body) - len(body.lstrip()) + 1
                    what = "This line cannot be read."
                    problems.append(Problem(path, what, "", number, column, line, code="cannot-be-read"))
        lines.append(Line(number, statement, comment))
    return Source(path, tuple(lines), tuple(raw)), problems


@lru_cache(maxsize=1024)
def parse_statement(body: str) -> Statement:
    """One statement; lines are read again for every accent that a progression is held against. Raises lark's UnexpectedInput."""
    tree = parser().parse(_straight(body))
    try:
        statement: Statement = _Builder().transform(tree)
    except VisitError as error:  # pragma: no cover - a builder never fails on a parsed tree
        raise error.orig_exc from None
    return statement


def parse_items(text: str) -> syntax.Teach:
    """A list of items, as it follows `teach`. Raises lark's UnexpectedInput."""
    tree = parser().parse(_straight(f"teach {text}"))
    statement: syntax.Teach = _Builder().transform(tree)
    return statement


def parse_step_expression(text: str) -> syntax.StepExpression:
    """A step and how a group differs from it. Raises lark's UnexpectedInput."""
    tree = parser("step_expression").parse(_straight(text))
    expression: syntax.StepExpression = _Builder().transform(tree)
    return expression


def _straight(body: str) -> str:
    """Straight apostrophes and plain spaces outside quotation marks, and straight quotation marks for curly ones, which word
    processors put in, where there are no others; as long as it was."""
    if '"' not in body:
        body = body.translate(_CURLY)
    parts = body.split('"')
    for i in range(0, len(parts), 2):
        parts[i] = parts[i].replace("\u2019", "'").replace("\u2018", "'").replace("\u00a0", " ").replace("\u202f", " ")
    return '"'.join(parts)


_CURLY = str.maketrans("\u201c\u201d\u201e", '"""')


def split_comment(line: str) -> tuple[str, str]:
    """A line without its comment, and the comment without its sign; a # inside quotes is none."""
    quoted = False
    for i, character in enumerate(line if '"' in line else line.translate(_CURLY)):
        if character == '"':
            quoted = not quoted
        elif character == "#" and not quoted:
            return line[:i], line[i + 1 :].strip()
    return line, ""


def _text(token: Token) -> Text:
    value = token[1:-1] if token.type == "STRING" else str(token)
    if token.type == "IPA":
        return Text(value[1:-1].strip(), token.column or 1, len(value))
    return Text(value, (token.column or 1) + (token.type == "STRING"), max(1, len(value)))


def _lesson(given: list[Any]) -> syntax.Lesson:
    """What a group is taught otherwise: a whole statement, or items with `teach` understood."""
    lesson: syntax.Lesson = syntax.Teach(tuple(given)) if isinstance(given[0], syntax.Item) else given[0]
    return lesson


class _Builder(Transformer[Token, Any]):
    """Lark's tree to the dataclasses of the same names."""

    def __default__(self, data: Any, children: list[Any], meta: Any) -> Any:
        raise NotImplementedError(f"nothing builds the rule {data} of the grammar")

    def progression(self, c: list[Token]) -> syntax.Progression:
        return syntax.Progression(_text(c[1]))

    def accent(self, c: list[Token]) -> syntax.Accent:
        return syntax.Accent(_text(c[1]))

    def include(self, c: list[Token]) -> syntax.Include:
        return syntax.Include(_text(c[1]))

    def step(self, c: list[Token]) -> syntax.Step:
        return syntax.Step(_text(c[1]), _text(c[2]) if len(c) > 2 else None)

    def teach(self, c: list[Any]) -> syntax.Teach:
        return syntax.Teach(tuple(c[1:]))

    def item(self, c: list[Token]) -> syntax.Item:
        place = ""
        if c[-1].type == "PLACE":
            place = c.pop().split()[-1]
        return syntax.Item(_text(c[0]), tuple(map(_text, c[1:])), place)

    def step_expression(self, c: list[Any]) -> syntax.StepExpression:
        return syntax.StepExpression(_text(c[0]), tuple(c[1:]))

    def lag(self, c: list[Token]) -> syntax.Lag:
        return syntax.Lag(_text(c[1]))

    def also(self, c: list[Any]) -> syntax.Also:
        return syntax.Also(_lesson(c[1:]))

    def without(self, c: list[Any]) -> syntax.Without:
        return syntax.Without(_lesson(c[1:]))

    def together(self, c: list[Token]) -> syntax.Together:
        return syntax.Together(tuple(map(_text, c[1:])))

    def structure(self, c: list[Any]) -> syntax.Structure:
        return syntax.Structure(tuple(c[1:]))

    def shape(self, c: list[Token]) -> Shape:
        return Shape(_text(c[0]), c[0].type == "NUMBER")

    def tricky(self, c: list[Token]) -> syntax.Tricky:
        return syntax.Tricky(tuple(map(_text, c[1:])))

    def capitals(self, c: list[Token]) -> syntax.Capitals:
        return syntax.Capitals(_text(c[1]))

    def doubled(self, c: list[Token]) -> syntax.Doubled:
        return syntax.Doubled(_text(c[1]))

    def name(self, c: list[Token]) -> Text:
        first, last = c[0], c[-1]
        end = (last.column or 1) + len(last)
        return Text(" ".join(c), first.column or 1, end - (first.column or 1))

    def allow_names(self, c: list[Any]) -> syntax.AllowNames:
        return syntax.AllowNames(tuple(c[1:]))

    def allow_sounds(self, c: list[Token]) -> syntax.AllowSounds:
        return syntax.AllowSounds(tuple(map(_text, c[1:])))

    def skip_names(self, c: list[Token]) -> syntax.SkipNames:
        return syntax.SkipNames()

    def weakened(self, c: list[Token]) -> syntax.Weakened:
        return syntax.Weakened()

    def word(self, c: list[Any]) -> syntax.Word:
        return syntax.Word(_text(c[1]), tuple(c[2:]))

    def part(self, c: list[Token]) -> Part:
        return Part(_text(c[0]), _text(c[1]) if len(c) > 1 else None)
