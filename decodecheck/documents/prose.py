"""Puts together the text of a file with markup: paragraphs, and where each character of them stands in the file."""

from __future__ import annotations

from decodecheck.documents.document import WHOLE, Document
from decodecheck.documents.notes import Notes
from decodecheck.documents.origin import Origin
from decodecheck.source import SourceText

APART = "\n\n"
"""Between paragraphs."""


class Prose:
    """A text that grows by runs. What the comments of the file mark as skipped is left out."""

    def __init__(self, source: SourceText) -> None:
        self.source = source
        self.origin = Origin(source)
        self.notes = Notes(source)
        self.paragraphs: list[int] = []
        """Where in the text each paragraph begins."""
        self.last = ""
        """The last character of the paragraph, "" where it has none yet."""
        self._parts: list[str] = []
        self._before = (0, 0, 0)
        """How many parts, runs and characters there were before this paragraph."""

    def add(self, text: str, start: int, end: int) -> None:
        """More of the paragraph: `text` stands for source[start:end], character for character where both are as long."""
        if self.notes.begun >= 0 or not text:
            return
        if not self.last:
            if text.isspace():
                return
            if len(text) == end - start:
                start += len(text) - len(text.lstrip())
                text = text.lstrip()
            self._before = len(self._parts), len(self.origin.at), self.origin.length
            if self.origin.length:
                self._put(APART, start, start)
            self.paragraphs.append(self.origin.length)
        self._put(text, start, end)
        self.last = text[-1]

    def part(self) -> None:
        """The paragraph ends."""
        if not self.last:
            return
        if not self.notes.paragraph:
            self.notes.part(self.paragraphs[-1], self.origin.length)
        else:
            parts, runs, length = self._before
            del self._parts[parts:]
            self.origin.cut(runs, length)
            self.paragraphs.pop()
            self.notes.paragraph = False
            self.notes.part(length, length)
        self.last = ""

    def comment(self, text: str, start: int, end: int) -> None:
        """A comment of the file, at source[start:end]. Raises UserError for a faulty instruction in it."""
        self.notes.take(text, start, end, self.origin.length, in_text=bool(self.origin.length))

    def finish(self) -> str:
        """The whole text. Raises UserError where something is skipped or allowed without an end."""
        self.part()
        self.notes.finish(self.origin.length)
        return "".join(self._parts)

    def document(self) -> Document:
        """The text with its places in the file. Raises UserError where something is skipped or allowed without an end."""
        text = self.finish()
        notes = self.notes
        return Document(
            self.source.path, text, WHOLE, self.origin, allowances=notes.allowances, own_step=notes.own_step
        )

    def _put(self, text: str, start: int, end: int) -> None:
        self._parts.append(text)
        self.origin.add(len(text), start, end)
