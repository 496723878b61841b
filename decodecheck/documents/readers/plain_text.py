"""Plain text in UTF-8, or in UTF-16 or UTF-32 with a mark; its places are lines and columns.

A line that begins with `#!` is a note for adults.
"""

from __future__ import annotations

import re

from decodecheck.documents.document import Document
from decodecheck.documents.kinds import PLAIN_TEXT, text_of
from decodecheck.documents.notes import Skipping
from decodecheck.source import SourceText, shown

SUFFIXES = (".txt",)
NOTE = "#!"
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")


def read(path: str, data: bytes) -> Document:
    """The text of a file. Raises UserError for a file of another kind, and for what is no text."""
    text = text_of(path, data, PLAIN_TEXT)
    return Document(shown(path), _without_notes(SourceText(shown(path), text)) if NOTE in text else text)


def _without_notes(source: SourceText) -> str:
    """The text with blanks in place of what is not read by the child, so that everything else stays where it is."""
    skipping = Skipping(source)
    parts: list[str] = []
    skipped = False
    for match in _LINE.finditer(source.text):
        line = match[0].rstrip("\r\n")
        note = line.lstrip().startswith(NOTE)
        if note:
            skipping.take(line.lstrip().removeprefix(NOTE), match.start())
        elif not line.strip():
            skipping.paragraph = skipping.paragraph and not skipped
        skipped = not note and skipping.paragraph and bool(line.strip())
        out = note or skipping.paragraph or skipping.begun >= 0
        parts.append(" " * len(line) + match[0][len(line) :] if out else match[0])
    skipping.finish()
    return "".join(parts)
