"""PDF files: what is read, where, and that nothing they hold takes the program down.

Sources: ISO 32000-1 (from memory) for the files made here; LibreOffice's and its own files are held against their plain text in
test_converted.py.
"""

from __future__ import annotations

import random
import time
import zlib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.documents import in_child, pdf_text
from decodecheck.documents.document import Place
from decodecheck.documents.in_child import DIED, TIMED_OUT, ChildFailed
from decodecheck.documents.readers.pdf import read
from decodecheck.errors import UserError
from tests.documents.making import pdf, pdf_of

STORY = [
    [(20, "The Wet Map"), (50, "Omar ran to the jetty. The tin was"), (62, "wet. He had a fish-"), (74, "ing net."), (110, "Nettle sat."), (385, "1")],
    [(20, "The Wet Map"), (50, "\"Is it wet?\" said Omar and he"), (385, "2")],
    [(20, "The Wet Map"), (50, "ran (to) it."), (385, "3")],
]  # fmt: skip


def test_lines_and_paragraphs() -> None:
    document = read("map.pdf", pdf(*STORY))
    assert document.text == (
        "Omar ran to the jetty. The tin was\nwet. He had a fish-\ning net.\n\nNettle sat.\n\n\"Is it wet?\" said Omar and he\nran (to) it."
    )  # fmt: skip
    places = {w: document.place(document.text.index(w)) for w in ("Omar", "fish", "Nettle", "Is", "(to)")}
    assert places == {
        "Omar": Place(page=1, line=2, column=1), "fish": Place(page=1, line=3, column=15), "Nettle": Place(page=1, line=5, column=1),
        "Is": Place(page=2, line=2, column=2), "(to)": Place(page=3, line=2, column=5),
    }  # fmt: skip
    assert places["fish"].after("map.pdf") == "map.pdf, page 1, line 3, column 15"
    assert document.line_of(document.text.index("had")) == ("wet. He had a fish-", 9)


def test_what_ends_like_a_sentence_is_no_running_head() -> None:
    refrain = [[(20, "Run, Omar, run!"), (100, f"He ran {n}.")] for n in ("on", "up", "in", "to")]
    assert read("x.pdf", pdf(*refrain)).text.count("Run, Omar, run!") == 4
    heads = [[(20, f"Harbour Lane {n}"), (100, f"He ran {n}.")] for n in range(4)]
    assert "Harbour" not in read("x.pdf", pdf(*heads)).text
    inside = [[(200, "Harbour Lane"), (300, f"He ran {n}.")] for n in range(4)]
    assert read("x.pdf", pdf(*inside)).text.count("Harbour Lane") == 4
    assert read("x.pdf", pdf(*heads[:2])).text.count("Harbour Lane") == 2


@pytest.mark.parametrize(
    ("line", "number"),
    [("12", True), ("- 12 -", True), ("Page 12", True), ("12 of 30", True), ("3/30", True), ("iv", True), ("I", False), ("Vi", False), ("Twelve", False), ("12 men", False),
     ("12, 13", False)],
)  # fmt: skip
def test_numbers_of_pages(line: str, number: bool) -> None:
    for lines in ([(20, line), (200, "Tin.")], [(200, "Tin."), (380, line)]):
        assert (read("x.pdf", pdf(lines)).text == "Tin.") == number


def test_a_file_without_letters() -> None:
    with pytest.raises(UserError, match="holds no text, only pictures of it, or nothing"):
        read("scan.pdf", pdf([]))
    with pytest.raises(UserError, match="no PDF file, or it is damaged"):
        read("x.pdf", b"%PDF-1.4\n nothing else")


def test_what_lies_beside_the_page_is_not_read() -> None:
    assert read("x.pdf", pdf([(200, "Tin."), (460, "no"), (-30, "no")])).text == "Tin."


def locked() -> bytes:
    """A file that asks for a password: its key is that of no password anybody typed (ISO 32000-1, section 7.6.3)."""
    encrypt = b"<< /Filter /Standard /V 1 /R 2 /O <" + b"41" * 32 + b"> /U <" + b"42" * 32 + b"> /P -4 >>"
    objects = [b"<< /Type /Catalog /Pages 2 0 R >>", b"<< /Type /Pages /Count 0 /Kids [] >>", encrypt]
    return pdf_of(objects, b"/Encrypt 3 0 R /ID [<" + b"43" * 16 + b"> <" + b"43" * 16 + b">]")


def test_a_locked_file() -> None:
    with pytest.raises(UserError, match="locked with a password"):
        read("x.pdf", locked())


def bomb() -> bytes:
    """A page whose contents are packed twice over, some gigabytes when they are unpacked."""
    packed = zlib.compress(b"BT ET " * 20_000_000, 9)
    twice = zlib.compress(packed, 9)
    stream = b"<< /Length %d /Filter [/FlateDecode /FlateDecode] >>\nstream\n%s\nendstream" % (len(twice), twice)
    page = b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 300 400] /Contents [" + b"4 0 R " * 200 + b"] >>"
    return pdf_of([b"<< /Type /Catalog /Pages 2 0 R >>", b"<< /Type /Pages /Count 1 /Kids [3 0 R] >>", page, stream])


def test_a_bomb_is_told_in_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf_text, "SECONDS", 10)
    data = bomb()
    assert len(data) < 1_000_000
    start = time.monotonic()
    with pytest.raises(UserError, match=r"could not be read in 10 seconds|needs more than|holds no text"):
        read("bomb.pdf", data)
    assert time.monotonic() - start < 30


def child(tmp_path: Path, code: str) -> Path:
    (tmp_path / "child.py").write_text(f"import sys\ndata = sys.stdin.buffer.read()\n{code}", encoding="utf-8")
    return tmp_path / "child.py"


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("import os; os.abort()", DIED),
        ("sys.exit(3)", DIED),
        ("import time; time.sleep(60)", TIMED_OUT),
        ("import pathlib, importlib.util as u; s = u.spec_from_file_location('c', {!r}); m = u.module_from_spec(s); s.loader.exec_module(m)\n"
         "m.limit(1, 2000)\nwhile True: pass", TIMED_OUT),
        ("import pathlib, importlib.util as u; s = u.spec_from_file_location('c', {!r}); m = u.module_from_spec(s); s.loader.exec_module(m)\n"
         "m.limit(20, 300)\nx = bytearray(1 << 30)", DIED),
    ],
)  # fmt: skip
def test_a_process_that_gives_no_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: str, why: str) -> None:
    monkeypatch.setattr(in_child, "_GRACE", 2)
    with pytest.raises(ChildFailed) as caught:
        in_child.run(child(tmp_path, code.format(str(pdf_text.CHILD))), b"x", seconds=1, megabytes=300)
    assert caught.value.why == why


def test_much_goes_in_and_out(tmp_path: Path) -> None:
    # more than a pipe holds, in both directions at once
    data = random.Random(1).randbytes(3_000_000)
    assert in_child.run(child(tmp_path, "sys.stdout.buffer.write(data)"), data, seconds=20, megabytes=500) == data


WHOLE = pdf(*STORY)


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_a_damaged_file_is_read_or_told(data: st.DataObject) -> None:
    at = data.draw(st.integers(8, len(WHOLE) - 1))
    how = data.draw(st.sampled_from(["cut", "byte", "twice", "number"]))
    changed = {
        "cut": lambda: WHOLE[:at],
        "byte": lambda: WHOLE[:at] + data.draw(st.binary(min_size=1, max_size=3)) + WHOLE[at + 1 :],
        "twice": lambda: WHOLE[: data.draw(st.integers(at, len(WHOLE)))] + WHOLE[at:],
        "number": lambda: WHOLE[:at] + b" 99999999999 0 R " + WHOLE[at:],
    }[how]()
    try:
        document = read("x.pdf", changed)
    except UserError as error:
        assert len(error.problems) == 1 and error.problems[0].todo
    else:
        assert all(document.place(n).page for n in range(len(document.text)))
