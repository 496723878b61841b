"""Resolve a progression: read its includes, find what every name stands for, and report every mistake at once."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from decodecheck.errors import Problem, UserError
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression import items, syntax
from decodecheck.progression.mentions import Mentions, one_of
from decodecheck.progression.order import StepHead, TeachingOrder
from decodecheck.progression.parse import parse
from decodecheck.progression.pinned import PinError, pinned_reading
from decodecheck.progression.syntax import Source, Text
from decodecheck.source import read_text, shown


def load(path: str) -> TeachingOrder:
    """A progression that must be right: raises UserError with every mistake."""
    order, problems = resolve_file(path)
    errors = [p for p in problems if not p.note]
    if errors:
        raise UserError(*errors)
    return order


def resolve_file(path: str, accent: str | None = None) -> tuple[TeachingOrder, list[Problem]]:
    """A progression file with its includes, and everything that is wrong with it, in the order of the lines.

    `accent` stands in for the one that the file names.
    """
    return resolve(read_text(path).text, shown(path), accent)


def resolve(text: str, path: str, accent: str | None = None) -> tuple[TeachingOrder, list[Problem]]:
    """A progression given as text; `path` is what messages name and where includes are looked for."""
    resolver = _Resolver(path, accent)
    resolver.read(text, path)
    resolver.resolve()
    return resolver.order, sorted(resolver.problems, key=lambda p: (p.path != path, p.path, p.line, p.column))


@dataclass
class _Resolver(Mentions):
    path: str
    accent: str | None = None
    problems: list[Problem] = field(default_factory=list)
    statements: list[tuple[Source, int, syntax.Statement]] = field(default_factory=list)
    open_files: list[Path] = field(default_factory=list)
    included: dict[Path, tuple[str, int]] = field(default_factory=dict)
    unreadable_steps: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.order = TeachingOrder(Path(self.path).stem, self.path, ACCENTS[0])

    # -- reading ----------------------------------------------------------------------------------------------------

    def read(self, text: str, path: str) -> None:
        source, problems = parse(text, path)
        self.problems += problems
        self.order.sources[path] = source.text
        if any(source.text[p.line - 1].split()[0] == "step" for p in problems):
            self.unreadable_steps.add(path)
        self.open_files.append(Path(path).resolve())
        for line in source.lines:
            if isinstance(line.statement, syntax.Include):
                self._include(source, line.number, line.statement)
            elif line.statement is not None:
                self.statements.append((source, line.number, line.statement))
        self.open_files.pop()

    def _include(self, source: Source, number: int, statement: syntax.Include) -> None:
        target = Path(source.path).parent / statement.path.value
        if target.resolve() in self.open_files:
            self._problem(
                source,
                number,
                statement.path,
                "This include leads back to a file that includes it.",
                "Take one of the two includes out.",
            )
            return
        if target.resolve() in self.included:
            path, line = self.included[target.resolve()]
            where = f"in line {line}" if path == source.path else f"in {path}, line {line}"
            what = f"This file is included already, {where}."
            self._problem(source, number, statement.path, what, "Take one of the two out.")
            return
        self.included[target.resolve()] = (source.path, number)
        try:
            text = read_text(str(target)).text
        except UserError as error:
            what, todo = error.problems[0].what, error.problems[0].todo
            if what == "There is no such file.":
                todo = "A path counts from the folder of this file."
            self._problem(source, number, statement.path, f"The included file cannot be used: {what}", todo)
            return
        self.read(text, str(target))

    def _problem(
        self, source: Source, number: int, text: Text, what: str, todo: str = "", *, note: bool = False
    ) -> None:
        line = source.text[number - 1]
        column = min(max(1, text.column), max(1, len(line)))
        self.problems.append(Problem(source.path, what, todo, number, column, line, max(1, text.width), note))

    # -- resolving --------------------------------------------------------------------------------------------------

    def resolve(self) -> None:
        self._settings()
        self.names = items.known_names(self.order.lexicon)
        step = 0
        previous: dict[str, int] = {}
        heads: dict[int, StepHead] = {}
        for source, number, s in self.statements:
            if isinstance(s, syntax.Step):
                step = int(s.number.value)
                if step < 1:
                    step = 1
                    self._problem(
                        source, number, s.number, "Steps are numbered from 1.", "Give this step a number from 1 up."
                    )
                    continue
                if step <= previous.get(source.path, 0):
                    again = "is declared twice" if step == previous[source.path] else "comes after a later one"
                    self._problem(
                        source,
                        number,
                        s.number,
                        f"Step {step} {again}.",
                        f"The step before it in this file is {previous[source.path]}; number steps upwards.",
                    )
                previous[source.path] = max(step, previous.get(source.path, 0))
                if step not in heads or (s.title and not heads[step].title):
                    heads[step] = StepHead(step, s.title.value if s.title else "", source.path, number)
            elif isinstance(s, (syntax.Teach, syntax.Together, syntax.Structure, syntax.Tricky)):
                if not step and source.path not in self.unreadable_steps:
                    self._problem(
                        source,
                        number,
                        _first(s),
                        "This comes before the first step.",
                        "Open a step above it: `step 1`.",
                    )
                self._taught(source, number, s, max(step, 1))
        self.order.steps = [heads[n] for n in sorted(heads)]
        for source, number, s in self.statements:
            if isinstance(s, (syntax.Capitals, syntax.Doubled)):
                self._known_step(source, number, s.number)

    def _settings(self) -> None:
        """Statements that stand outside steps; readings are pinned before anything is named by a word."""
        seen: dict[type, int] = {}
        names: set[str] = set()
        sounds: set[str] = set()
        for source, number, s in self.statements:
            if isinstance(s, (syntax.Progression, syntax.Accent)) and source.path == self.path:
                if type(s) in seen:
                    text = s.title if isinstance(s, syntax.Progression) else s.name
                    self._problem(
                        source,
                        number,
                        text,
                        f"This file says that already in line {seen[type(s)]}.",
                        "Keep one of the two lines.",
                    )
                seen[type(s)] = number
            match s:
                case syntax.Progression(title):
                    self.order.name = title.value
                case syntax.Accent(name):
                    if name.value in ACCENTS:
                        self.order.accent = name.value
                    else:
                        self._problem(
                            source,
                            number,
                            name,
                            f"`{name}` is no accent of this program.",
                            one_of(name.value, list(ACCENTS)),
                        )
                case syntax.Capitals(number_text):
                    self.order.capitals_from = int(number_text.value)
                case syntax.Doubled(number_text):
                    self.order.doubled_from = int(number_text.value)
                case syntax.AllowNames(given):
                    names |= {n.value for n in given}
                case syntax.AllowSounds(given):
                    sounds |= {w.value.lower() for w in given}
                case syntax.SkipNames():
                    self.order.skip_names = True
                case syntax.Weakened():
                    self.order.weak_exact = True
        self.order.accent = self.accent or self.order.accent
        self.order.names, self.order.sounds = frozenset(names), frozenset(sounds)
        for source, number, s in self.statements:
            if isinstance(s, syntax.Word):
                try:
                    self.order.pinned[s.word.value.lower()] = pinned_reading(s, self.order.accent)
                except PinError as error:
                    self._problem(source, number, error.at, error.what, error.todo)

    def _known_step(self, source: Source, number: int, text: Text) -> None:
        numbers = [s.number for s in self.order.steps]
        if int(text.value) not in numbers and numbers:
            self._problem(source, number, text, f"There is no step {text}.", f"The steps are {_spans(numbers)}.")


def _first(s: syntax.Teach | syntax.Together | syntax.Structure | syntax.Tricky) -> Text:
    match s:
        case syntax.Teach(given):
            return given[0].name
        case syntax.Structure(shapes):
            return shapes[0].name
        case syntax.Together(names):
            return names[0]
        case syntax.Tricky(words):
            return words[0]


def _spans(numbers: list[int]) -> str:
    """1, 2, 3, 7 as "1 to 3, 7"."""
    out: list[str] = []
    start = previous = numbers[0]
    for n in [*numbers[1:], 0]:
        if n != previous + 1:
            out.append(
                str(start)
                if start == previous
                else f"{start} to {previous}"
                if previous > start + 1
                else f"{start}, {previous}"
            )
            start = n
        previous = n
    return ", ".join(out)
