"""Word documents (.docx); their places are paragraphs, and pages where the document says where they begin."""

from __future__ import annotations

from decodecheck.documents.document import Document
from decodecheck.documents.kinds import expect
from decodecheck.formats import WORD
from decodecheck.source import shown

SUFFIXES = (".docx",)
ALT_TEXT = True
"""Whether `read` can take in what is written for those who do not see a picture."""


def read(path: str, data: bytes, *, alt_text: bool = False) -> Document:
    """The text of a document as it reads. Raises UserError for a file of another kind, and one that is damaged or locked."""
    expect(path, data, WORD)
    # loading takes a fiftieth of a second
    from decodecheck.documents.package import Package
    from decodecheck.documents.paragraphs import Assembly
    from decodecheck.documents.word_text import WordText

    assembly = Assembly(shown(path))
    WordText(Package(path, data, WORD, "save the text alone as .txt"), alt_text).add_to(assembly)
    return assembly.document()
