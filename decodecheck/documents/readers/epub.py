"""E-books (EPUB); their places are chapters, by their heading, and paragraphs."""

from __future__ import annotations

from decodecheck.documents.document import Document
from decodecheck.documents.kinds import expect
from decodecheck.formats import EPUB

SUFFIXES = (".epub",)
ALT_TEXT = True
"""Whether `read` can take in what is written for those who do not see a picture."""


def read(path: str, data: bytes, *, alt_text: bool = False) -> Document:
    """The text of a book. Raises UserError for a file of another kind, and one that is damaged or locked."""
    expect(path, data, EPUB)
    # loading takes a fiftieth of a second
    from decodecheck.documents.epub_text import read_epub

    return read_epub(path, data, alt_text)
