"""Read the tab-separated data files under `rules/`: comment lines, one header, then rows."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from decodecheck.errors import Problem, UserError


def read_table(path: Path) -> list[dict[str, str]]:
    """All rows of a data file as dictionaries by column name.

    Raises UserError where the file is missing or a row has more cells than the header.
    """
    return list(_rows(path))


def _rows(path: Path) -> Iterator[dict[str, str]]:
    try:
        lines = path.read_text(encoding="utf-8").split("\n")
    except OSError as error:
        raise UserError(Problem(str(path), f"cannot be read ({error.strerror}).")) from None
    header: list[str] | None = None
    for number, line in enumerate(lines, 1):
        if not line.strip() or line.startswith("#"):
            continue
        cells = line.split("\t")
        if header is None:
            header = cells
            continue
        if len(cells) > len(header):
            raise UserError(
                Problem(path.name, f"{len(cells)} cells where the header names {len(header)}.", line=number)
            )
        yield dict(zip(header, cells + [""] * (len(header) - len(cells))))
