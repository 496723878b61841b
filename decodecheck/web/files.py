"""Files that come with a request: their words; and the text as a file to take away. No file of this computer is opened for either."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass, replace

from decodecheck.documents.reading import document_of, suffixes
from decodecheck.documents.sheets import SUFFIXES
from decodecheck.errors import Problem, UserError
from decodecheck.project.starting import start_from_sheets
from decodecheck.source import decode
from decodecheck.web.asked import TOO_LARGE
from decodecheck.web.limits import LONGEST_ORDER, LONGEST_TEXT

LONGEST_NAME = 80
TXT, DOCX = "txt", "docx"
MEDIA = {
    TXT: "text/plain; charset=utf-8",
    DOCX: "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
}
"""The kinds of files that a text can be taken away as."""
_PART_OF_A_NAME = re.compile(r"[^\w .,()&'’-]")
_BLANK_LINES = re.compile(r"\n\s*\n\s*\n")
_NO_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
"""What XML does not allow (XML 1.0, fifth edition, production 2, "Char")."""


@dataclass(frozen=True, slots=True)
class Read:
    """The text of a file, and the step that it names for itself ("" for none)."""

    text: str
    step: str = ""


def plain_name(name: str) -> str:
    """The name of a file as messages have it: without folders, and with nothing in it that steers anything."""
    last = re.split(r"[/\\]", name)[-1]
    kept = _PART_OF_A_NAME.sub("_", last).strip(". ")
    if len(kept) > LONGEST_NAME:
        stem, dot, end = kept.rpartition(".")
        kept = f"{stem[: LONGEST_NAME - 10]}{dot}{end[:9]}" if dot else kept[:LONGEST_NAME]
    return kept or "the file"


def text_of_file(name: str, data: bytes) -> Read:
    """The text of a file, read as the end of its name says. Raises UserError where it cannot be read, or is too long."""
    name = plain_name(name)
    end = "." + name.rpartition(".")[2].lower() if "." in name else ""
    if end not in suffixes():
        # told by what it holds, with what to do; if it is plain text, it is read
        decode(data, name)
        if end in (".csv", ".tsv", ".progression"):
            what = "This is a list or an order of teaching, and no story."
            raise UserError(Problem(name, what, "An order goes into “Your order of teaching”, words into “Words”."))
    document = document_of(name, data)
    text = document.text.replace("\r\n", "\n").replace("\r", "\n")
    text = _BLANK_LINES.sub("\n\n", text).strip("\n")
    if not text.strip():
        raise UserError(Problem(name, "There is no text in this file.", "Choose another one."))
    if len(text) > LONGEST_TEXT:
        what = (
            f"The text of this file is too long: {len(text):,} characters, and the page takes up to {LONGEST_TEXT:,}."
        )
        raise UserError(Problem(name, what, "Check it a chapter at a time.", code=TOO_LARGE))
    own = document.own_step
    return Read(text, own.wanted.text if own and not own.group else "")


def order_of_file(name: str, data: bytes) -> str:
    """The text of an order of teaching; of a spreadsheet, the order that its rows say. Raises UserError where it is no plain text, or too long, and with
    every mistake in a spreadsheet."""
    name = plain_name(name)
    try:
        text = start_from_sheets(name, data).text if name.lower().endswith(SUFFIXES) else decode(data, name)
    except UserError as error:
        if name.lower().endswith(SUFFIXES):
            raise
        todo = "Save the order as plain text, or as a sheet (.xlsx, .csv) with a row for each lesson."
        raise UserError(*(replace(p, todo=f"{todo} {p.todo}".strip()) for p in error.problems)) from None
    if len(text) > LONGEST_ORDER:
        what = f"This order is too long: {len(text):,} characters, and the page takes up to {LONGEST_ORDER:,}."
        raise UserError(Problem(name, what, "Take its comments out, or divide it.", code=TOO_LARGE))
    return text.replace("\r\n", "\n").replace("\r", "\n")


def to_take_away(text: str, kind: str) -> bytes:
    """The text as a file of a kind of MEDIA."""
    if kind == TXT:
        return text.encode("utf-8", "replace")
    # slow to load, and seldom needed
    from docx import Document as WordDocument

    document = WordDocument()
    for paragraph in re.split(r"\n[ \t]*\n", _NO_XML.sub("", text).strip("\n")):
        added = document.add_paragraph()
        for number, line in enumerate(paragraph.split("\n")):
            run = added.add_run()
            if number:
                run.add_break()
            run.add_text(line)
    held = io.BytesIO()
    document.save(held)
    return held.getvalue()
