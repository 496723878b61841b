"""Where the keys and texts of a decodecheck.toml stand: found in one pass, since TOML readers give no places."""

from __future__ import annotations

import re
from dataclasses import replace

from decodecheck.progression.step_expression import Wanted

_KEY = re.compile(r"\s*(?:\"([^\"\\]*)\"|'([^']*)'|([\w-]+))\s*[=.]")
_TABLES = re.compile(r"\s*\[\[\s*[\"']?([\w-]+)")
_TABLE = re.compile(r"\s*\[\s*[\"']?([\w-]+)")
RULES = ("texts", "lists")
"""Lists of tables that say what holds for files, each of which may name the same keys."""
_QUOTED = re.compile(r"\"([^\"]*)\"|'([^']*)'")


class Places:
    """Places in a file of which `lines` are the lines; `name` is what messages call it."""

    def __init__(self, name: str, lines: list[str]) -> None:
        self.name = name
        self.lines = lines
        self._keys: dict[tuple[int, str], tuple[int, int]] = {}
        self._texts: dict[tuple[int, str], tuple[int, int]] = {}
        self._tables: dict[str, tuple[int, int]] = {}
        self._heads: list[tuple[int, int]] = []
        self._numbers: dict[str, list[int]] = {name: [] for name in RULES}
        self._groups: dict[str, int] = {}
        in_groups = False
        for number, line in enumerate(lines, 1):
            if line.lstrip().startswith("["):
                in_groups = self._opened(number, line)
                continue
            if line.lstrip().startswith("#"):
                continue
            key = _KEY.match(line)
            if key:
                name = next(part for part in key.groups() if part is not None)
                self._keys.setdefault((len(self._heads), name), (number, line.index(name) + 1))
                if in_groups:
                    self._groups.setdefault(name, number)
            for text in _QUOTED.finditer(line):
                value = text[1] if text[1] is not None else text[2]
                self._texts.setdefault((len(self._heads), value), (number, text.start() + 2))

    def _opened(self, number: int, line: str) -> bool:
        """Note a table that a line opens; gives whether it is [groups]."""
        many = _TABLES.match(line)
        if many and many[1] in RULES:
            self._heads.append((number, many.start(1) + 1))
            self._numbers[many[1]].append(len(self._heads))
        elif many:
            self._tables.setdefault(many[1], (number, many.start(1) + 1))
        else:
            one = _TABLE.match(line)
            if one:
                self._tables.setdefault(one[1], (number, one.start(1) + 1))
                return one[1] == "groups"
        return False

    def number(self, name: str, nth: int) -> int:
        """What `find` calls the nth [[texts]] or [[lists]]; 0 where it is written in another way."""
        numbers = self._numbers[name]
        return numbers[nth - 1] if nth <= len(numbers) else 0

    def find(self, key: str, table: int = 0) -> tuple[int, int, str]:
        """Line, column and text of a line that has a key, or a text in quotes, at the top (table 0) or in a table of rules by its `number`;
        of the table of that name, else of the first table of rules of that name, where there is none; the first line where nothing is found."""
        found = self._keys.get((table, key)) or self._tables.get(key) or self._texts.get((table, key))
        if found is None and 0 < table <= len(self._heads):
            found = self._heads[table - 1]
        if found is None and self._numbers.get(key):
            found = self._heads[self._numbers[key][0] - 1]
        line, column = found or (1, 1)
        return line, column, self.lines[line - 1]

    def wanted(self, key: str, value: str, table: int) -> Wanted:
        """A step expression with its place: the value of a key at the top (table 0) or in a table of rules by its `number`."""
        if (table, key) not in self._keys:
            return Wanted(value, self.name)
        line, column, excerpt = self.find(key, table)
        return self._at(value, line, column, excerpt)

    def in_groups(self, key: str, value: str) -> Wanted:
        """A step expression under [groups]."""
        number = self._groups.get(key)
        if number is None:
            return Wanted(value, self.name, group=key)
        return replace(self._at(value, number, 1, self.lines[number - 1]), group=key)

    def _at(self, value: str, line: int, column: int, excerpt: str) -> Wanted:
        at = excerpt.find(value, excerpt.find("=") + 1)
        return Wanted(value, self.name, line, at + 1 if at >= 0 else column, excerpt)
