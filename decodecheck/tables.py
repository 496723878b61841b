"""Read the tab-separated data files under `rules/`: comment lines, one header, then rows that know their line."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

from decodecheck.errors import Problem, UserError

T = TypeVar("T")
LINT = "Run `python -m decodecheck.lexicon.compiling.lint`, which names every mistake in the data files."


class Row(dict[str, str]):
    """The cells of a row by the names of their columns, and the number of the line they stand in."""

    __slots__ = ("line",)
    line: int


def read_table(path: Path) -> list[Row]:
    """All rows of a data file.

    Raises UserError where the file is missing, and where a row has more cells than the header, or only one.
    """
    return list(_rows(path))


def read_each(path: Path, make: Callable[[Row], T]) -> list[T]:
    """What is made of each row of a data file.

    Raises UserError, with the line, for a row of which nothing can be made (where `make` raises KeyError or ValueError).
    """
    found = []
    for row in _rows(path):
        try:
            found.append(make(row))
        except (KeyError, ValueError) as error:
            raise UserError(Problem(path.name, f"This row cannot be read: {error}.", LINT, line=row.line)) from None
    return found


def header_of(path: Path) -> list[str]:
    """The names of the columns of a data file; none where it has no header. Raises UserError where it cannot be read."""
    return next((line.split("\t") for _, line in _lines(path)), [])


def _lines(path: Path) -> Iterator[tuple[int, str]]:
    try:
        lines = path.read_text(encoding="utf-8").split("\n")
    except OSError as error:
        raise UserError(Problem(str(path), f"cannot be read ({error.strerror}).")) from None
    except UnicodeDecodeError as error:
        raise UserError(
            Problem(path.name, f"This is not UTF-8 (at byte {error.start}).", "Save it as UTF-8.")
        ) from None
    for number, line in enumerate(lines, 1):
        if line.strip() and not line.startswith("#"):
            yield number, line


def _rows(path: Path) -> Iterator[Row]:
    header: list[str] | None = None
    for number, line in _lines(path):
        cells = line.split("\t")
        if header is None:
            header = cells
            continue
        if len(cells) > len(header):
            raise UserError(
                Problem(path.name, f"{len(cells)} cells where the header names {len(header)}.", LINT, line=number)
            )
        if len(cells) == 1 < len(header):
            what = f"One cell where the header names {len(header)}: are there spaces instead of tabs?"
            raise UserError(Problem(path.name, what, LINT, line=number))
        row = Row(zip(header, cells + [""] * (len(header) - len(cells))))
        row.line = number
        yield row
