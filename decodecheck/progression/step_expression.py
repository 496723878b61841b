"""Steps as a group needs them: `14`, `14 lag 2`, `14 also igh as in light`, `14 except ow as in town, tricky said`.

The answer is a teaching order of the group's own, and the step at which it stands in it: what is taught early counts from that
step on, what is left out is never taught (until the exception is taken out).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import assert_never

from lark import UnexpectedInput

from decodecheck.errors import Problem, UserError, nearest
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import NEVER
from decodecheck.progression import syntax
from decodecheck.progression.lessons import Lessons
from decodecheck.progression.order import Mention, TeachingOrder
from decodecheck.progression.parse import parse_step_expression
from decodecheck.progression.resolve import spans
from decodecheck.progression.statements import LESSONS
from decodecheck.progression.syntax import Also, Lag, Without

MOST_TITLES = 12
"""Titles that a message lists."""
FORMS = "`14`, `14 lag 2`, `14 also igh as in light`, `14 except ow as in town`, `14 also tricky said`"


@dataclass(frozen=True, slots=True)
class Wanted:
    """A step as the user wrote it, and where: in an option (line 0) or at `column` of a line of a file; its group's name."""

    text: str
    path: str = "--step"
    line: int = 0
    column: int = 1
    excerpt: str = ""
    group: str = ""

    def problem(self, what: str, todo: str, column: int = 1, width: int = 1, *, note: bool = False) -> Problem:
        """A problem at a column of the text."""
        return Problem(
            self.path, what, todo, self.line, self.column + column - 1, self.excerpt or self.text, width, note
        )


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a group stands: its teaching order, the step, and notes on clauses that change nothing."""

    order: TeachingOrder
    step: int
    notes: tuple[Problem, ...] = ()


def choose_step(order: TeachingOrder, wanted: Wanted | None) -> Standing:
    """Where a group stands that is given by a number, a title, or one of them with `lag`, `also`, `except`.

    The last step where nothing is given. Raises UserError, listing the steps, for an unknown one, for clauses that cannot be
    read, and for a progression without steps.
    """
    if not order.steps:
        raise UserError(Problem(order.path, "This progression has no steps.", "Write `step 1` and what it teaches."))
    if wanted is None:
        return Standing(order, order.last)
    if wanted.text.lower().startswith("step ") and not _by_title(order, wanted.text):
        # "step 14" says no more than "14"
        wanted = replace(wanted, text="     " + wanted.text[5:], excerpt=wanted.excerpt or wanted.text)
    titled = _by_title(order, wanted.text)
    # a title is put back as its number, as wide as it was, so that columns stay true
    text = wanted.text
    if titled:
        number, width = titled
        text = str(number).ljust(width) + wanted.text[width:]
    if not text.strip()[:1].isdigit() or text.split()[0] != text.split()[0].strip(",;"):
        raise UserError(_no_step(order, wanted, wanted.text.strip()))
    try:
        expression = parse_step_expression(text)
    except UnexpectedInput as error:
        raise UserError(_unreadable(wanted, text, error)) from None
    if int(expression.number.value) not in [s.number for s in order.steps]:
        raise UserError(_no_step(order, wanted, expression.number.value))
    return _Group(order, wanted, expression).standing()


@dataclass
class _Group:
    order: TeachingOrder
    wanted: Wanted
    expression: syntax.StepExpression

    def standing(self) -> Standing:
        step = self._lagged()
        if not self.expression.clauses:
            return Standing(self.order, step)
        group = f"{self.wanted.group}: " if self.wanted.group else ""
        order = self.order.for_group(group + " ".join(self.wanted.text.split()))
        notes: list[Problem] = []
        problems: list[Problem] = []
        for clause in self.expression.clauses:
            if isinstance(clause, Lag):
                continue
            lessons = Lessons(self.order, self.wanted.path)
            mentions = lessons.read(clause.lesson, self.wanted.text, step)
            problems += [
                replace(self.wanted.problem(p.what, p.todo, p.column, p.width), code=p.code) for p in lessons.problems
            ]
            change = _change(clause)
            order.tricky_spelling.update(
                (w, s) for w, s in lessons.order.tricky_spelling.items() if w not in order.tricky
            )
            for mention in mentions:
                idle = change(order, mention, step)
                if idle:
                    notes.append(
                        self.wanted.problem(idle, "It may be taken out.", mention.column, len(mention.label), note=True)
                    )
        if problems:
            raise UserError(*problems)
        return Standing(order, step, tuple(notes))

    def _lagged(self) -> int:
        numbers = [s.number for s in self.order.steps]
        at = numbers.index(int(self.expression.number.value))
        lags = [clause for clause in self.expression.clauses if isinstance(clause, Lag)]
        if len(lags) > 1:
            what = "`lag` is said twice."
            raise UserError(self.wanted.problem(what, "Write one number of steps.", lags[1].number.column))
        for clause in self.expression.clauses:
            if isinstance(clause, Lag):
                behind = int(clause.number.value)
                if behind > at:
                    what = f"No step lies {behind} before step {numbers[0] if not at else numbers[at]}."
                    todo = f"There {'is' if at == 1 else 'are'} {at} before it; write a smaller number."
                    raise UserError(self.wanted.problem(what, todo, clause.number.column, clause.number.width))
                at -= behind
        return numbers[at]


def _change(clause: Also | Without) -> Callable[[TeachingOrder, Mention, int], str]:
    """What a clause does with what it names."""
    match clause:
        case Also():
            return _teach
        case Without():
            return _leave_out
        case _:
            assert_never(clause)


def _teach(order: TeachingOrder, mention: Mention, step: int) -> str:
    """Put what a mention names at the step, if it comes later; says why it changes nothing where that is so."""
    if mention.kind == "tricky":
        if order.tricky.get(mention.label, NEVER) <= step:
            return f"`tricky {mention.label}` makes no difference: it is taught already, at step {order.tricky[mention.label]}."
        order.tricky[mention.label] = step
        order.tricky_places.setdefault(mention.label, (mention.path, mention.line, mention.column))
        return ""
    if all(order.item_step.get(key, NEVER) <= step for key in mention.keys):
        when = max(order.item_step[key] for key in mention.keys)
        return f"`{mention.label}` makes no difference: it is taught already, at step {when}."
    if mention.kind == "capital":
        order.capitals[mention.label.lower()] = step
    for key in mention.keys:
        order.item_step[key] = min(step, order.item_step.get(key, NEVER))
    order.mentions.append(replace(mention, step=step))
    return ""


def _leave_out(order: TeachingOrder, mention: Mention, step: int) -> str:
    """Take what a mention names out of what is taught; says why it changes nothing where that is so."""
    if mention.kind == "tricky":
        if order.tricky.get(mention.label, NEVER) > step:
            return f"`tricky {mention.label}` makes no difference: it is not taught by step {step} anyway."
        order.excepted[Item.tricky(mention.label)] = order.tricky.pop(mention.label)
        return ""
    taught = [key for key in mention.keys if order.item_step.get(key, NEVER) <= step]
    if not taught:
        return f"`{mention.label}` makes no difference: it is not taught by step {step} anyway."
    if mention.kind == "capital":
        order.capitals[mention.label.lower()] = NEVER
    for key in taught:
        order.excepted[key] = order.item_step[key]
        order.item_step[key] = NEVER
    return ""


def _by_title(order: TeachingOrder, text: str) -> tuple[int, int] | None:
    """The step whose title opens a text, and how many characters that takes; the longest title wins."""
    lead = len(text) - len(text.lstrip())
    found = [
        (len(s.title), s.number)
        for s in order.steps
        if s.title
        and text[lead:].lower().startswith(s.title.lower())
        and text[lead + len(s.title) : lead + len(s.title) + 1] in ("", " ")
    ]
    return (max(found)[1], lead + max(found)[0]) if found else None


def _no_step(order: TeachingOrder, wanted: Wanted, name: str) -> Problem:
    numbers = spans([s.number for s in order.steps])
    titled = [s.title for s in order.steps if s.title]
    close = nearest(name, titled, most=1)
    todo = f'Did you mean "{close[0]}"? ' if close else ""
    titles = "; ".join(f'{s.number} "{s.title}"' for s in order.steps if s.title) if len(titled) <= MOST_TITLES else ""
    todo += f"Its steps are: {numbers}." + (f" Titles: {titles}." if titles else "")
    what = f"There is no step {name!r} in {order.path}."
    lead = len(wanted.text) - len(wanted.text.lstrip()) if name else 0
    return wanted.problem(what, todo, lead + 1, max(1, len(name)))


def _unreadable(wanted: Wanted, text: str, error: UnexpectedInput) -> Problem:
    """What is wrong with the form of an expression, at the place where reading stopped."""
    end = len(text.rstrip())
    column = getattr(error, "column", -1)
    column = end if not isinstance(column, int) or not 1 <= column <= end else column
    token = getattr(error, "token", None)
    if token is not None and token.type == "$END":
        last = text.split()[-1]
        what = f"Nothing follows `{last}`." if last in ("also", "except", "lag") else "This step breaks off here."
        return wanted.problem(what, f"Forms are: {FORMS}.", end - len(last) + 1, len(last))
    rest = text[column - 1 :].split()
    word = rest[0] if rest else ""
    if text[: column - 1].split()[-1:] == ["lag"]:
        return wanted.problem("`lag` needs a number of steps.", "Write for instance `14 lag 2`.", column, len(word))
    before = text[: column - 1].split()[-1:]
    if before and before[0] in LESSONS:
        at = text.rindex(before[0], 0, column - 1)
        what = f"`{before[0]}` opens no item of this list."
        return wanted.problem(what, f"Say `also` or `except` again: `also {before[0]} {word}`.", at + 1, len(before[0]))
    opening = word.rstrip(",;")
    if opening in LESSONS:
        clauses = [w for w in text[: column - 1].split() if w in ("also", "except")]
        again = clauses[-1] if clauses else "also"
        what = f"`{opening}` needs an `{again}` of its own."
        named = " ".join(rest[1:2]).rstrip(",;") or "said"
        return wanted.problem(what, f"Write `{again} {opening} {named}`.", column, len(opening))
    close = nearest(word, ["also", "except", "lag"], most=1)
    todo = f"Did you mean `{close[0]}`? " if close else ""
    return wanted.problem("This step cannot be read from here on.", f"{todo}Forms are: {FORMS}.", column, len(word))


def renumbered(order: TeachingOrder, wanted: Wanted, counterpart: Callable[[int], int]) -> Wanted:
    """The same expression for another progression, whose steps have other numbers. Raises UserError for one that is wrong."""
    choose_step(order, wanted)
    titled = _by_title(order, wanted.text)
    if titled:
        return replace(wanted, text=f"{counterpart(titled[0])}{wanted.text[titled[1] :]}", excerpt="")
    number = wanted.text.split()[0]
    rest = wanted.text.lstrip()[len(number) :]
    return replace(wanted, text=f"{counterpart(int(number))}{rest}", excerpt="")
