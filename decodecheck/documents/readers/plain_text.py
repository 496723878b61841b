"""Plain text in UTF-8, or in UTF-16 or UTF-32 with a mark; its places are lines and columns."""

from decodecheck.documents.document import Document
from decodecheck.source import decode, shown

SUFFIXES = (".txt",)


def read(path: str, data: bytes) -> Document:
    """The text of a file. Raises UserError for a file of another kind, and for what is no text."""
    return Document(shown(path), decode(data, shown(path)))
