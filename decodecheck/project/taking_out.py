"""Take comments that allow nothing out of a text; nothing else in its file changes."""

from __future__ import annotations

from collections.abc import Iterable

from decodecheck.documents.allowance import Allowance
from decodecheck.errors import UserError
from decodecheck.source import characters, encode_like


def without(data: bytes, path: str, idle: Iterable[Allowance]) -> bytes | None:
    """The bytes of a file without the comments of some allowances; None where they cannot be taken out byte for byte.

    A comment that has its line to itself goes with the line, unless it parts two others there.
    """
    spans = sorted({span for allowance in idle for span in allowance.spans}, reverse=True)
    try:
        text = characters(data, path)
    except UserError:
        return None
    if not spans or encode_like(text, data) != data:
        return None
    plain = not path.lower().endswith((".md", ".markdown", ".html", ".htm", ".xhtml"))
    for start, end in spans:
        first, last = _whole_line(text, start, end) or (start, end)
        if (first, last) != (start, end) and not plain and _parts_lines(text, first, last):
            first, last = start, end
        text = text[:first] + text[last:]
    return encode_like(text, data)


def _whole_line(text: str, start: int, end: int) -> tuple[int, int] | None:
    """The line or lines that hold nothing else, with their end; None where something stands beside."""
    first, last = start, end
    while first and text[first - 1] in " \t":
        first -= 1
    while last < len(text) and text[last] in " \t":
        last += 1
    if first and text[first - 1] not in "\r\n":
        return None
    if text.startswith("\r\n", last):
        return first, last + 2
    if last < len(text):
        return (first, last + 1) if text[last] in "\r\n" else None
    return first, last


def _parts_lines(text: str, first: int, last: int) -> bool:
    """Whether both the line before and the line after hold something: without an empty line between them they would be one paragraph."""
    before = text[:first].rstrip("\n").rstrip("\r") if text[:first].endswith("\n") else text[:first].removesuffix("\r")
    above = before[max(before.rfind("\n"), before.rfind("\r")) + 1 :]
    if text[:first].endswith(("\n\n", "\r\r", "\n\r\n")):
        above = ""
    below = text[last:].split("\n", 1)[0].split("\r", 1)[0]
    return bool(above.strip()) and bool(below.strip())
