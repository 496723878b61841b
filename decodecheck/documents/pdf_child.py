"""Reads a PDF file with pdfium and writes its lines as JSON. `pdf_text` runs this as a program of its own; nothing imports it.

It reads the file from standard input; its arguments are the seconds and megabytes that it may take. On standard output it writes
{"problem": "locked", "damaged" or "too long"}, or {"pages": [[height, [[line, baseline], ...]], ...]}: each line as it is printed, with
the distance of its baseline from the top of the page, -1 where that tells nothing.
"""

from __future__ import annotations

import contextlib
import ctypes
import json
import sys
from typing import Any

MOST_PAGES = 3_000
MOST_CHARACTERS = 5_000_000
LINE_ENDS = ("\r", "\n")
HYPHENS = ("\ufffe", "\x02")
"""What pdfium makes of a hyphen that ends a line, together with the end of the line (as 5.x does it)."""
SMALLER = 0.8
"""A figure is raised if its letters are so much smaller than those beside it."""
LOCKED, DAMAGED, TOO_LONG = "locked", "damaged", "too long"


def limit(seconds: int, megabytes: int) -> None:
    """Let the system end this process when it takes more."""
    try:
        import resource
    except ImportError:
        return  # Windows has none; the time is kept from outside
    wanted = ((resource.RLIMIT_AS, megabytes << 20), (resource.RLIMIT_CPU, seconds), (resource.RLIMIT_CORE, 0))
    for kind, most in wanted:
        with contextlib.suppress(ValueError, OSError):
            hard = resource.getrlimit(kind)[1]
            resource.setrlimit(kind, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))


def lines_of(page: Any, raw: Any) -> list[tuple[str, float]]:
    """The lines of a page, each with the distance of its baseline from the top."""
    text = page.get_textpage()
    left, bottom, right, top = page.get_bbox()
    level = page.get_rotation() == 0
    box = [ctypes.c_double() for _ in range(4)]
    x, y = ctypes.c_double(), ctypes.c_double()
    lines: list[tuple[str, float]] = []
    line: list[str] = []
    baseline = -1.0
    before, size_before = "", 0.0
    for i in range(text.count_chars()):
        code = raw.FPDFText_GetUnicode(text, i)
        character = chr(code) if 0 < code < 0x110000 else "\ufffd"
        if character in LINE_ENDS or character in HYPHENS:
            if character in HYPHENS:
                line.append("-")
            if character != "\n" or before != "\r":
                lines.append(("".join(line), baseline))
                line, baseline = [], -1.0
            before = character
            continue
        before = character
        blank = character.isspace()
        if not blank and raw.FPDFText_GetCharBox(text, i, *(box[n] for n in (0, 1, 2, 3))):
            # left, right, bottom, top
            if box[1].value < left or box[0].value > right or box[3].value < bottom or box[2].value > top:
                continue  # outside of the page nobody sees it
            if level and baseline < 0 and raw.FPDFText_GetCharOrigin(text, i, x, y):
                baseline = round(top - y.value, 2)
        size = float(raw.FPDFText_GetFontSize(text, i))
        if line and noted(line[-1], size_before, character, size):
            line.append(" ")
        size_before = size
        line.append(character)
    lines.append(("".join(line), baseline))
    text.close()
    return lines


def noted(before: str, size_before: float, character: str, size: float) -> bool:
    """Whether one of two characters is the raised number of a note, and no part of the word beside it."""
    if character.isdigit():
        return not (before.isspace() or before.isdigit()) and size < SMALLER * size_before
    return character.isalpha() and before.isdigit() and size_before < SMALLER * size


def answer(data: bytes) -> dict[str, object]:
    """What is in a file."""
    import pypdfium2
    import pypdfium2.raw as raw

    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as error:
        return {"problem": LOCKED if error.err_code in (raw.FPDF_ERR_PASSWORD, raw.FPDF_ERR_SECURITY) else DAMAGED}
    if len(document) > MOST_PAGES:
        return {"problem": TOO_LONG}
    pages: list[object] = []
    length = 0
    for number in range(len(document)):
        try:
            page = document[number]
        except pypdfium2.PdfiumError:
            return {"problem": DAMAGED}
        lines = lines_of(page, raw)
        length += sum(len(line) for line, _ in lines)
        if length > MOST_CHARACTERS:
            return {"problem": TOO_LONG}
        pages.append([page.get_height(), lines])
        page.close()
    return {"pages": pages}


def main() -> None:
    """Read standard input, write the answer."""
    limit(int(sys.argv[1]), int(sys.argv[2]))
    json.dump(answer(sys.stdin.buffer.read()), sys.stdout)


if __name__ == "__main__":
    main()
