"""Which column of a sheet holds what: told by a header, or named in a configuration."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from decodecheck.documents.sheets import Cell, Sheet
from decodecheck.errors import Problem, UserError, cut, nearest
from decodecheck.lists.word_list import SEGMENTATION, SOUNDS, STEP, TARGET, WORD

HEADERS = {
    WORD: ("word", "words", "spelling word", "spelling words", "list word", "list words", "spelling", "spellings"),
    TARGET: ("target", "target correspondence", "correspondence", "target grapheme", "focus"),
    STEP: ("step",),
    SEGMENTATION: ("segmentation", "segmented", "segments", "in graphemes", "split", "divided"),
    SOUNDS: ("sounds", "number of sounds", "how many sounds", "sound count", "phonemes", "number of phonemes"),
}
"""How the headers of columns are recognised, in any case; of several that are there, the one that stands first here."""
HEADER_WITHIN = 10
"""The header stands in one of so many first rows: a title may stand above it."""
NO_WORDS = "no-words-column"
OTHER_DELIMITERS = "|:^"
TODO = 'Head the column of words with `word`, or name its header in decodecheck.toml, under [[lists]]: columns = { word = "..." }'


@dataclass(frozen=True, slots=True)
class Header:
    """The row of the header (from 0), the columns (from 0) by what they hold, and how many columns have a header."""

    row: int
    columns: Mapping[str, int]
    width: int


def header_of(sheet: Sheet, named: Mapping[str, str]) -> Header | None:
    """The header of a sheet; None where it has no column of words. `named` are headers that a configuration gives.

    Raises UserError for two columns of one name, and for a header that is named and not there.
    """
    for number, row in enumerate(sheet.rows[:HEADER_WITHIN]):
        texts = [_plain(cell.text) for cell in row]
        wanted = {WORD: (_plain(named[WORD]),)} if WORD in named else {WORD: HEADERS[WORD]}
        if not any(text in wanted[WORD] for text in texts):
            continue
        columns = {}
        for column, names in HEADERS.items():
            there = (_plain(named[column]),) if column in named else names
            found = next((name for name in there if name in texts), None)
            if found is None:
                if column in named:
                    raise UserError(_not_there(sheet, row, named[column]))
                continue
            if texts.count(found) > 1:
                raise UserError(_twice(sheet, row, texts, found))
            columns[column] = texts.index(found)
        return Header(number, columns, max(at for at, text in enumerate(texts, 1) if text))
    return None


def no_words(sheet: Sheet, named: Mapping[str, str]) -> Problem:
    """What is said of a sheet in which no header names a column of words."""
    rows = [row for row in sheet.rows[:HEADER_WITHIN] if any(cell.text for cell in row)]
    where = f"sheet {sheet.title}" if sheet.title else "file"
    if WORD in named:
        what = f"No column of this {where} is headed {named[WORD]!r}, which decodecheck.toml names for the words."
    else:
        what = f"No column of this {where} is headed `word`."
    texts = [cell.text for cell in rows[0] if cell.text] if rows else []
    todo = TODO
    if len(texts) == 1 and any(sign in texts[0] for sign in OTHER_DELIMITERS):
        todo = f"Its cells are set apart by another sign than comma, semicolon or tab: {cut(texts[0])!r}. Save it with one of these."
    elif texts:
        near = _near(named.get(WORD, "word"), texts)
        todo = f"Its first row is: {', '.join(cut(t, 30) for t in texts[:8])}.{near} {TODO}"
    return Problem(sheet.path, what, todo, code=NO_WORDS)


def _plain(text: str) -> str:
    return " ".join(text.replace("_", " ").lower().rstrip(":").split())


def _near(name: str, texts: Sequence[str]) -> str:
    """A question that names the header which is most like a name."""
    close = nearest(name.lower(), [text.lower() for text in texts], most=1)
    found = next((text for text in texts if close and text.lower() == close[0]), "")
    return f" Is it {cut(found)!r}?" if found else ""


def _twice(sheet: Sheet, row: Sequence[Cell], texts: Sequence[str], name: str) -> Problem:
    cells = [cell.name for cell, text in zip(row, texts) if text == name]
    what = f"{len(cells)} columns are headed {name!r}: {', '.join(cells)}."
    return Problem(sheet.path, what, "Give each a header of its own.")


def _not_there(sheet: Sheet, row: Sequence[Cell], name: str) -> Problem:
    texts = [cell.text for cell in row if cell.text]
    near = _near(name, texts)
    what = f"No column is headed {name!r}, which decodecheck.toml names."
    return Problem(sheet.path, what, f"Its headers are: {', '.join(cut(t, 30) for t in texts[:12])}.{near}")
