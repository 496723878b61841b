"""Standard output and error that never carry what may not be printed, and that say when they cannot be written to."""

from __future__ import annotations

import errno
import io
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

from decodecheck.printing import safe_lines


class OutputError(Exception):
    """The output cannot be written: the disk is full, or the stream is closed. Holds what the system says."""


class Stream(io.TextIOBase):
    """A stream that hands on what it is given with everything in it made safe to print."""

    def __init__(self, below: TextIO) -> None:
        self.below = below
        self._at_start = True
        self.over = False
        """Whether the command has ended: what still knows this stream, such as a log, has nothing to tell any more."""

    @property
    def encoding(self) -> str:  # type: ignore[override]  # an attribute in the class above
        """The encoding of the stream below."""
        return self.below.encoding

    @property
    def errors(self) -> str | None:  # type: ignore[override]  # an attribute in the class above
        """What the stream below does with characters that it cannot write."""
        return self.below.errors

    def isatty(self) -> bool:
        """Whether the stream below is a terminal."""
        return self.below.isatty()

    def writable(self) -> bool:
        """Always."""
        return True

    def write(self, text: str) -> int:
        """Write text, made safe. Raises OutputError, BrokenPipeError."""
        if not isinstance(text, str):
            raise TypeError("text is written here, no bytes")
        # the start of a line is a place of its own: what continues one is judged as if a letter stood before it
        ready = safe_lines(text) if self._at_start else safe_lines("x" + text)[1:]
        self.write_document(ready)
        if text:
            self._at_start = text.endswith("\n")
        return len(text)

    def write_document(self, text: str) -> None:
        """Write a file's content, to the letter. Raises OutputError, BrokenPipeError."""
        with _told():
            raw = getattr(self.below, "buffer", None)
            if not isinstance(raw, io.RawIOBase):
                self.below.write(text)
                return
            # PYTHONUNBUFFERED: what a full disk or a reader that goes away leaves of a text would be dropped without a word
            self.below.flush()
            left = memoryview(text.encode(self.below.encoding, self.below.errors or "strict"))
            while left:
                left = left[raw.write(left) or 0 :]

    def flush(self) -> None:
        """Hand on what waits. Raises OutputError, BrokenPipeError."""
        if not self.over:
            with _told():
                self.below.flush()


@contextmanager
def _told() -> Iterator[None]:
    try:
        yield
    except BrokenPipeError:
        raise
    except (OSError, ValueError) as error:
        raise OutputError(reason(error)) from None


def reason(error: OSError | ValueError) -> str:
    """Why output cannot be written, in plain words."""
    number = getattr(error, "errno", None)
    if number in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return "there is no room left"
    if number == errno.EBADF or isinstance(error, ValueError):
        return "it is closed"
    return str(getattr(error, "strerror", None) or error)


def write_document(text: str) -> None:
    """Write a file's content to standard output, to the letter. Raises OutputError, BrokenPipeError."""
    out = sys.stdout
    if isinstance(out, Stream):
        out.write_document(text)
    else:
        out.write(text)


@contextmanager
def safe_streams() -> Iterator[None]:
    """Everything that is printed in here goes through `Stream`. Raises OutputError where there is no standard output."""
    before = sys.stdout, sys.stderr
    closed = sys.stdout is None
    with Path(os.devnull).open("w", encoding="utf-8") as nowhere:
        for stream in before:
            reconfigure = getattr(stream, "reconfigure", None)
            if reconfigure:
                reconfigure(encoding="utf-8", errors="backslashreplace")
        sys.stdout, sys.stderr = (Stream(stream if stream is not None else nowhere) for stream in before)
        try:
            if closed:
                raise OutputError("it is closed")
            yield
        finally:
            for stream in (sys.stdout, sys.stderr):
                if isinstance(stream, Stream):
                    stream.over = True
            sys.stdout, sys.stderr = before
