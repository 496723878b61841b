"""`decodecheck.toml`: which progression a folder's texts follow, and at which step each text is read."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from decodecheck.bounds import CONFIG, leads_out, real
from decodecheck.documents.document import Place
from decodecheck.errors import Problem, UserError, nearest
from decodecheck.progression.step_expression import Wanted
from decodecheck.project.patterns import LONGEST, PathPattern
from decodecheck.project.rules import ListRule, RuleReader, TextRule, heads, hint, step_of
from decodecheck.project.toml_mistakes import explain_toml, too_deep, unparsed
from decodecheck.project.toml_places import Places
from decodecheck.source import linked_out, read_text

NAME = CONFIG
KEYS = ("progression", "step", "groups", "texts", "lists", "settled", "pipeline")
PLACES = {"line": int, "paragraph": int, "page": int, "chapter": str, "sheet": str, "cell": str}
"""Keys of [[settled]] that say where in a text a word stands, each with what it must be."""
SETTLED_KEYS = ("files", "word", "sense", *PLACES)
LONGEST_TABLE = 6
"""Lines below the head of a table in which its values are looked for."""


@dataclass(frozen=True, slots=True)
class Settled:
    """The sense of a word that somebody settled by hand: in which files, at which place, which sense."""

    paths: PathPattern
    word: str
    place: Place
    sense: str
    pattern: str = "**"
    at: int = 0
    """Where its table opens; 0 where that is not known."""


@dataclass(frozen=True, slots=True)
class Config:
    """A configuration file. Paths in it count from its folder."""

    path: Path
    progression: str | None
    step: Wanted | None
    rules: tuple[TextRule, ...]
    settled: tuple[Settled, ...] = ()
    pipeline: str | None = None
    groups: Mapping[str, Wanted] = field(default_factory=dict)
    lines: tuple[str, ...] = field(default=(), repr=False)
    lists: tuple[ListRule, ...] = ()

    @property
    def name(self) -> str:
        """The file as messages name it."""
        return _shown(str(self.path))

    def problem(self, line: int, what: str, todo: str, text: str = "") -> Problem:
        """What is wrong with a line of the file, or with `text` in the table that opens there."""
        for number in range(line, min(line + LONGEST_TABLE, len(self.lines) + 1)) if text and line else ():
            excerpt = self.lines[number - 1]
            if text in excerpt:
                return Problem(self.name, what, todo, number, excerpt.index(text) + 1, excerpt, len(text))
        excerpt = self.lines[line - 1] if 0 < line <= len(self.lines) else ""
        return Problem(self.name, what, todo, line, 1 if excerpt else 0, excerpt, max(1, len(excerpt)))

    def group(self, name: str) -> Wanted:
        """The step expression of a named group. Raises UserError, naming the groups, for an unknown one."""
        if name in self.groups:
            return self.groups[name]
        if not self.groups:
            todo = 'Write into it, for instance: [groups] and below it  Limpets = "14 also igh as in light"'
            raise UserError(Problem(_shown(str(self.path)), "This file names no groups.", todo))
        close = nearest(name, list(self.groups), most=1)
        todo = (f"Did you mean {close[0]}? " if close else "") + f"Its groups are: {', '.join(self.groups)}."
        raise UserError(Problem(_shown(str(self.path)), f"There is no group called {name!r} in this file.", todo))

    def sense_of(self, path: Path) -> Callable[[str, Place], str] | None:
        """The senses settled by hand for one text, as a function of word and place; None where there are none."""
        if not self.settled:
            return None
        relative = self.relative(path)
        mine = [s for s in self.settled if relative is not None and s.paths.match(relative)]
        if not mine:
            return None

        def sense(word: str, place: Place) -> str:
            return next((s.sense for s in mine if s.word == word and place.within(s.place)), "")

        return sense

    def relative(self, path: Path) -> str | None:
        """A path as the folder of this configuration sees it, with slashes; None for what lies outside of it."""
        try:
            return real(path).relative_to(real(self.path.parent)).as_posix()
        except ValueError:
            return None

    def named(self, path: Path) -> str:
        """How this file names a text: from its own folder on."""
        return self.relative(path) or path.as_posix()

    def fit(self, rule: TextRule | ListRule | Settled, names: Iterable[str]) -> bool:
        """Whether a pattern fits one of the files, as `named` names them."""
        return any(rule.paths.match(name) is not None for name in names)


def find_config(start: Path) -> Config | None:
    """The nearest configuration from a file or folder upwards, else none. Raises UserError where it is wrong."""
    try:
        folder = real(start if start.is_dir() else start.parent)
    except (OSError, ValueError):
        return None
    for place in (folder, *folder.parents):
        # whatever is there, readable or not, is meant to be read
        if os.path.lexists(place / NAME):
            return read_config(str(place / NAME))
    return None


def read_config(path: str) -> Config:
    """Read one configuration file; it is read once, until it changes. Raises UserError with every mistake in it."""
    try:
        status = Path(path).stat()
    except (OSError, ValueError):
        return _read_config(path, None, Path.cwd())
    return _read_config(path, (status.st_mtime_ns, status.st_size, status.st_ino), Path.cwd())


@lru_cache(maxsize=64)
def _read_config(path: str, state: tuple[int, int, int] | None, folder: Path) -> Config:
    """`state` is what changes when the file does; paths are named from the `folder` in which the program runs."""
    name = _shown(path)
    if leads_out(path):
        raise UserError(linked_out(name))
    text = read_text(name).text
    deep = too_deep(name, text)
    if deep:
        raise UserError(deep)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise UserError(explain_toml(name, text, str(error))) from None
    except (RecursionError, ValueError) as error:
        raise UserError(unparsed(name, text, error)) from None
    problems: list[Problem] = []

    places = Places(name, text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))

    def complain(key: str, what: str, todo: str, table: int = 0) -> None:
        line, column, excerpt = places.find(key, table)
        problems.append(Problem(name, what, todo, line, column, excerpt, len(key)))

    for key in data:
        if key not in KEYS:
            complain(key, f"`{key}` is no key of this file.", hint(key, KEYS))
    progression = data.get("progression")
    if progression is not None and not isinstance(progression, str):
        complain(
            "progression", "`progression` is not a text.", 'Write for instance: progression = "school.progression"'
        )
    if progression == "":
        complain("progression", "`progression` is empty.", 'Write for instance: progression = "school.progression"')
    step = step_of(data.get("step"), "step", complain)
    groups = _groups(data.get("groups", {}), complain, places)
    reader = RuleReader(places, complain, groups)
    rules = reader.text_rules(data.get("texts", []))
    lists = reader.list_rules(data.get("lists", []))
    settled = _settled(data.get("settled", []), complain, places.lines)
    pipeline = data.get("pipeline")
    if pipeline is not None and (not isinstance(pipeline, str) or not pipeline):
        complain(
            "pipeline", "`pipeline` is no name of a spaCy pipeline.", 'Write for instance: pipeline = "en_core_web_sm"'
        )
        pipeline = None
    base = Path(path).parent
    if problems:
        raise UserError(*sorted(problems, key=lambda p: (p.line, p.column)))
    where = _shown(str(base / progression)) if isinstance(progression, str) else None
    general = places.wanted("step", step, 0) if step is not None else None
    return Config(Path(path), where, general, rules, settled, pipeline, groups, tuple(places.lines), lists)


def _groups(table: object, complain: Callable[..., None], places: Places) -> dict[str, Wanted]:
    """The table [groups]: a step expression by the name of a group."""
    if not isinstance(table, dict):
        complain("groups", "`groups` is not a table.", 'Write [groups], and below it for instance: Limpets = "14"')
        return {}
    found = {}
    for name, value in table.items():
        if isinstance(value, bool) or not isinstance(value, int | str):
            complain(name, f"The group {name} has no step.", f'Write for instance: {name} = "14 also igh as in light"')
        else:
            found[name] = places.in_groups(name, str(value))
    return found


def _settled(tables: object, complain: Callable[..., None], lines: list[str]) -> tuple[Settled, ...]:
    """The [[settled]] tables: word and sense, and where."""
    found = []
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
        complain("settled", "`settled` is not a list of tables.", "Open each with a line [[settled]].")
        return ()
    for head, table in zip(heads(lines, "settled", len(tables)), tables):
        for key in table:
            if key not in SETTLED_KEYS:
                complain(key, f"`{key}` is no key of [[settled]].", hint(key, SETTLED_KEYS))
        word, sense = table.get("word"), table.get("sense")
        files, place = table.get("files", "**"), {key: table[key] for key in PLACES if key in table}
        known = all(isinstance(value, PLACES[key]) for key, value in place.items())
        if not (isinstance(word, str) and isinstance(sense, str) and known and isinstance(files, str)):
            complain(
                "settled",
                "A [[settled]] table needs a `word` and a `sense`.",
                'Write for instance: word = "read", sense = "past", line = 12',
            )
            continue
        if len(files) > LONGEST:
            complain(files, "This pattern is longer than any path.", "Write a shorter one.")
            continue
        found.append(Settled(PathPattern(files), word.lower(), Place(**place), sense, files, head))
    return tuple(found)


def _shown(path: str) -> str:
    """A path from the current folder, with .. where it lies above; as it is where the two have only the root in common."""
    try:
        relative = Path(os.path.relpath(real(path)))
    except ValueError:
        return path
    above = sum(part == ".." for part in relative.parts)
    return str(relative) if above < len(Path.cwd().parts) - 1 else path
