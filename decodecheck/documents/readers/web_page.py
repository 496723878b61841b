"""Web pages (HTML and XHTML); their places are lines and columns of the file."""

from __future__ import annotations

from decodecheck.documents.document import Document
from decodecheck.documents.kinds import page_text
from decodecheck.source import SourceText, shown

SUFFIXES = (".html", ".htm", ".xhtml")
ALT_TEXT = True
"""Whether `read` can take in what is written for those who do not see a picture."""


def read(path: str, data: bytes, *, alt_text: bool = False) -> Document:
    """The text of a page. Raises UserError for a file of another kind, and for a page whose markup is not closed."""
    # not needed for other texts
    from decodecheck.documents.html_text import HtmlText
    from decodecheck.documents.prose import Prose

    prose = Prose(SourceText(shown(path), page_text(path, data)))
    HtmlText(prose, alt_text).feed(0, len(prose.source.text))
    return prose.document()
