"""Read a file as text, keeping every character's place: nothing is repaired, unreadable is said so."""

from __future__ import annotations

import sys
from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from decodecheck.errors import Problem, UserError


@dataclass(frozen=True)
class SourceText:
    """A text and where it is from. Offsets count characters of `text`; a byte-order mark is not among them."""

    path: str
    text: str

    @cached_property
    def line_starts(self) -> list[int]:
        """Offsets at which lines start; a line ends with LF, CR LF or CR."""
        text = self.text
        starts = [0]
        at = 0
        if "\r" not in text:
            while (at := text.find("\n", at)) != -1:
                at += 1
                starts.append(at)
            return starts
        for i, character in enumerate(text):
            if character == "\n" or (character == "\r" and text[i + 1 : i + 2] != "\n"):
                starts.append(i + 1)
        return starts

    def place(self, offset: int) -> tuple[int, int]:
        """1-based line and column (code points) of an offset."""
        line = bisect_right(self.line_starts, offset)
        return line, offset - self.line_starts[line - 1] + 1

    def line(self, number: int) -> str:
        """A line without its end."""
        start = self.line_starts[number - 1]
        end = self.line_starts[number] if number < len(self.line_starts) else len(self.text)
        return self.text[start:end].rstrip("\r\n")


def read_text(path: str) -> SourceText:
    """A file as UTF-8 text (UTF-16 with a mark is read too); `-` is standard input.

    Raises UserError for a file that is missing, is a folder, holds NUL bytes or is in another encoding.
    """
    try:
        if path == "-":
            data = sys.stdin.buffer.read()
        else:
            data = Path(path).read_bytes()
    except OSError as error:
        reasons = {
            "FileNotFoundError": ("There is no such file.", "Check the path."),
            "NotADirectoryError": ("There is no such file.", "Check the path."),
            "IsADirectoryError": ("This is a folder.", "Name a file."),
            "PermissionError": ("This file may not be read.", "Ask for permission to read it."),
        }
        what, todo = reasons.get(type(error).__name__, (f"This file cannot be read ({error.strerror}).", ""))
        raise UserError(Problem(shown(path), what, todo)) from None
    except ValueError:
        raise UserError(Problem(shown(path), "This is no path.", "Check the path.")) from None
    return SourceText(shown(path), decode(data, shown(path)))


def shown(path: str) -> str:
    """A path as messages name it."""
    return "standard input" if path == "-" else path.removeprefix("./")


def decode(data: bytes, path: str) -> str:
    """Bytes to text. Raises UserError naming the first byte that is wrong, and where it is."""
    for mark, encoding in ((b"\xff\xfe\x00\x00", "utf-32"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if data.startswith(mark):
            try:
                return data.decode(encoding)
            except UnicodeDecodeError:
                raise UserError(
                    Problem(
                        path,
                        f"This looks like {encoding.upper()} but breaks off in the middle.",
                        "Save it again as UTF-8.",
                    )
                ) from None
    if data.startswith(b"\xef\xbb\xbf"):
        data = data[3:]
    nul = data.find(b"\0")
    if nul >= 0:
        line = data.count(b"\n", 0, nul) + 1
        raise UserError(
            Problem(
                path,
                f"This is no plain text: byte {nul} (in line {line}) is NUL.",
                "Save it as plain text in UTF-8, or leave it out.",
                line,
            )
        )
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        at = error.start
        line = data.count(b"\n", 0, at) + 1
        start = data.rfind(b"\n", 0, at) + 1
        end = data.find(b"\n", at)
        excerpt = data[start : end if end >= 0 else len(data)].decode("cp1252", "replace").rstrip("\r")
        column = len(data[start:at].decode("utf-8", "replace")) + 1
        raise UserError(
            Problem(
                path,
                f"This is not UTF-8: byte 0x{data[at]:02x} at offset {at}.",
                "It may be in an older Windows encoding (cp1252). Save it again as UTF-8.",
                line,
                column,
                excerpt,
            )
        ) from None
