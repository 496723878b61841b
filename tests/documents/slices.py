"""What stands in a file at the place of each word of a Document, found by line and column alone."""

from __future__ import annotations

import html
import re

from decodecheck.documents.document import Document
from decodecheck.documents.words import STRETCH

LINE = re.compile(r"\r\n|\r|\n")


def slices(document: Document, original: str) -> list[tuple[str, str]]:
    """Each stretch of the text, with the slice of the file from its place to the place after it."""
    lines = LINE.split(original)
    starts = [0, *(m.end() for m in LINE.finditer(original))]
    found = []
    for match in STRETCH.finditer(document.text):
        first, after = document.place(match.start()), document.end_place(match.end())
        assert 1 <= first.column <= len(lines[first.line - 1]) + 1
        assert 1 <= after.column <= len(lines[after.line - 1]) + 1
        found.append(
            (match[0], original[starts[first.line - 1] + first.column - 1 : starts[after.line - 1] + after.column - 1])
        )
    return found


def bare(text: str) -> str:
    """A slice of a file without tags, comments and Markdown's marks inside it, its entities said."""
    text = re.sub(r"<!--.*?-->|<[^>]*>", "", text, flags=re.DOTALL)
    return html.unescape(re.sub(r"\\(.)|\]\([^)]*\)|[*\[\]~]", r"\1", text))


def wrong(document: Document, original: str) -> list[tuple[str, str]]:
    """The stretches of a text whose slice of the file is not the word."""
    return [(word, cut) for word, cut in slices(document, original) if bare(cut) not in (word, bare(word))]
