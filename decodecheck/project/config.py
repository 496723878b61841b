"""The configuration of a folder: which progression its texts follow, at which step each is read, and what holds for findings.

It is a file decodecheck.toml, or the table [tool.decodecheck] of a pyproject.toml.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any, overload

from decodecheck.bounds import CONFIG, PYPROJECT, TABLE, leads_out, names_table, real
from decodecheck.checking.kinds import SEVERITIES
from decodecheck.documents.document import Place
from decodecheck.errors import Problem, UserError, nearest
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.step_expression import Wanted
from decodecheck.project.kind_names import kind_names, nearest_kind
from decodecheck.project.patterns import LONGEST, PathPattern
from decodecheck.project.rules import NO_GATE, Complain, Gate, ListRule, RuleReader, TextRule, gate_of, hint, step_of
from decodecheck.project.toml_mistakes import explain_toml, too_deep, unparsed
from decodecheck.project.toml_places import Places
from decodecheck.project.word_rules import AllowRule, Settled, allow_rules, settled_rules
from decodecheck.source import linked_out, read_bytes, read_text

NAME = CONFIG
KEYS = (
    "progression", "accent", "step", "strict", "allow_blocked", "alt_text", "exclude", "pipeline", "severity", "groups", "texts", "lists", "allow",
    "settled",
)  # fmt: skip
LONGEST_TABLE = 6
"""Lines below the head of a table in which its values are looked for."""


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
    accent: str | None = None
    gate: Gate = NO_GATE
    severities: Mapping[str, str] = field(default_factory=dict)
    """What findings of a kind count as, by its name."""
    allow: tuple[AllowRule, ...] = ()
    exclude: tuple[PathPattern, ...] = ()
    alt_text: bool = False
    """Whether what is written for those who do not see a picture belongs to the text."""
    key_lines: Mapping[str, int] = field(default_factory=dict)
    """The line of each key at the top, of kinds as "severity.KIND"; 0 where that is not known."""

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

    def excludes(self, path: Path) -> bool:
        """Whether `exclude` leaves out a file or folder that lies in the folder of this configuration."""
        relative = self.relative(path) if self.exclude else None
        return relative is not None and any(pattern.match(relative) for pattern in self.exclude)

    def fit(self, rule: TextRule | ListRule | Settled | AllowRule, names: Iterable[str]) -> bool:
        """Whether a pattern fits one of the files, as `named` names them."""
        return any(rule.paths.match(name) is not None for name in names)


def find_config(start: Path) -> Config | None:
    """The nearest configuration from a file or folder upwards, else none. Raises UserError where it is wrong, or where a folder has two."""
    try:
        folder = real(start if start.is_dir() else start.parent)
    except (OSError, ValueError):
        return None
    return next((config for place in (folder, *folder.parents) if (config := config_in(place))), None)


def config_in(folder: Path) -> Config | None:
    """The configuration that stands in a folder; None where there is none. Raises UserError where it is wrong, or where there are two."""
    # whatever is there, readable or not, is meant to be read
    own = os.path.lexists(folder / NAME)
    other = str(folder / PYPROJECT)
    beside = os.path.lexists(other) and names_table(read_bytes(other))
    if own and beside and read_config(other, may_lack=True):
        what = f"There is a [{TABLE}] in {_shown(other)} as well, in the same folder."
        raise UserError(Problem(_shown(str(folder / NAME)), what, "Keep one of the two, with all settings in it."))
    if own:
        return read_config(str(folder / NAME))
    return read_config(other, may_lack=True) if beside else None


@overload
def read_config(path: str) -> Config: ...
@overload
def read_config(path: str, *, may_lack: bool) -> Config | None: ...
def read_config(path: str, *, may_lack: bool = False) -> Config | None:
    """Read one configuration file; it is read once, until it changes. With `may_lack`, None for a pyproject.toml that has no table for us.

    Raises UserError with every mistake in it.
    """
    state = None
    with suppress(OSError, ValueError):
        status = Path(path).stat()
        state = status.st_mtime_ns, status.st_size, status.st_ino
    config = _read_config(path, state, Path.cwd())
    if config is None and not may_lack:
        raise UserError(Problem(_shown(path), f"This file has no table [{TABLE}].", "Write one into it."))
    return config


@lru_cache(maxsize=64)
def _read_config(path: str, state: tuple[int, int, int] | None, folder: Path) -> Config | None:
    """`state` is what changes when the file does; paths are named from the `folder` in which the program runs."""
    name = _shown(path)
    inside = TABLE if Path(path).name == PYPROJECT else ""
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
    places = Places(name, text.replace("\r\n", "\n").replace("\r", "\n").split("\n"), inside)
    for part in inside.split(".") if inside else ():
        data = data.get(part, {}) if isinstance(data, dict) else {}
    if inside and not data:
        return None
    if not isinstance(data, dict):
        raise UserError(Problem(name, f"`{TABLE}` is no table.", f"Open it with a line [{TABLE}]."))
    return _Reader(path, places, data).config()


class _Reader:
    """Reads the values of one configuration; what is wrong with them is collected."""

    def __init__(self, path: str, places: Places, data: Mapping[str, Any]) -> None:
        self.path, self.places, self.data = path, places, data
        self.problems: list[Problem] = []

    def complain(self, key: str, what: str, todo: str, table: int | str = 0) -> None:
        """Something is wrong with a key of a table."""
        line, column, excerpt = self.places.find(key, table)
        self.problems.append(Problem(self.places.name, what, todo, line, column, excerpt, len(key)))

    def config(self) -> Config:
        """The configuration. Raises UserError with every mistake in it."""
        data, places, complain = self.data, self.places, self.complain
        for key in data:
            if key not in KEYS:
                of = f"[{places.inside}]" if places.inside else "this file"
                complain(key, f"`{key}` is no key of {of}.", hint(key, KEYS))
        progression = self._text("progression", "school.progression")
        step = step_of(data.get("step"), "step", complain)
        groups = _groups(data.get("groups", {}), complain, places)
        reader = RuleReader(places, complain, groups, general_step=step is not None)
        rules = reader.text_rules(data.get("texts", []))
        lists = reader.list_rules(data.get("lists", []))
        settled = settled_rules(data.get("settled", []), complain, places)
        allow = allow_rules(data.get("allow", []), complain, places)
        gate = gate_of(data, places, complain)
        pipeline = data.get("pipeline")
        if pipeline is not None and (not isinstance(pipeline, str) or not pipeline):
            what = "`pipeline` is no name of a spaCy pipeline."
            complain("pipeline", what, 'Write for instance: pipeline = "en_core_web_sm"')
        accent, severities, exclude, alt_text = self._accent(), self._severities(), self._exclude(), self._alt_text()
        if self.problems:
            raise UserError(*sorted(self.problems, key=lambda p: (p.line, p.column)))
        where = _shown(str(Path(self.path).parent / progression)) if progression else None
        general = places.wanted("step", step, 0) if step is not None else None
        lines = {key: places.line(key) for key in KEYS if key in data}
        lines |= {f"severity.{kind}": places.line(kind, "severity") for kind in severities}
        return Config(
            Path(self.path), where, general, rules, settled, pipeline, groups, tuple(places.lines), lists, accent, gate, severities,
            allow, exclude, alt_text, lines,
        )  # fmt: skip

    def _text(self, key: str, example: str) -> str | None:
        value = self.data.get(key)
        if value is not None and (not isinstance(value, str) or not value):
            what = f"`{key}` is empty." if value == "" else f"`{key}` is not a text."
            self.complain(key, what, f'Write for instance: {key} = "{example}"')
            return None
        return value

    def _accent(self) -> str | None:
        accent = self._text("accent", ACCENTS[0])
        if accent is not None and accent not in ACCENTS:
            close = nearest(accent, list(ACCENTS), most=1)
            todo = f"Did you mean {close[0]}?" if close else f"Its accents are: {', '.join(ACCENTS)}."
            self.complain("accent", f"`{accent}` is no accent of this program.", todo)
        return accent

    def _alt_text(self) -> bool:
        value = self.data.get("alt_text", False)
        if not isinstance(value, bool):
            self.complain("alt_text", "`alt_text` is neither true nor false.", "Write for instance: alt_text = true")
        return value is True

    def _severities(self) -> dict[str, str]:
        table = self.data.get("severity", {})
        if not isinstance(table, dict):
            what = "`severity` is not a table."
            self.complain("severity", what, 'Write [severity], and below it for instance: untaught-capital = "warning"')
            return {}
        for kind, value in table.items():
            if kind not in kind_names():
                what = f"There is no kind of finding called {kind!r}."
                self.complain(kind, what, nearest_kind(kind), "severity")
            elif value not in SEVERITIES:
                what = f"{value!r} is nothing that findings of a kind can be."
                self.complain(kind, what, f"Write one of: {', '.join(SEVERITIES)}.", "severity")
        return table

    def _exclude(self) -> tuple[PathPattern, ...]:
        given = self.data.get("exclude", [])
        if not isinstance(given, list) or not all(isinstance(pattern, str) and pattern for pattern in given):
            what = "`exclude` is no list of patterns."
            self.complain("exclude", what, 'Write for instance: exclude = ["drafts", "texts/**/old-*"]')
            return ()
        for pattern in given:
            if len(pattern) > LONGEST:
                self.complain(pattern, "This pattern is longer than any path.", "Write a shorter one.")
        return tuple(PathPattern(pattern) for pattern in given)


def _groups(table: object, complain: Complain, places: Places) -> dict[str, Wanted]:
    """The table [groups]: a step expression by the name of a group."""
    if not isinstance(table, dict):
        complain("groups", "`groups` is not a table.", 'Write [groups], and below it for instance: Limpets = "14"')
        return {}
    found = {}
    for name, value in table.items():
        if isinstance(value, bool) or not isinstance(value, int | str):
            complain(
                name,
                f"The group {name} has no step.",
                f'Write for instance: {name} = "14 also igh as in light"',
                "groups",
            )
        else:
            found[name] = places.in_groups(name, str(value))
    return found


def _shown(path: str) -> str:
    """A path from the current folder, with .. where it lies above; as it is where the two have only the root in common."""
    try:
        relative = Path(os.path.relpath(real(path)))
    except ValueError:
        return path
    above = sum(part == ".." for part in relative.parts)
    return str(relative) if above < len(Path.cwd().parts) - 1 else path
