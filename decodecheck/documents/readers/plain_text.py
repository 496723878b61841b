"""Plain text in UTF-8, or in UTF-16 or UTF-32 with a mark; its places are lines and columns.

A line that begins with `#!` is a note for adults.
"""

from __future__ import annotations

import re

from decodecheck.documents.document import Document
from decodecheck.documents.kinds import PLAIN_TEXT, text_of
from decodecheck.documents.notes import Notes
from decodecheck.source import SourceText, shown

SUFFIXES = (".txt",)
NOTE = "#!"
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")


def read(path: str, data: bytes) -> Document:
    """The text of a file. Raises UserError for a file of another kind, and for what is no text."""
    text = text_of(path, data, PLAIN_TEXT)
    return _without_notes(SourceText(shown(path), text)) if NOTE in text else Document(shown(path), text)


def _without_notes(source: SourceText) -> Document:
    """The text with blanks in place of what is not read by the child, so that everything else stays where it is."""
    notes = Notes(source)
    parts: list[str] = []
    skipped = in_text = False
    for match in _LINE.finditer(source.text):
        line = match[0].rstrip("\r\n")
        note = line.lstrip().startswith(NOTE)
        if note:
            start = match.start() + len(line) - len(line.lstrip())
            notes.take(
                line.lstrip().removeprefix(NOTE), start, match.start() + len(line), match.start(), in_text=in_text
            )
        elif not line.strip():
            notes.paragraph = notes.paragraph and not skipped
        skipped = not note and notes.paragraph and bool(line.strip())
        out = note or notes.paragraph or notes.begun >= 0
        if not out and line.strip():
            in_text = True
            # what is allowed in passing is allowed in the next line that is read
            notes.part(match.start(), match.end())
        parts.append(" " * len(line) + match[0][len(line) :] if out else match[0])
    notes.finish(len(source.text))
    return Document(source.path, "".join(parts), allowances=notes.allowances, own_step=notes.own_step)
