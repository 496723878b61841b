"""PDF files; their places are pages and lines, every printed line counted."""

from __future__ import annotations

from decodecheck.documents.document import Document
from decodecheck.documents.kinds import expect
from decodecheck.formats import PDF

SUFFIXES = (".pdf",)


def read(path: str, data: bytes) -> Document:
    """The text of a file. Raises UserError for a file of another kind, and one that is damaged, locked or only a picture of text."""
    expect(path, data, PDF)
    # not needed for other texts
    from decodecheck.documents.pdf_text import read_pdf

    return read_pdf(path, data)
