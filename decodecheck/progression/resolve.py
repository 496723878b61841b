"""Resolve a progression: read its includes, find what every name stands for, and report every mistake at once."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from decodecheck.bounds import real
from decodecheck.errors import Problem, UserError
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.phonics.sounds import ACCENTS, Sound
from decodecheck.progression import meanings, syntax
from decodecheck.progression.many import first_of
from decodecheck.progression.mentions import Mentions, one_of
from decodecheck.progression.order import StepHead, TeachingOrder
from decodecheck.progression.parse import parse
from decodecheck.progression.pinned import PinError, pinned_reading
from decodecheck.progression.reading import read_included, read_progression
from decodecheck.progression.step_numbers import out_of_order
from decodecheck.progression.syntax import Source, Text
from decodecheck.source import shown


def load(path: str) -> TeachingOrder:
    """A progression that must be right: raises UserError with every mistake."""
    order, problems = resolve_file(path)
    errors = [p for p in problems if not p.note]
    if errors:
        raise UserError(*first_of(errors))
    return order


def resolve_file(path: str, accent: str | None = None) -> tuple[TeachingOrder, list[Problem]]:
    """A progression file with its includes, and everything that is wrong with it, in the order of the lines.

    `accent` stands in for the one that the file names.
    """
    return resolve(read_progression(path).text, shown(path), accent)


def resolve(text: str, path: str, accent: str | None = None) -> tuple[TeachingOrder, list[Problem]]:
    """A progression given as text; `path` is what messages name and where includes are looked for."""
    resolver = _Resolver(path, accent)
    resolver.read(text, path)
    resolver.resolve()
    return resolver.order, sorted(resolver.problems, key=lambda p: (p.path != path, p.path, p.line, p.column))


Once = syntax.Progression | syntax.Accent | syntax.Capitals | syntax.Doubled | syntax.Word
ONCE = (syntax.Progression, syntax.Accent, syntax.Capitals, syntax.Doubled, syntax.Word)
"""Statements of which one holds (of `word`, one for each word)."""
Placed = tuple[Source, int, syntax.Statement]
DEEPEST = 50
"""Files that may lie one in another."""
MOST_FILES = 1000
MOST_BLANKS = 80
"""Between two words of a name; a curly apostrophe may keep a word from being found, and that is not looked for in the whole line."""


@dataclass
class _Resolver(Mentions):
    path: str
    accent: str | None = None
    problems: list[Problem] = field(default_factory=list)
    statements: list[tuple[Source, int, syntax.Statement]] = field(default_factory=list)
    open_files: list[Path] = field(default_factory=list)
    included: dict[Path, tuple[str, int]] = field(default_factory=dict)
    unread: bool = False
    """Whether something could not be read, which may hold what is missed."""
    unreadable_steps: set[str] = field(default_factory=set)
    depths: dict[str, int] = field(default_factory=dict)
    """How many files lie between a file and the one that is resolved, itself included."""
    named: list[tuple[Sound, ...]] = field(default_factory=list)
    by_key: dict[Item, list[int]] = field(default_factory=dict)
    unknown: int = 0
    steps: frozenset[int] = frozenset()
    steps_in_short: str = ""

    def __post_init__(self) -> None:
        self.order = TeachingOrder(Path(self.path).stem, self.path, ACCENTS[0])

    # -- reading ----------------------------------------------------------------------------------------------------

    def read(self, text: str, path: str) -> None:
        source, problems = parse(text, path)
        self.problems += problems
        self.order.sources[path] = source.text
        self.unread = self.unread or bool(problems)
        if any(source.text[p.line - 1].split()[0] == "step" for p in problems):
            self.unreadable_steps.add(path)
        self.depths[path] = len(self.open_files)
        self.open_files.append(real(path))
        for line in source.lines:
            if isinstance(line.statement, syntax.Include):
                self._include(source, line.number, line.statement)
            elif line.statement is not None:
                self.statements.append((source, line.number, line.statement))
        self.open_files.pop()

    def _include(self, source: Source, number: int, statement: syntax.Include) -> None:
        target = Path(source.path).parent / statement.path.value
        try:
            found = real(target)
        except (OSError, RuntimeError, ValueError):  # a loop of links, or a sign that no path has
            self.unread = True
            self._problem(
                source, number, statement.path, "The included file cannot be used: This is no path.", "Check the path."
            )
            return
        if found in self.open_files:
            itself = found == self.open_files[-1]
            what = "This file includes itself." if itself else "This include leads back to a file that includes it."
            todo = "Take this include out." if itself else "Take one of the two includes out."
            self._problem(source, number, statement.path, what, todo)
            return
        if found in self.included:
            path, line = self.included[found]
            where = f"in line {line}" if path == source.path else f"in {path}, line {line}"
            what = f"This file is included already, {where}."
            self._problem(source, number, statement.path, what, "Take one of the two out.")
            return
        if len(self.open_files) > DEEPEST or len(self.included) >= MOST_FILES:
            self.unread = True
            deep = f"More than {DEEPEST} files include each other in a row."
            what = deep if len(self.open_files) > DEEPEST else f"More than {MOST_FILES:,} files are included."
            self._problem(source, number, statement.path, what, "Put what belongs together into one file.")
            return
        self.included[found] = (source.path, number)
        try:
            text = read_included(str(target), Path(self.path).parent)
        except UserError as error:
            self.unread = True
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
        self.names = meanings.known_names(self.order.lexicon)
        step = 0
        headless = False
        heads: dict[int, StepHead] = {}
        self._step_numbers()
        for source, number, s in self.statements:
            if isinstance(s, syntax.Step):
                step = int(s.number.value)
                if step < 1:
                    step = 1
                    self._problem(
                        source, number, s.number, "Steps are numbered from 1.", "Give this step a number from 1 up."
                    )
                    continue
                if step not in heads or (s.title and not heads[step].title):
                    heads[step] = StepHead(step, s.title.value if s.title else "", source.path, number)
            elif isinstance(s, (syntax.Teach, syntax.Together, syntax.Structure, syntax.Tricky)):
                if not step and source.path not in self.unreadable_steps:
                    headless = True
                    self._problem(
                        source,
                        number,
                        _first(s),
                        "This line must stand under a step.",
                        "Put `step 1` above it.",
                    )
                self._taught(source, number, s, max(step, 1))
        self.order.steps = [heads[n] for n in sorted(heads)]
        if not heads and not step and not headless and not self.unread:
            self.problems.append(
                Problem(self.path, "This progression has no steps.", "Write `step 1` and what it teaches.")
            )
        numbers = sorted(heads)
        self.steps = frozenset(numbers)
        if numbers:
            only = f"The only step is {numbers[0]}."
            self.steps_in_short = f"The steps are {spans(numbers)}." if len(numbers) > 1 else only
        for source, number, s in self.statements:
            if isinstance(s, (syntax.Capitals, syntax.Doubled)):
                self._known_step(source, number, s.number)

    def _step_numbers(self) -> None:
        """Report the steps of each file that are out of order."""
        by_file: dict[str, list[tuple[Source, int, syntax.Step]]] = {}
        for source, number, s in self.statements:
            if isinstance(s, syntax.Step) and int(s.number.value):
                by_file.setdefault(source.path, []).append((source, number, s))
        for steps in by_file.values():
            numbers = [int(s.number.value) for _, _, s in steps]
            for odd in out_of_order(numbers):
                source, number, s = steps[odd.at]
                step = numbers[odd.at]
                if odd.before and step > odd.before:
                    what = f"Step {step} stands between steps {odd.before} and {odd.after}."
                else:
                    again = "is declared twice" if step == odd.before else "comes after a later one"
                    what = f"Step {step} {again}." if odd.before else f"Step {step} stands before step {odd.after}."
                todo = f"The step before it in this file is {odd.before}; number steps upwards."
                if odd.before and odd.after == odd.before + 2:
                    todo = f"Is {odd.before + 1} meant? Number steps upwards."
                elif not odd.before:
                    todo = "Number steps upwards."
                self._problem(source, number, s.number, what, todo)

    def _settings(self) -> None:
        """Statements that stand outside steps; readings are pinned before anything is named by a word."""
        names: set[str] = set()
        sounds: set[str] = set()
        for source, number, s in self.statements:
            match s:
                case syntax.Accent(name) if name.value not in ACCENTS:
                    what = f"`{name}` is no accent of this program."
                    self._problem(source, number, name, what, one_of(name.value, list(ACCENTS)))
                case syntax.AllowNames(given):
                    for name in given:
                        self._allowed_name(source, number, name)
                    names |= {n.value for n in given}
                case syntax.AllowSounds(given):
                    sounds |= {plain_spelling(w.value).plain for w in given if self._may_match(source, number, w)}
                case syntax.SkipNames():
                    self.order.skip_names = True
                case syntax.Weakened():
                    self.order.weak_exact = True
        self.order.names, self.order.sounds = frozenset(names), frozenset(sounds)
        holding = self._said_once()
        places = {(source.path, number) for source, number, _ in holding}
        for _, _, s in holding:
            match s:
                case syntax.Progression(title):
                    self.order.name = title.value
                case syntax.Accent(name) if name.value in ACCENTS:
                    self.order.accent = name.value
                case syntax.Capitals(number_text):
                    self.order.capitals_from = int(number_text.value)
                case syntax.Doubled(number_text):
                    self.order.doubled_from = int(number_text.value)
        self.order.accent = self.accent or self.order.accent
        for source, number, s in self.statements:
            if isinstance(s, syntax.Word) and self._may_match(source, number, s.word):
                try:
                    reading = pinned_reading(s, self.order.accent)
                    if (source.path, number) in places:
                        self.order.pinned[s.word.value.lower()] = reading
                except PinError as error:
                    self._problem(source, number, error.at, error.what, error.todo)

    def _said_once(self) -> list[Placed]:
        """The statements of which one holds: that of the file which includes the others. What is said again is reported."""
        holding: dict[tuple[type, str], Placed] = {}
        for source, number, s in self.statements:
            if not isinstance(s, ONCE):
                continue
            text = _said(s)
            key = type(s), text.value.lower() if isinstance(s, syntax.Word) else ""
            before = holding.get(key)
            depth = self.depths[source.path]
            if before is None or depth < self.depths[before[0].path]:
                holding[key] = source, number, s
            elif source.path == before[0].path:
                what = f"This file says that already in line {before[1]}."
                if isinstance(s, syntax.Word):
                    what = f"This file pins the word `{text}` already in line {before[1]}."
                self._problem(source, number, text, what, "Keep one of the two lines.")
            elif depth == self.depths[before[0].path] and s != before[2] and not isinstance(s, syntax.Progression):
                what = f"{before[0].path}, line {before[1]}, says something else."
                self._problem(source, number, text, what, "Put the one you want into the file that includes both.")
        return list(holding.values())

    def _allowed_name(self, source: Source, number: int, name: Text) -> None:
        """Report what of a name no text can hold."""
        line = source.text[number - 1]
        at = name.column - 1
        for word in name.value.split():
            found = line.find(word, at, at + len(word) + MOST_BLANKS)
            at = found if found >= 0 else at
            self._may_match(source, number, Text(word, at + 1, len(word)))
            at += len(word)
        if not any(word[0].isupper() for word in name.value.split()):
            what = f"`{name}` is never found as a name: names are told by their capitals."
            self._problem(source, number, name, what, "Write it with a capital, or use `allow sounds`.")

    def _known_step(self, source: Source, number: int, text: Text) -> None:
        if self.steps and int(text.value) not in self.steps:
            self._problem(source, number, text, f"There is no step {text}.", self.steps_in_short)


def _said(s: Once) -> Text:
    """The piece of a statement that tells it from another of its kind."""
    match s:
        case syntax.Progression(text) | syntax.Accent(text) | syntax.Capitals(text) | syntax.Doubled(text):
            return text
        case syntax.Word(word):
            return word


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


def spans(numbers: list[int]) -> str:
    """Rising numbers in short: 1, 2, 3, 7 as "1 to 3, 7"."""
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
