"""Reading files: encodings by their marks, and files of other kinds named for what they are.

The sources: Unicode 16.0, section 23.8 (byte-order marks), and files made by the libraries that write each kind: python-docx,
openpyxl, zipfile after EPUB OCF 3.3 and OpenDocument 1.3. The first bytes of the others are from their published formats, from
memory.
"""

from __future__ import annotations

import codecs
import io
import zipfile
from pathlib import Path

import docx
import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.cli.main import run
from decodecheck.errors import UserError
from decodecheck.source import decode
from tests.errors.school import make

STORY = "The “hat” sat.\r\nNettle 🐴 ran.\n"
MARKS = {
    "utf-8": codecs.BOM_UTF8,
    "utf-16-le": codecs.BOM_UTF16_LE,
    "utf-16-be": codecs.BOM_UTF16_BE,
    "utf-32-le": codecs.BOM_UTF32_LE,
    "utf-32-be": codecs.BOM_UTF32_BE,
}


@pytest.mark.parametrize("encoding", MARKS)
def test_a_mark_names_the_encoding(encoding: str) -> None:
    assert decode(MARKS[encoding] + STORY.encode(encoding), "x") == STORY


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (STORY.encode("utf-16-le"), "UTF-16 without the mark"),
        (STORY.encode("utf-16-be"), "UTF-16 without the mark"),
        (codecs.BOM_UTF16_LE + "a\0b".encode("utf-16-le"), "(NUL)"),
        (codecs.BOM_UTF32_BE + "a\0b".encode("utf-32-be"), "(NUL)"),
        (b"a\0b", "(NUL)"),
        (codecs.BOM_UTF16_LE + b"a", "looks like UTF-16 but breaks off"),
        (codecs.BOM_UTF16_LE + b"\x00\xdca\x00", "looks like UTF-16 but is damaged"),
        ("The “hat”".encode("cp1252"), "older Windows format"),
        ("café".encode()[:-1], "breaks off in the middle of it"),
    ],
)
def test_what_cannot_be_read_is_said_in_plain_words(data: bytes, said: str) -> None:
    with pytest.raises(UserError) as caught:
        decode(data, "tin.txt")
    assert said in str(caught.value)
    assert "byte 0x" not in str(caught.value)


def test_the_marked_character_is_the_one_that_cannot_be_read() -> None:
    with pytest.raises(UserError) as caught:
        decode("one\né two: ".encode() + "“hat”".encode("cp1252"), "tin.txt")
    (problem,) = caught.value.problems
    assert (problem.line, problem.column) == (2, 8)
    assert problem.excerpt[problem.column - 1] == "“"


def word_document() -> bytes:
    document = docx.Document()
    document.add_paragraph("The tin hat.")
    target = io.BytesIO()
    document.save(target)
    return target.getvalue()


def workbook() -> bytes:
    target = io.BytesIO()
    openpyxl.Workbook().save(target)
    return target.getvalue()


def package(kind: str) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as made:
        if kind:
            made.writestr("mimetype", kind)
        made.writestr("content.xml", "<p>The tin hat.</p>")
    return target.getvalue()


KINDS = {
    "a Word document": word_document(),
    "an Excel workbook": workbook(),
    "an e-book (EPUB)": package("application/epub+zip"),
    "an OpenDocument text (.odt)": package("application/vnd.oasis.opendocument.text"),
    "a packed file (zip)": package(""),
    "a packed file (zip), and it is damaged": word_document()[:200],
    "a PDF file": b"%PDF-1.4\n1 0 obj << /Type /Catalog >> endobj\n",
    "a rich text file (RTF)": b"{\\rtf1\\ansi The tin hat.}",
    "a web page (HTML)": b"\n <!DOCTYPE html>\n<html><body>The tin hat.</body></html>",
    "a picture (PNG)": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
    "a picture (JPEG)": b"\xff\xd8\xff\xe0\0\x10JFIF",
    "a picture (GIF)": b"GIF89a\x01\0\x01\0",
    "a picture (SVG)": b'<?xml version="1.0"?>\n<!-- hat --><svg xmlns="http://www.w3.org/2000/svg"/>',
    "a file for programs (XML)": b'<?xml version="1.0"?><story>The tin hat.</story>',
    "a file of an older Office program (.doc, .xls, .ppt)": b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(500),
}
PAGES = [
    b"<html lang='en'>The tin hat.",
    codecs.BOM_UTF8 + b"<!doctype HTML><p>The tin hat.",
    codecs.BOM_UTF16_LE + "<!DOCTYPE html>".encode("utf-16-le"),
    b"<?xml version='1.0'?><!-- a --><!-- b --><!DOCTYPE html PUBLIC 'x'><html>",
    b"<!--" + b"-->a<!--" * 1000 + b"--><html>",
    b"<!--a-->" * 500 + b"<body>The tin hat.",
]


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("suffix", ["txt", "docx"])
def test_other_kinds_are_named_and_never_judged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], name: str, suffix: str
) -> None:
    if (name, suffix) == ("a Word document", "docx"):
        pytest.skip("that is what it is")
    make(tmp_path)
    monkeypatch.chdir(tmp_path)
    Path(f"story.{suffix}").write_bytes(KINDS[name])
    assert run(["check", f"story.{suffix}", "--progression", "school.progression"]) == 2
    said = capsys.readouterr()
    own = "plain text" if suffix == "txt" else "Word document"
    damaged = suffix == "docx" and "damaged" in name
    what = f"This is no {own}, or it is damaged." if damaged else f"This is {name}, and no {own}."
    assert said.err.startswith(f"story.{suffix}: {what}\n  ")
    assert said.out == ""


@pytest.mark.parametrize("data", [page for page in PAGES if b"-->a" not in page])
def test_pages_for_a_browser_are_told_by_how_they_begin(data: bytes) -> None:
    with pytest.raises(UserError, match="web page"):
        decode(data, "x")


@pytest.mark.parametrize(
    "story",
    ["BMX is fun.", "PK said hat.", "<3 Nettle", "GIF or not?", "% PDF", "<hat>", "MM* yes", "II* yes", "# html"],
)
def test_a_story_stays_a_story(story: str) -> None:
    assert decode(story.encode(), "x") == story


@settings(max_examples=300, deadline=None)
@given(
    st.binary(max_size=200)
    | st.sampled_from(list(KINDS.values())).flatmap(lambda d: st.integers(0, 80).map(lambda n: d[:n]))
)
def test_any_bytes_are_text_or_one_message(data: bytes) -> None:
    try:
        text = decode(data, "x")
    except UserError as error:
        assert len(error.problems) == 1 and error.problems[0].todo
    else:
        assert "\0" not in text


def test_what_is_no_text_is_not_taken_for_an_older_format() -> None:
    # the beginning of a program: a byte that is no UTF-8, and one that no text has
    with pytest.raises(UserError, match="This is no plain text"):
        decode(b"\x7fXYZ\x02\xf0 tin\n\x00\x00hat", "tin.txt")
