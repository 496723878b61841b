"""Resolve a progression: read its includes, find what every name stands for, and report every mistake at once."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from decodecheck.errors import Problem, UserError, nearest
from decodecheck.lexicon.endings import ENDINGS
from decodecheck.lexicon.store import Reading, lexicon
from decodecheck.phonics.inventory import inventory, together
from decodecheck.phonics.sounds import ACCENTS, Sound, lexicon_of
from decodecheck.progression import items, syntax
from decodecheck.progression.order import Mention, StepHead, TeachingOrder
from decodecheck.progression.parse import parse
from decodecheck.progression.pinned import PinError, pinned_reading
from decodecheck.progression.syntax import Item, Source, Text
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
class _Resolver:
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
                            _one_of(name.value, list(ACCENTS)),
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

    # -- items ------------------------------------------------------------------------------------------------------

    def _taught(self, source: Source, number: int, s: syntax.Statement, step: int) -> None:
        match s:
            case syntax.Teach(given):
                for item in given:
                    self._item(source, number, item, step)
            case syntax.Together(given):
                for name in given:
                    if name.value in together():
                        self._mention(
                            source, number, name, step, name.value, "together", frozenset((f"together|{name}",))
                        )
                    else:
                        self._problem(
                            source,
                            number,
                            name,
                            f"`{name}` is no combination of this program.",
                            _one_of(name.value, list(together())),
                        )
            case syntax.Structure(shapes):
                for shape in shapes:
                    key = f"syllables|{int(shape.name.value)}" if shape.syllables else f"shape|{shape.name}"
                    label = f"{shape.name} syllables" if shape.syllables else shape.name.value
                    self._mention(source, number, shape.name, step, label, "structure", frozenset((key,)))
            case syntax.Tricky(words):
                for word in words:
                    self._tricky(source, number, word, step)

    def _tricky(self, source: Source, number: int, word: Text, step: int) -> None:
        key = word.value.lower()
        if key in self.order.tricky:
            path, line, _ = self.order.tricky_places[key]
            where = f"in line {line}" if path == source.path else f"in {path}, line {line}"
            self._problem(
                source,
                number,
                word,
                f"The tricky word `{word}` is taught twice; first at step {self.order.tricky[key]}, {where}.",
                "Take one of the two out.",
            )
            return
        self.order.tricky[key] = step
        self.order.tricky_places[key] = (source.path, number, word.column)

    def _item(self, source: Source, number: int, item: Item, step: int) -> None:
        name = item.name.value
        accent = self.order.accent
        if len(name) == 1 and name.isupper():
            self.order.capitals.setdefault(name.lower(), step)
            self._mention(source, number, item.name, step, name, "capital", frozenset((f"capital|{name.lower()}",)))
            return
        if name in ENDINGS:
            self._mention(source, number, item.name, step, name, "ending", frozenset((f"ending|{name}",)))
            return
        rows = inventory().by_grapheme.get(name)
        if item.words:
            if not rows and name in together():
                what = f"`{name}` is a combination, which needs no word."
                self._problem(source, number, item.name, what, f"Write it alone: `teach {name}`.")
            elif not rows and not any(w.value.lower() in self.order.pinned for w in item.words):
                self._unknown(source, number, item.name)
            else:
                self._as_in(source, number, item, step)
            return
        if rows and any(c.bare != "no" for c in rows):
            asked = [c for c in items.choices(name, accent) if c.bare == "ask"]
            if len(asked) > 1:
                paste = " or ".join(f"`{name} as in {c.key_word}`" for c in asked)
                both = f"{name} as in " + " and ".join(c.key_word for c in asked)
                self._problem(
                    source,
                    number,
                    item.name,
                    f"`{name}` alone does not say which sound is taught.",
                    f"Write {paste}, or for all of them `{both}`.",
                )
                return
            sounds = [s for c in rows if c.bare != "no" for s in items.same_in_accent(name, c.sound, accent)]
            self._mention(
                source,
                number,
                item.name,
                step,
                name,
                "correspondence",
                items.keys(name, sounds, item.place),
                item.place,
            )
            return
        if name in together():
            self._mention(source, number, item.name, step, name, "together", frozenset((f"together|{name}",)))
            return
        if name in self.names.adjacent:
            self._mention(source, number, item.name, step, name, "adjacent", frozenset((f"adjacent|{name}",)))
            return
        if rows:
            options = ", ".join(f"`{name} as in {c.key_word}`" for c in items.choices(name, accent))
            self._problem(
                source, number, item.name, f"`{name}` alone does not say which sound is taught.", f"Write {options}."
            )
            return
        self._unknown(source, number, item.name)

    def _unknown(self, source: Source, number: int, name: Text) -> None:
        everything = [*self.names.graphemes, *self.names.endings, *self.names.together]
        close = nearest(name.value.lower(), everything)
        with_hyphen = "".join(c if c.isalpha() else "-" for c in name.value.lower())
        if with_hyphen in everything:
            close.insert(0, with_hyphen)
        if f"-{name.value}" in self.names.endings:
            close.insert(0, f"-{name.value}")
        hint = (
            "Nearest: " + ", ".join(f"`{c}`" for c in list(dict.fromkeys(close))[:3]) + "."
            if close
            else "Name a grapheme (ai, a-e), an ending (-ing) or adjacent consonants (st)."
        )
        self._problem(
            source, number, name, f"`{name}` is no grapheme, ending or combination that this program knows.", hint
        )

    def _as_in(self, source: Source, number: int, item: Item, step: int) -> None:
        name, accent = item.name.value, self.order.accent
        found: list[Sound] = []
        for word in item.words:
            key = word.value.lower()
            readings = self._readings(key)
            named = items.as_in(name, key, readings, accent)
            if not readings and not named.sounds:
                todo = f"Name the sound by a word that is, or pin it first: `word {word} = ...`."
                self._problem(source, number, word, f"The word `{word}` is not in the lexicon.", todo)
            elif not named.sounds:
                self._no_such(source, number, item.name, word, readings)
            elif not named.clear:
                options = ", ".join(f"`{name} as in {c.key_word}`" for c in items.choices(name, accent)[:6])
                what = f"`{name}` has more than one sound in `{word}`."
                self._problem(source, number, word, what, f"Choose a word where it has one, such as {options}.")
            else:
                for sound in named.sounds:
                    found += items.same_in_accent(name, sound, accent)
        if found:
            label = f"{name} as in " + " and ".join(w.value for w in item.words)
            self._mention(
                source,
                number,
                item.name,
                step,
                label,
                "correspondence",
                items.keys(name, found, item.place),
                item.place,
            )

    def _no_such(self, source: Source, number: int, name: Text, word: Text, readings: list[Reading]) -> None:
        if name.value not in inventory().by_grapheme and name.value.replace("-", "") not in word.value.lower():
            self._unknown(source, number, name)
            return
        shown = " ".join(s.grapheme for s in readings[0].segments)
        options = ", ".join(f"`{name} as in {c.key_word}`" for c in items.choices(name.value, self.order.accent)[:6])
        self._problem(
            source,
            number,
            word,
            f"`{word}` does not hold the grapheme `{name}`: it is {shown}.",
            f"Name the sound by another word: {options}." if options else "",
        )

    def _readings(self, word: str) -> list[Reading]:
        if word in self.order.pinned:
            return [self.order.pinned[word]]
        return lexicon(lexicon_of(self.order.accent)).readings(word)

    def _mention(
        self,
        source: Source,
        number: int,
        text: Text,
        step: int,
        label: str,
        kind: str,
        keys: frozenset[str],
        place: str = "",
    ) -> None:
        if place:
            label += f", at word {place}"
        if all(key in self.order.item_step for key in keys):
            first = next(m for m in self.order.mentions if m.keys & keys)
            where = f"in line {first.line}" if first.path == source.path else f"in {first.path}, line {first.line}"
            same = "" if first.label == label else f" as `{first.label}`, the same in this accent"
            self._problem(
                source,
                number,
                text,
                f"`{label}` is taught twice; first at step {first.step}, {where}{same}.",
                "Take one of the two out.",
            )
            return
        for key in keys:
            self.order.item_step.setdefault(key, step)
        self.order.mentions.append(Mention(step, label, kind, keys, source.path, number, text.column))


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


def _one_of(name: str, known: list[str]) -> str:
    close = nearest(name, known)
    return (
        "Nearest: " + ", ".join(f"`{c}`" for c in close) + "." if close else "Choose one of: " + ", ".join(known) + "."
    )


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
