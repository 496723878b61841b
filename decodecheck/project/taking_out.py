"""Take comments that allow nothing out of a text; nothing else in its file changes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from decodecheck.documents.allowance import Allowance
from decodecheck.errors import Problem, UserError, count, cut
from decodecheck.project.write import write_safely
from decodecheck.source import characters, encode_like, read_bytes, shown


def take_out_in_place(path: str, idle: Sequence[Allowance]) -> tuple[bool, str]:
    """Take the comments of some allowances out of a file; whether it was changed, and what there is to tell.

    Raises UserError where it cannot be written.
    """
    if path == "-":
        raise UserError(Problem("--fix", "Standard input cannot be mended.", "Name a file, or leave --fix out."))
    named = ", ".join(f"“{cut(allowance.word)}”" for allowance in idle)
    data = without(read_bytes(path), path, idle) if any(allowance.spans for allowance in idle) else None
    if data is None:
        return False, f"{shown(path)}: left as it is; take out by hand what allows nothing ({named})."
    write_safely(Path(path), data)
    return True, f"{shown(path)}: {count(len(idle), 'allowance')} taken out ({named})."


def without(data: bytes, path: str, idle: Iterable[Allowance]) -> bytes | None:
    """The bytes of a file without the comments of some allowances; None where they cannot be taken out byte for byte.

    A comment that has its line to itself goes with the line, unless it parts two others there.
    """
    spans = sorted({span for allowance in idle for span in allowance.spans})
    try:
        text = characters(data, path)
    except UserError:
        return None
    if not spans or encode_like(text, data) != data:
        return None
    plain = not path.lower().endswith((".md", ".markdown", ".html", ".htm", ".xhtml"))
    kept, at = [], 0
    for start, end in spans:
        first, last = _whole_line(text, start, end) or (start, end)
        if (first, last) != (start, end) and not plain and _parts_lines(text, first, last):
            first, last = start, end
        kept.append(text[at : max(at, first)])
        at = max(at, last)
    return encode_like("".join([*kept, text[at:]]), data)


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
    before = first - (2 if text.startswith("\r\n", first - 2) and first > 1 else 1)
    above = text[max(text.rfind("\n", 0, max(0, before)), text.rfind("\r", 0, max(0, before))) + 1 : max(0, before)]
    ends = [at for at in (text.find("\n", last), text.find("\r", last)) if at >= 0]
    return bool(above.strip()) and bool(text[last : min(ends, default=len(text))].strip())
