"""Look through every data file under `rules/`: columns, cells that must be there, what they may hold, rows that contradict.

    python -m decodecheck.lexicon.compiling.lint

The compiler runs it first. Each mistake is one message with file and line; `schemas.py` says what each file holds.
"""

from __future__ import annotations

import sys
import unicodedata
from collections.abc import Callable
from pathlib import Path

from decodecheck.errors import Problem, UserError
from decodecheck.lexicon.compiling.schemas import SCHEMAS, Known, Schema
from decodecheck.resources import rules_folder
from decodecheck.tables import Row, header_of, read_table


def lint(rules: Path, only: str = "") -> list[Problem]:
    """Every mistake in the data files of a folder, or in one of them, by file and line."""
    found: list[Problem] = []
    # the codes of sounds are what most other files are written in
    for name in sorted(SCHEMAS, key=lambda n: (n != "sounds.tsv", n != "inventory.tsv", n)):
        if only in ("", name):
            found += _file(rules, name, SCHEMAS[name], Known(rules))
        if found and name == "sounds.tsv":
            break
    return found


def _file(rules: Path, name: str, schema: Schema, known: Known) -> list[Problem]:
    path = rules / name
    try:
        header, rows = header_of(path), read_table(path)
    except UserError as error:
        return [
            Problem(f"rules/{name}", p.what, p.todo if p.line == 0 else schema.form, line=p.line)
            for p in error.problems
        ]
    if header != list(schema.columns):
        what = f"The columns are {', '.join(header) or 'none'}."
        return [
            Problem(f"rules/{name}", what, f"They have to be {', '.join(schema.columns)}, with a tab between them.")
        ]
    found: list[Problem] = []
    seen: dict[tuple[str, ...], int] = {}
    for row in rows:

        def complain(what: str, todo: str = "", line: int = row.line) -> None:
            found.append(Problem(f"rules/{name}", what, todo or schema.form, line=line))

        if _row(row, schema, known, complain) and schema.key:
            key = tuple(row[column] for column in schema.key)
            if key in seen:
                complain(f"`{' '.join(key)}` stands in line {seen[key]} already.", "Take one of the two out.")
            seen.setdefault(key, row.line)
    return found


def _row(row: Row, schema: Schema, known: Known, complain: Callable[..., None]) -> bool:
    """Report what is wrong with a row; gives whether nothing is. Of each row the first mistake is told."""
    for name, column in schema.columns.items():
        cell = row[name]
        if cell != cell.strip() or unicodedata.normalize("NFC", cell) != cell:
            complain(f"The {name} `{cell}` has a blank at an end, or a letter with a separate accent.")
            return False
        if not cell:
            if column.required:
                complain(f"There is no {name}.")
                return False
            continue
        wrong = column.wrong(cell, known) if column.wrong else ""
        if wrong:
            complain(f"The {name} `{cell}` {wrong}")
            return False
    wrong = schema.wrong(row, known) if schema.wrong else ""
    if wrong:
        complain(wrong)
    return not wrong


def main() -> int:
    """Print every mistake; 1 where there is one."""
    problems = lint(rules_folder())
    for problem in problems:
        print(problem.text())
    print(f"{len(problems)} mistakes." if problems else "No mistakes in the data files.")
    return int(bool(problems))


if __name__ == "__main__":
    sys.exit(main())
