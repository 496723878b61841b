"""Where the keys and texts of a configuration stand: found in one pass, since TOML readers give no places."""

from __future__ import annotations

import re
from dataclasses import replace

from decodecheck.progression.step_expression import Wanted

_KEY = re.compile(r"\s*(?:\"([^\"\\]*)\"|'([^']*)'|([\w-]+))\s*[=.]")
_HEAD = re.compile(r"\s*(\[\[?)\s*([\w\s.\"'-]*?)\s*\]")
RULES = ("texts", "lists", "allow", "settled")
"""Lists of tables, each of which may name the same keys."""
TABLES = ("groups", "severity")
"""Tables whose keys are names."""
_QUOTED = re.compile(r"\"([^\"]*)\"|'([^']*)'")
_OTHER = "other"
"""What belongs to no table of the configuration."""


class Places:
    """Places in a file of which `lines` are the lines; `name` is what messages call it. `inside` is the table that holds the configuration
    ("tool.decodecheck" in a pyproject.toml), "" where it is the whole file.

    A `table` is 0 for the top, the `number` of a table of a list, or the name of another table.
    """

    def __init__(self, name: str, lines: list[str], inside: str = "") -> None:
        self.name = name
        self.lines = lines
        self.inside = inside
        self._keys: dict[tuple[int | str, str], tuple[int, int]] = {}
        self._texts: dict[tuple[int | str, str], tuple[int, int]] = {}
        self._tables: dict[str, tuple[int, int]] = {}
        self._heads: list[tuple[int, int]] = []
        self._numbers: dict[str, list[int]] = {name: [] for name in RULES}
        table: int | str = _OTHER if inside else 0
        for number, line in enumerate(lines, 1):
            if line.lstrip().startswith("["):
                table = self._opened(number, line, table)
                continue
            if line.lstrip().startswith("#") or table == _OTHER:
                continue
            key = _KEY.match(line)
            if key:
                name = next(part for part in key.groups() if part is not None)
                self._keys.setdefault((table, name), (number, line.index(name) + 1))
            for text in _QUOTED.finditer(line):
                value = text[1] if text[1] is not None else text[2]
                self._texts.setdefault((table, value), (number, text.start() + 2))

    def _opened(self, number: int, line: str, table: int | str) -> int | str:
        """Note a table that a line opens; gives the table in which the lines below it stand."""
        head = _HEAD.match(line)
        if not head:
            return table
        parts = [part.strip().strip("\"'") for part in head[2].split(".")]
        if self.inside:
            around = self.inside.split(".")
            if parts[: len(around)] != around:
                return _OTHER
            parts = parts[len(around) :]
            if not parts:
                self._tables.setdefault(self.inside, (number, head.start(2) + 1))
                return 0
        place = number, line.index(parts[0], head.start(2)) + 1
        if len(head[1]) == 2 and parts[0] in RULES:
            if len(parts) > 1:
                return table
            self._heads.append(place)
            self._numbers[parts[0]].append(len(self._heads))
            return len(self._heads)
        self._tables.setdefault(parts[0], place)
        return parts[0] if parts[0] in TABLES else table if parts[0] in RULES else _OTHER

    def number(self, name: str, nth: int) -> int:
        """What `find` calls the nth table of a list; 0 where it is written in another way."""
        numbers = self._numbers[name]
        return numbers[nth - 1] if nth <= len(numbers) else 0

    def head(self, number: int) -> int:
        """The line in which a table of a list opens, by its `number`; 0 where that is not known."""
        return self._heads[number - 1][0] if 0 < number <= len(self._heads) else 0

    def line(self, key: str, table: int | str = 0) -> int:
        """The line of a key of a table; 0 where it is written in another way."""
        return self._keys.get((table, key), (0, 0))[0]

    def find(self, key: str, table: int | str = 0) -> tuple[int, int, str]:
        """Line, column and text of a line that has a key, or a text in quotes, in a table; of the table of that name, else of the first table
        of a list of that name, where there is none; the first line where nothing is found."""
        found = self._keys.get((table, key)) or self._tables.get(key) or self._texts.get((table, key))
        if found is None and isinstance(table, int) and 0 < table <= len(self._heads):
            found = self._heads[table - 1]
        if found is None and self._numbers.get(key):
            found = self._heads[self._numbers[key][0] - 1]
        line, column = found or self._tables.get(self.inside) or (1, 1)
        return line, column, self.lines[line - 1]

    def wanted(self, key: str, value: str, table: int) -> Wanted:
        """A step expression with its place: the value of a key at the top (table 0) or in a table of a list by its `number`."""
        if (table, key) not in self._keys:
            return Wanted(value, self.name)
        line, column, excerpt = self.find(key, table)
        return self._at(value, line, column, excerpt)

    def in_groups(self, key: str, value: str) -> Wanted:
        """A step expression under [groups]."""
        number = self.line(key, "groups")
        if not number:
            return Wanted(value, self.name, group=key)
        return replace(self._at(value, number, 1, self.lines[number - 1]), group=key)

    def _at(self, value: str, line: int, column: int, excerpt: str) -> Wanted:
        at = excerpt.find(value, excerpt.find("=") + 1)
        return Wanted(value, self.name, line, at + 1 if at >= 0 else column, excerpt)
