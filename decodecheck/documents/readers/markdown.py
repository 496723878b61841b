"""Markdown (CommonMark 0.31, with tables, footnotes and front matter); its places are lines and columns of the file."""

from __future__ import annotations

from decodecheck.documents.document import Document
from decodecheck.documents.kinds import MARKDOWN, text_of
from decodecheck.source import SourceText, shown

SUFFIXES = (".md", ".markdown")
ALT_TEXT = True
"""Whether `read` can take in what is written for those who do not see a picture."""


def read(path: str, data: bytes, *, alt_text: bool = False) -> Document:
    """The text of a file without its markup. Raises UserError for a file of another kind, and for what cannot be followed."""
    source = SourceText(shown(path), text_of(path, data, MARKDOWN))
    # loading takes a twentieth of a second
    from decodecheck.documents.markdown_text import MarkdownText

    return MarkdownText(source, alt_text).document()
