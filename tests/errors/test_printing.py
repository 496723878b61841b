"""No character that changes a terminal and no line that a CI log takes for a command gets out, wherever it stood.

The sources: Unicode 16.0 (general categories; UAX 9, table of bidirectional formatting characters), ECMA-48 (control functions),
GitHub's "Workflow commands" and Azure Pipelines' "Logging commands" (`::` at the start of a line after blanks, `##[` and `##vso[`
anywhere; both from memory), RFC 8259 on JSON, XML 1.0 production 2.
"""

from __future__ import annotations

import json
import re
import unicodedata
import zipfile
from io import BytesIO
from pathlib import Path

import docx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.cli.main import run
from decodecheck.errors import Problem, excerpt_lines
from decodecheck.printing import as_json, columns, hidden, safe, safe_lines
from decodecheck.reports.fit import fit
from decodecheck.reports.page import Page, Paragraph
from decodecheck.reports.pages import docx as page_docx
from tests.errors.school import make

FORBIDDEN = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
COMMAND = re.compile(r"^\s*::|##\w*\[", re.MULTILINE)
BAD = "\x1b[31m\x07\x9b\r\u202e\u2066\u200f\u2028\u0085##[error]"
NAMES = f"e{BAD}\n::error::x{BAD}.txt", f"::error::{BAD}.txt", "\udce9.txt"
TEXT = st.text(
    alphabet=st.one_of(st.characters(), st.sampled_from(list("::##[]v\n\t\x1b\u202e\u200d\ud83d"))), max_size=40
)


def clean(text: str) -> bool:
    return not FORBIDDEN.search(text) and not COMMAND.search(text)


@settings(max_examples=500, deadline=None)
@given(TEXT)
def test_whatever_is_printed_is_safe(text: str) -> None:
    line, lines = safe(text), safe_lines(text)
    assert len(line) == len(text) and len(lines) == len(text)
    assert not FORBIDDEN.search(line) and "\n" not in line and "\t" not in line
    assert clean(lines)
    assert lines.count("\n") == text.count("\n")
    at = hidden(text)
    assert (at < 0) == all(safe(c) == c for c in re.sub("[\r\n\t\u200d]", "", text)) or "\u200d" in text


@settings(max_examples=500, deadline=None)
@given(TEXT)
def test_json_is_safe_and_loses_nothing(text: str) -> None:
    line = as_json({"word": [text]})
    assert clean(line) and "\n" not in line
    assert json.loads(line) == {"word": [text]}
    line.encode("utf-8")


def test_what_may_stay() -> None:
    for text in ("café ﬁsh – “hm”…", "a\u00a0b", "👩\u200d🚀 👩🏽\u200d🚒 ❤\ufe0f\u200d🔥", "e\u0301", "::", "# [x]"):
        assert safe(text) == text
    assert safe("br\u200bead a\u200db 👩\u200d") == "br\ufffdead a\ufffdb 👩\ufffd"
    assert (
        safe_lines("ab :: ::\n  ::set-env::\n##vso[x] ## [y]") == "ab :: ::\n  \ufffd:set-env::\n\ufffd#vso[x] ## [y]"
    )


# The source: Unicode 16.0, UAX 11 (East Asian Width: W takes two columns) and combining marks (none), as rich measures them.
@pytest.mark.parametrize(
    ("source", "word", "lead", "carets"),
    [
        ("the hat", "hat", 4, 3),
        ("🐴🐴 hat", "hat", 5, 3),
        ("cafe\u0301 hat", "hat", 5, 3),
        ("the cafe\u0301.", "cafe\u0301", 4, 4),
        ("漢字 hat", "hat", 5, 3),
        ("a\thät", "hät", 2, 3),
        ("x" * 100 + " 🐴 hat " + "y" * 100, "hat", 3 + 38 + 1, 3),
    ],
)
def test_carets_stand_under_the_word(source: str, word: str, lead: int, carets: int) -> None:
    line, marks = excerpt_lines(source, source.index(word) + 1, len(word))
    assert marks == " " * (4 + lead) + "^" * carets
    before = line[: line.index(word)]
    assert columns(before) == 4 + lead


def test_the_columns_of_ascii_are_its_characters() -> None:
    assert columns("Nettle") == 6
    assert columns("e\u0301") == 1
    assert columns("漢") == unicodedata.east_asian_width("漢").count("W") + 1


COMMANDS = [
    ["check", "X", "--progression", "odd.progression"],
    ["check", "X", "--progression", "odd.progression", "--format", "json", "--every-word"],
    *(
        ["check", "X", "--progression", "odd.progression", "--format", form]
        for form in ("html", "jsonl", "junit", "markdown", "sarif", "gitlab")
    ),
    ["check", "X", "--progression", "odd.progression", "--output", "json=" + BAD],
    ["check", "X", "--progression", "odd.progression", "--warn", BAD],
    ["check", "X", "gone" + BAD, "--progression", "faulty.progression"],
    ["check", "--progression", "odd.progression", "--step", BAD, "X"],
    ["check", "--group", BAD, "X"],
    ["check", BAD, "--" + BAD],
    ["check", "below/tin.txt"],
    ["preview", "X", "--progression", "odd.progression"],
    ["preview", "X", "--progression", "odd.progression", "--format", "html"],
    ["accents", "X", "--progression", "odd.progression"],
    ["explain", BAD, "br\u200bead" + BAD, "--progression", "odd.progression"],
    ["explain", BAD, "ti\u200bn", "--format", "jsonl"],
    ["explain", "tin", "--accent", BAD],
    ["findings", BAD],
    [BAD],
    ["progression", "check", "odd.progression"],
    ["progression", "check", "faulty.progression"],
    ["progression", "show", "odd.progression"],
    ["progression", "show", "odd.progression", "--format", "html"],
    ["progression", "show", "odd.progression", "--standard", BAD],
    ["progression", "brief", "odd.progression"],
    ["progression", "advise", "odd.progression", "--texts", "."],
    ["progression", "compare", "odd.progression", "school.progression", "--texts", "."],
    ["progression", "compare", "school.progression", "odd.progression"],
    ["progression", "format", "odd.progression"],
    ["progression", "new", "-", "--from", "england-national-curriculum", "--title", BAD],
    ["progression", "new", "-", "--from", "plan.csv"],
    ["progression", "new", "-", "--from", BAD],
    ["progression", "new", BAD, "--from", "plan.txt"],
    ["progression", "show", "odd.progression", "-o", BAD],
]


@pytest.fixture
def odd(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    make(tmp_path)
    story = f"The {BAD} hat.\n::error::tin br\u200bead {BAD} Ni\u202eamh\n"
    for name in NAMES:
        (tmp_path / name.replace("/", "")).write_text(story, encoding="utf-8", newline="")
    one_line = BAD.replace("\r", "").replace("\u2028", "").replace("\u0085", "")
    (tmp_path / "odd.progression").write_text(
        f'progression "A{one_line}::"\nstep 1 "::error::{one_line}"\n  teach p, e, n, t, a, i  # {one_line}\n  tricky the\n'
        "step 2\n  teach ea as in leaf\nallow names Ni\u200bamh\n",
        encoding="utf-8",
    )
    (tmp_path / "faulty.progression").write_text(
        f'::error:: {one_line}\nstep 1\n  teach {one_line}\ninclude "{one_line}"\naccent {one_line}\n', encoding="utf-8"
    )
    (tmp_path / "plan.csv").write_text(f"step,item\n{BAD}1,p {one_line}\n2,{one_line}\n", encoding="utf-8", newline="")
    (tmp_path / "plan.txt").write_text(f"p {one_line}\n::error:: e\n", encoding="utf-8")
    (tmp_path / "below").mkdir()
    (tmp_path / "below" / "tin.txt").write_text("tin\n", encoding="utf-8")
    escaped = json.dumps("x" + one_line)
    (tmp_path / "below" / "decodecheck.toml").write_text(
        f"progression = {escaped}\nstep = {escaped}\n[[texts]]\nfiles = {escaped}\ngroup = {escaped}\n",
        encoding="utf-8",
    )
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("arguments", COMMANDS, ids=lambda arguments: ascii(" ".join(arguments))[:60])
def test_nothing_gets_out(odd: Path, capfd: pytest.CaptureFixture[str], arguments: list[str]) -> None:
    for name in NAMES if "X" in arguments else ("",):
        code = run([name if a == "X" else a for a in arguments])
        said = capfd.readouterr()
        assert clean(said.out) and clean(said.err), arguments
        assert "internal error" not in said.err and "failed on this" not in said.err
        assert code in (0, 1, 2)
        if "json" in arguments:
            assert [file["path"] for file in json.loads(said.out)["files"]] == [name]


@pytest.mark.parametrize("suffix", ["txt", "html", "docx"])
def test_no_page_has_them(odd: Path, suffix: str) -> None:
    for arguments in (
        ["preview", NAMES[0], "--progression", "odd.progression"],
        ["progression", "show", "odd.progression"],
        ["progression", "brief", "odd.progression"],
    ):
        target = odd / f"page.{suffix}"
        assert run([*arguments, "-o", str(target)]) == 0
        data = target.read_bytes()
        if suffix == "docx":
            with zipfile.ZipFile(BytesIO(data)) as package:
                parts = [package.read(name).decode() for name in package.namelist() if name.endswith(".xml")]
            # the template of python-docx ends its lines with CR LF
            assert not any(FORBIDDEN.search(part.replace("\r\n", "\n")) for part in parts)
            assert docx.Document(BytesIO(data)).paragraphs
        else:
            assert not FORBIDDEN.search(data.decode("utf-8"))
        target.unlink()


@settings(max_examples=60, deadline=None)
@given(TEXT, TEXT)
def test_every_page_is_fit_for_a_word_document(title: str, text: str) -> None:
    page = fit(Page(title, text, (Paragraph(text),), "portrait"))
    assert docx.Document(BytesIO(page_docx.render(page))).paragraphs[0].text == page.title


def test_a_very_long_title(tmp_path: Path) -> None:
    page = fit(Page("a" * 100_000, "", (Paragraph("a b " * 1000),), "portrait"))
    document = docx.Document(BytesIO(page_docx.render(page)))
    assert len(document.paragraphs[0].text) < 100
    assert document.paragraphs[1].text == "a b " * 1000


@settings(max_examples=200, deadline=None)
@given(TEXT, TEXT, TEXT, st.integers(1, 50))
def test_a_problem_is_of_as_many_lines_as_it_has_parts(path: str, what: str, excerpt: str, column: int) -> None:
    said = Problem(path, what, "Mend it.", 1, column, excerpt).text()
    assert len(said.split("\n")) == 4
    assert not FORBIDDEN.search(said)
