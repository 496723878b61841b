"""Where the characters of a text stand in the file that it was taken out of, when marks between them were left out."""

from __future__ import annotations

from array import array
from bisect import bisect_right
from dataclasses import dataclass, field

from decodecheck.source import SourceText


@dataclass
class Origin:
    """A text's runs, in its own order, with their places in `source`.

    A run whose text is as long as what it was made of stands there character for character; of any other (an entity, a blank that
    stands for markup) every character stands for the whole of it. Runs of the text touch; those of the source need not.
    """

    source: SourceText
    at: array[int] = field(default_factory=lambda: array("Q"))
    starts: array[int] = field(default_factory=lambda: array("Q"))
    ends: array[int] = field(default_factory=lambda: array("Q"))
    length: int = 0
    """Characters of the text."""

    def add(self, length: int, start: int, end: int) -> None:
        """Another run: how many characters of the text, and where in the source they come from."""
        if self.at and length == end - start and start == self.ends[-1] and self._alike(len(self.at) - 1):
            self.ends[-1] = end
        elif length:
            self.at.append(self.length)
            self.starts.append(start)
            self.ends.append(end)
        self.length += length

    def cut(self, runs: int, length: int) -> None:
        """Take everything out that was added since there were so many runs and characters."""
        for column in (self.at, self.starts, self.ends):
            del column[runs:]
        self.length = length

    def _alike(self, run: int) -> bool:
        """Whether a run stands in the source character for character."""
        length = (self.at[run + 1] if run + 1 < len(self.at) else self.length) - self.at[run]
        return length == self.ends[run] - self.starts[run]

    def first(self, offset: int) -> int:
        """Where in the source a character of the text begins."""
        if not self.at:
            return 0
        run = bisect_right(self.at, offset) - 1
        if offset >= self.length:
            return self.ends[run]
        return self.starts[run] + (offset - self.at[run] if self._alike(run) else 0)

    def last(self, end: int) -> int:
        """Where in the source the character before the offset `end` of the text ends."""
        if not self.at or not end:
            return self.first(end)
        run = bisect_right(self.at, end - 1) - 1
        return self.starts[run] + end - self.at[run] if self._alike(run) else self.ends[run]
