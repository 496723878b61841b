"""What texts are called."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from decodecheck.documents.document import Document
from decodecheck.documents.reading import read_document
from decodecheck.documents.titles import LONGEST, of_front_matter, title_of
from tests.documents.making import docx, p

PLAIN = "The first line.\n"


@pytest.mark.parametrize(
    ("name", "text", "title"),
    [
        ("a.txt", "Bake Day\n\nIt was bake day.\n", "Bake Day"),
        ("a.txt", "#! for page 3\n\n  Bake   Day \n", "Bake Day"),
        ("a.txt", "* * *\n\nBake Day\n", "Bake Day"),
        ("a.txt", "word " * 50, ("word " * 50)[: LONGEST - 3] + "..."),
        ("a.md", "# Bake *Day*\n\nIt was.\n", "Bake Day"),
        ("a.md", "It was.\n\nBake\nDay\n===\n", "Bake Day"),
        ("a.md", "It was bake day.\n\nAll of it.\n", "It was bake day."),
        ("a.md", "---\nstep: 9\ntitle: Bake Day  # ours\n---\n\n# The Tin\n", "Bake Day"),
        ("a.md", '---\ntitle: "Bake \\"Day\\": one"\n---\n\n# The Tin\n', 'Bake "Day": one'),
        ("a.md", "---\r\ntitle: 'Omar''s Day'\r\n---\r\nIt was.\r\n", "Omar's Day"),
        ("a.md", '+++\ntitle = "Bake Day"\n+++\n\nIt was.\n', "Bake Day"),
        ("a.md", "---\nsubtitle: No\n---\n\n# The Tin\n", "The Tin"),
        ("a.md", "---\ntitle:\n---\n\n# The Tin\n", "The Tin"),
        ("a.md", "```\n# no heading\n```\n\n## The Tin\n", "The Tin"),
        ("a.html", "<title>School</title><p>x</p><h2>Bake <b>Day</b> &amp; on</h2>", "Bake Day & on"),
        ("a.html", "<title>Bake Day</title><p>It was.</p>", "Bake Day"),
        ("a.html", "<script>'<h1>no</h1>'</script><!-- <h1>no</h1> --><p>It was.</p>", "It was."),
    ],
)  # fmt: skip
def test_titles(name: str, text: str, title: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_bytes(text.encode())
    assert title_of(str(path), read_document(str(path))) == title


def with_title(data: bytes, path: Path, title: str) -> None:
    """A Word document with properties (ECMA-376, part 2: core properties)."""
    path.write_bytes(data)
    core = f'<p xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>{title}</dc:title></p>'
    with zipfile.ZipFile(path, "a") as package:
        package.writestr("docProps/core.xml", core)


def test_properties_of_a_document(tmp_path: Path) -> None:
    path = tmp_path / "a.docx"
    for title, found in (("Bake Day", "Bake Day"), (" ", "It was."), ("a&b", "It was."), ("&lt;b>", "<b>")):
        with_title(docx(p("It was.")), path, title)
        assert title_of(str(path), read_document(str(path))) == found


# Source: LibreOffice and pandoc, which wrote these files (tests/data/converted).
def test_documents_that_others_wrote() -> None:
    files = [
        f
        for f in (Path(__file__).parents[1] / "data" / "converted").rglob("*.*")
        if f.suffix in (".docx", ".odt", ".epub", ".html", ".md", ".pdf")
    ]
    assert len(files) > 5
    for file in files:
        title = title_of(str(file), read_document(str(file)))
        assert title and len(title) <= LONGEST, file


def test_a_file_that_has_gone() -> None:
    assert title_of("nowhere.md", Document("nowhere.md", PLAIN)) == "The first line."


@given(st.text(max_size=200), st.sampled_from(["---", "+++"]))
def test_whatever_stands_in_front(text: str, fence: str) -> None:
    assert isinstance(of_front_matter(f"{fence}\n{text}\n{fence}\n"), str)


# Source: YAML 1.2.2, 7.3.1 and 7.3.2, as far as quoted words of one line go.
@given(st.text(st.characters(categories=["L", "N", "P", "Zs"], exclude_characters='\\"'), min_size=1, max_size=40))
def test_quoted_titles(title: str) -> None:
    assert of_front_matter(f'---\na: b\ntitle: "{title}"\n---\n') == title
    if "'" not in title:
        assert of_front_matter(f"---\ntitle: '{title}'\nb: c\n---\n") == title
