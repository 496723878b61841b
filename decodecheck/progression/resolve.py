"""Resolve a progression: read its includes, find what every name stands for, and report every mistake at once."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import assert_never

from decodecheck.bounds import real
from decodecheck.errors import Problem, UserError
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression import syntax
from decodecheck.progression.findable import may_match
from decodecheck.progression.many import first_of
from decodecheck.progression.mentions import Mentions, one_of
from decodecheck.progression.order import StepHead, TeachingOrder
from decodecheck.progression.parse import parse
from decodecheck.progression.pinned import PinError, pinned_reading
from decodecheck.progression.reading import Read, read_included, read_progression
from decodecheck.progression.spot import Spot
from decodecheck.progression.step_numbers import out_of_order
from decodecheck.progression.syntax import Text
from decodecheck.source import NO_SUCH_FILE, read_text, shown


def load(path: str, accent: str | None = None) -> TeachingOrder:
    """A progression that must be right, read as one for another accent where that is given: raises UserError with every mistake."""
    order, problems = resolve_file(path, accent)
    errors = [p for p in problems if not p.note]
    if errors:
        raise UserError(*first_of(errors))
    return order


def resolve_file(path: str, accent: str | None = None) -> tuple[TeachingOrder, list[Problem]]:
    """A progression file with its includes, and everything that is wrong with it, in the order of the lines.

    `accent` stands in for the one that the file names.
    """
    return resolve(read_progression(path).text, shown(path), accent)


def resolve(
    text: str, path: str, accent: str | None = None, *, drafted: bool = False, read: Read = read_text
) -> tuple[TeachingOrder, list[Problem]]:
    """A progression given as text; `path` is what messages name and where includes are looked for.

    `drafted` says that the program wrote it, so that no message speaks of its lines, or of statements to add. `read` reads what it
    includes.
    """
    resolver = _Resolver(path, accent, drafted, read)
    resolver.read(text, path)
    resolver.resolve()
    return resolver.order, sorted(resolver.problems, key=lambda p: (p.path != path, p.path, p.line, p.column))


DEEPEST = 50
"""Files that may lie one in another."""
MOST_FILES = 1000
MOST_BLANKS = 80
"""Between two words of a name; a curly apostrophe may keep a word from being found, and that is not looked for in the whole line."""


@dataclass
class _Resolver:
    path: str
    accent: str | None = None
    drafted: bool = False
    reader: Read = read_text
    problems: list[Problem] = field(default_factory=list)
    in_steps: list[tuple[Spot, syntax.Step | syntax.Lesson]] = field(default_factory=list)
    single: list[tuple[Spot, syntax.Single]] = field(default_factory=list)
    repeated: list[tuple[Spot, syntax.Repeated]] = field(default_factory=list)
    open_files: list[Path] = field(default_factory=list)
    included: dict[Path, tuple[str, int]] = field(default_factory=dict)
    unread: bool = False
    """Whether something could not be read, which may hold what is missed."""
    unreadable_steps: set[str] = field(default_factory=set)
    depths: dict[str, int] = field(default_factory=dict)
    """How many files lie between a file and the one that is resolved, itself included."""
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
            s = line.statement
            if s is None:
                continue
            spot = Spot(source.path, line.number, source.text[line.number - 1], self.problems, self.drafted)
            if isinstance(s, syntax.Include):
                self._include(spot, s)
            elif isinstance(s, syntax.Step | syntax.Lesson):
                self.in_steps.append((spot, s))
            elif isinstance(s, syntax.Single):
                self.single.append((spot, s))
            elif isinstance(s, syntax.Repeated):
                self.repeated.append((spot, s))
            else:
                assert_never(s)
        self.open_files.pop()

    def _include(self, spot: Spot, statement: syntax.Include) -> None:
        target = Path(spot.path).parent / statement.path.value
        try:
            found = real(target)
        except (OSError, RuntimeError, ValueError):  # a loop of links, or a sign that no path has
            self.unread = True
            what = "The included file cannot be used: This is no path."
            spot.problem("not-included", statement.path, what, "Check the path.")
            return
        if found in self.open_files:
            itself = found == self.open_files[-1]
            what = "This file includes itself." if itself else "This include leads back to a file that includes it."
            todo = "Take this include out." if itself else "Take one of the two includes out."
            spot.problem("included-in-circle", statement.path, what, todo)
            return
        if found in self.included:
            path, line = self.included[found]
            what = f"This file is included already{spot.where(path, line)}."
            spot.problem("included-twice", statement.path, what, "Take one of the two out.")
            return
        if len(self.open_files) > DEEPEST or len(self.included) >= MOST_FILES:
            self.unread = True
            deep = f"More than {DEEPEST} files include each other in a row."
            what = deep if len(self.open_files) > DEEPEST else f"More than {MOST_FILES:,} files are included."
            spot.problem("too-many-files", statement.path, what, "Put what belongs together into one file.")
            return
        self.included[found] = (spot.path, spot.number)
        try:
            text = read_included(str(target), Path(self.path).parent, self.reader)
        except UserError as error:
            self.unread = True
            problem = error.problems[0]
            todo = "A path counts from the folder of this file." if problem.code == NO_SUCH_FILE else problem.todo
            spot.problem("not-included", statement.path, f"The included file cannot be used: {problem.what}", todo)
            return
        self.read(text, str(target))

    # -- resolving --------------------------------------------------------------------------------------------------

    def resolve(self) -> None:
        self._settings()
        mentions = Mentions(self.order)
        step = 0
        headless = False
        heads: dict[int, StepHead] = {}
        self._step_numbers()
        for spot, s in self.in_steps:
            if isinstance(s, syntax.Step):
                step = int(s.number.value)
                if step < 1:
                    step = 1
                    what = "Steps are numbered from 1."
                    spot.problem("step-number", s.number, what, "Give this step a number from 1 up.")
                    continue
                if step not in heads or (s.title and not heads[step].title):
                    heads[step] = StepHead(step, s.title.value if s.title else "", spot.path, spot.number)
                continue
            if not step and spot.path not in self.unreadable_steps:
                headless = True
                what = "This line must stand under a step."
                spot.problem("outside-steps", _first(s), what, "Put `step 1` above it.")
            mentions.take(spot, s, max(step, 1))
        self.order.steps = [heads[n] for n in sorted(heads)]
        if not heads and not step and not headless and not self.unread:
            self.problems.append(
                Problem(
                    self.path, "This progression has no steps.", "Write `step 1` and what it teaches.", code="no-steps"
                )
            )
        numbers = sorted(heads)
        self.steps = frozenset(numbers)
        if numbers:
            only = f"The only step is {numbers[0]}."
            self.steps_in_short = f"The steps are {spans(numbers)}." if len(numbers) > 1 else only
        for spot, once in self.single:
            if isinstance(once, (syntax.Capitals, syntax.Doubled)):
                self._known_step(spot, once.number)

    def _step_numbers(self) -> None:
        """Report the steps of each file that are out of order."""
        by_file: dict[str, list[tuple[Spot, Text]]] = {}
        for spot, s in self.in_steps:
            if isinstance(s, syntax.Step) and int(s.number.value):
                by_file.setdefault(spot.path, []).append((spot, s.number))
        for steps in by_file.values():
            numbers = [int(number.value) for _, number in steps]
            for odd in out_of_order(numbers):
                spot, number = steps[odd.at]
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
                spot.problem("step-number", number, what, todo)

    def _settings(self) -> None:
        """Statements that stand outside steps; readings are pinned before anything is named by a word."""
        self._allowances()
        for spot, s in self.single:
            if isinstance(s, syntax.Accent) and s.name.value not in ACCENTS:
                what = f"`{s.name}` is no accent of this program."
                spot.problem("no-accent", s.name, what, one_of(s.name.value, list(ACCENTS)))
        holding = self._said_once()
        pinned: list[tuple[Spot, syntax.Word]] = []
        for spot, s in holding:
            match s:
                case syntax.Progression(title):
                    self.order.name = title.value
                case syntax.Accent(name):
                    self.order.accent = name.value if name.value in ACCENTS else self.order.accent
                case syntax.Capitals(number):
                    self.order.capitals_from = int(number.value)
                case syntax.Doubled(number):
                    self.order.doubled_from = int(number.value)
                case syntax.Word():
                    pinned.append((spot, s))
                case _:
                    assert_never(s)
        self.order.accent = self.accent or self.order.accent
        self._pin(pinned)

    def _allowances(self) -> None:
        names: set[str] = set()
        sounds: set[str] = set()
        for spot, s in self.repeated:
            match s:
                case syntax.AllowNames(given):
                    for name in given:
                        _allowed_name(spot, name)
                    names |= {n.value for n in given}
                case syntax.AllowSounds(given):
                    sounds |= {plain_spelling(w.value).plain for w in given if may_match(spot, w)}
                case syntax.SkipNames():
                    self.order.skip_names = True
                case syntax.Weakened():
                    self.order.weak_exact = True
                case _:
                    assert_never(s)
        self.order.names, self.order.sounds = frozenset(names), frozenset(sounds)

    def _pin(self, holding: list[tuple[Spot, syntax.Word]]) -> None:
        """Pin the readings that hold; mistakes are reported in all."""
        places = {(spot.path, spot.number) for spot, _ in holding}
        for spot, s in self.single:
            if isinstance(s, syntax.Word) and may_match(spot, s.word):
                try:
                    reading = pinned_reading(s, self.order.accent)
                except PinError as error:
                    spot.problem("wrong-pin", error.at, error.what, error.todo)
                    continue
                if (spot.path, spot.number) in places:
                    self.order.pinned[s.word.value.lower()] = reading

    def _said_once(self) -> list[tuple[Spot, syntax.Single]]:
        """The statements of which one holds: that of the file which includes the others. What is said again is reported."""
        holding: dict[tuple[type, str], tuple[Spot, syntax.Single]] = {}
        for spot, s in self.single:
            text = _said(s)
            key = type(s), text.value.lower() if isinstance(s, syntax.Word) else ""
            depth = self.depths[spot.path]
            if key not in holding:
                holding[key] = spot, s
                continue
            before, other = holding[key]
            if depth < self.depths[before.path]:
                holding[key] = spot, s
            elif spot.path == before.path:
                what = f"This file says that already in line {before.number}."
                if isinstance(s, syntax.Word):
                    what = f"This file pins the word `{text}` already in line {before.number}."
                spot.problem("said-twice", text, what, "Keep one of the two lines.")
            elif depth == self.depths[before.path] and s != other and not isinstance(s, syntax.Progression):
                what = f"{before.path}, line {before.number}, says something else."
                spot.problem("said-otherwise", text, what, "Put the one you want into the file that includes both.")
        return list(holding.values())

    def _known_step(self, spot: Spot, text: Text) -> None:
        if self.steps and int(text.value) not in self.steps:
            spot.problem("no-step", text, f"There is no step {text}.", self.steps_in_short)


def _allowed_name(spot: Spot, name: Text) -> None:
    """Report what of a name no text can hold."""
    at = name.column - 1
    for word in name.value.split():
        found = spot.line.find(word, at, at + len(word) + MOST_BLANKS)
        at = found if found >= 0 else at
        may_match(spot, Text(word, at + 1, len(word)))
        at += len(word)
    if not any(word[0].isupper() for word in name.value.split()):
        what = f"`{name}` is never found as a name: names are told by their capitals."
        spot.problem("name-without-capital", name, what, "Write it with a capital, or use `allow sounds`.")


def _said(s: syntax.Single) -> Text:
    """The piece of a statement that tells it from another of its kind."""
    match s:
        case syntax.Progression(text) | syntax.Accent(text) | syntax.Capitals(text) | syntax.Doubled(text):
            return text
        case syntax.Word(word):
            return word
        case _:
            assert_never(s)


def _first(s: syntax.Lesson) -> Text:
    match s:
        case syntax.Teach(given):
            return given[0].name
        case syntax.Structure(shapes):
            return shapes[0].name
        case syntax.Together(names):
            return names[0]
        case syntax.Tricky(words):
            return words[0]
        case _:
            assert_never(s)


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
