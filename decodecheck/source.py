"""Read a file as text, keeping every character's place: nothing is repaired, unreadable is said so."""

from __future__ import annotations

import errno
import os
import stat
import sys
from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from decodecheck.errors import Problem, UserError
from decodecheck.formats import Kind, known_bytes, known_text

LARGEST = 200_000_000
"""Bytes of a file that are read; what is larger is no story and no list."""
SAVE_AGAIN = "Open it and use Save As, encoding UTF-8."


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


def suffix_of(path: str) -> str:
    """The end of the name of a file, from its last dot on, in small letters; "" for none. (A Path for each file of a folder would be slow.)"""
    end = os.path.splitext(path)[1].lower()  # noqa: PTH122 (a path for each file would be slow)
    return "" if end == "." else end


def read_text(path: str) -> SourceText:
    """A file as UTF-8 text (UTF-16 and UTF-32 with a mark are read too); `-` is standard input.

    Raises UserError for a file that is missing, no ordinary file, too large, no plain text or in another encoding.
    """
    return SourceText(shown(path), decode(read_bytes(path), shown(path)))


def read_bytes(path: str) -> bytes:
    """What a file holds; `-` is standard input. Nothing but an ordinary file is opened, so that nothing is waited for.

    Raises UserError for what is missing, no ordinary file, larger than LARGEST or may not be read.
    """
    try:
        if path == "-":
            if sys.stdin is None:
                raise UserError(Problem(shown(path), "There is no standard input.", "Name a file, or give it one."))
            data = sys.stdin.buffer.read(LARGEST + 1)
        else:
            refuse_special(path, os.stat(path).st_mode)  # noqa: PTH116 (a path for each file would be slow)
            # what stood there a moment ago may be something else by now
            handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
            with os.fdopen(handle, "rb") as file:
                status = os.fstat(handle)
                refuse_special(path, status.st_mode)
                # room for what there may be at most is not asked for: that takes longer than reading a story
                data = file.read(status.st_size + 1) if status.st_size <= LARGEST else b""
                if len(data) > status.st_size:
                    data += file.read(LARGEST + 1)
                if status.st_size > LARGEST:
                    raise _too_large(path)
    except OSError as error:
        raise UserError(unreadable(path, error)) from None
    except ValueError:
        raise UserError(Problem(shown(path), "This is no path.", "Check the path.")) from None
    if len(data) > LARGEST:
        raise _too_large(path)
    return data


def _too_large(path: str) -> UserError:
    what = f"This is too large to be read: more than {LARGEST // 1_000_000} megabytes."
    return UserError(Problem(shown(path), what, "Divide it, or leave it out."))


def refuse_special(path: str, mode: int) -> None:
    """Raises UserError for what is no ordinary file, by its mode as `os.stat` gives it: a folder, a pipe, a device, a socket."""
    if stat.S_ISREG(mode):
        return
    if stat.S_ISDIR(mode):
        raise UserError(Problem(shown(path), "This is a folder.", "Name a file."))
    kinds = {stat.S_IFIFO: "a pipe", stat.S_IFSOCK: "a socket", stat.S_IFCHR: "a device", stat.S_IFBLK: "a device"}
    what = f"This is no ordinary file but {kinds.get(stat.S_IFMT(mode), 'something else')}."
    raise UserError(Problem(shown(path), what, "Name a file; the name - stands for standard input."))


NO_SUCH_FILE = "no-such-file"
MISSING = (errno.ENOENT, errno.ENOTDIR)
REASONS = {
    errno.ENOENT: ("There is no such file.", "Check the path."),
    errno.ENOTDIR: ("There is no such file.", "Check the path."),
    errno.EISDIR: ("This is a folder.", "Name a file."),
    errno.EACCES: ("This file may not be read.", "Ask for permission to read it."),
    errno.EPERM: ("This file may not be read.", "Ask for permission to read it."),
    errno.ELOOP: ("This link leads back to itself.", "Take it out, or let it lead to a file."),
    errno.ENAMETOOLONG: ("This name is too long for a file.", "Check the path."),
}


def unreadable(path: str, error: OSError) -> Problem:
    """Why a file cannot be read, in plain words."""
    otherwise = (
        f"This file cannot be read ({error.strerror or type(error).__name__}).",
        "Check the disk, or copy it anew.",
    )
    what, todo = REASONS.get(error.errno or 0, otherwise)
    if error.errno == errno.ENOENT and Path(path).is_symlink():
        what, todo = "This link leads to a file that is not there.", "Take it out, or put the file there."
        return Problem(shown(path), what, todo, code="leads-nowhere")
    return Problem(shown(path), what, todo, code=NO_SUCH_FILE if error.errno in MISSING else "unreadable")


def linked_out(path: str) -> Problem:
    """What is said of a link in a project to something outside of it."""
    what = "This is a link that leads out of the project; it was not followed."
    return Problem(shown(path), what, "Put the file itself there, or name the path that it leads to.")


def shown(path: str) -> str:
    """A path as messages name it."""
    return "standard input" if path == "-" else path.removeprefix("./")


MARKS = (
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)
"""Byte-order marks (Unicode 16.0, section 23.8); the longer ones first."""


def decode(data: bytes, path: str) -> str:
    """Bytes to text. Raises UserError for a file of another kind, or naming what is wrong first, and where it is."""
    known = known_bytes(data)
    if known:
        raise _other_kind(path, known)
    text = characters(data, path)
    known = known_text(text)
    if known:
        raise _other_kind(path, known)
    return text


def characters(data: bytes, path: str) -> str:
    """Bytes of a text, whatever it holds, to characters. Raises UserError naming what is wrong first, and where it is."""
    text = _decoded(data, path)
    nul = text.find("\0")
    if nul >= 0:
        raise _no_text(path, text.count("\n", 0, nul) + 1)
    return text


def encode_like(text: str, data: bytes) -> bytes:
    """A text as bytes in the encoding of others, with their byte-order mark if they have one."""
    for mark, encoding in MARKS:
        if data.startswith(mark):
            order = "-le" if mark[:1] == b"\xff" else "-be"
            return mark + text.encode(encoding + order)
    mark = b"\xef\xbb\xbf"
    return (mark if data.startswith(mark) else b"") + text.encode("utf-8")


def _no_text(path: str, line: int) -> UserError:
    what = "This is no plain text: it holds a character that no text has (NUL)."
    return UserError(Problem(path, what, "Save it as plain text in UTF-8, or leave it out.", line))


def _other_kind(path: str, known: Kind) -> UserError:
    what = f"This is {known.name}." if known.locked else f"This is {known.name}, and no plain text."
    return UserError(Problem(path, what, known.todo))


def _decoded(data: bytes, path: str) -> str:
    for mark, encoding in MARKS:
        if data.startswith(mark):
            try:
                return data.decode(encoding)
            except UnicodeDecodeError as error:
                short = error.end >= len(data)
                what = f"This looks like {encoding} but {'breaks off in the middle' if short else 'is damaged'}."
                raise UserError(Problem(path, what, "Save it again as UTF-8.")) from None
    data = data.removeprefix(b"\xef\xbb\xbf")
    if _unmarked_utf16(data):
        what = "This file was saved as UTF-16 without the mark that says so."
        raise UserError(Problem(path, what, SAVE_AGAIN))
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        nul = data.find(0)
        if nul >= 0:
            # a program or a picture, and no text in an older format
            raise _no_text(path, data.count(b"\n", 0, nul) + 1) from None
        at = error.start
        line = data.count(b"\n", 0, at) + 1
        start = data.rfind(b"\n", 0, at) + 1
        end = data.find(b"\n", at)
        before = data[start:at].decode("utf-8")
        excerpt = before + data[at : end if end >= 0 else len(data)].decode("cp1252", "replace").rstrip("\r")
        column = len(before) + 1
        if error.reason == "unexpected end of data":
            what = "The marked character is not whole: the file breaks off in the middle of it."
            raise UserError(Problem(path, what, "Save it again as UTF-8.", line, column, excerpt)) from None
        what = "The marked character cannot be read: the file was saved in an older Windows format, not in UTF-8."
        raise UserError(Problem(path, what, SAVE_AGAIN, line, column, excerpt)) from None


def _unmarked_utf16(data: bytes) -> bool:
    """Whether of the first bytes most of every other one are zero, and none of the rest, as of English text in UTF-16."""
    start = data[:200]
    return len(start) >= 8 and any(
        start[i::2].count(0) > 0.6 * len(start[i::2]) and 0 not in start[1 - i :: 2] for i in (0, 1)
    )
