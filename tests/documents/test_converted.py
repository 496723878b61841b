"""Stories that other programs converted: what is found in each is what is found in the plain text, word for word.

The sources: LibreOffice and pandoc wrote the files (`tests/data/converted/README.md` says how); python-docx tells which paragraphs a
Word document has.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import docx as python_docx
import pytest

from decodecheck.documents.reading import read_document
from decodecheck.documents.words import STRETCH
from decodecheck.session import Session
from tests.data.folder import DATA
from tests.documents.converting import as_page, libreoffice

DEMO = Path(__file__).parents[2] / "corpora_demo"
STORIES = sorted((DEMO / "texts").rglob("*.txt"))
CONVERTED = sorted(p for p in (DATA / "converted").iterdir() if p.is_file() and p.name != "README.md")
LETTER = DATA / "converted" / "letter"


def found(path: Path, story: Path) -> tuple[list[tuple[str, str, str]], list[tuple[str, str]]]:
    """The findings in a text, and the verdict on each of its words, at the step of the story."""
    session = Session(str(DEMO / "harbour-lane.progression"), story.parent.name.removeprefix("step-"))
    report = session.check(str(path), every_word=True)
    findings = [(f.kind, plain(f.word), plain(f.message)) for f in report.findings]
    return findings, [(plain(w.word), w.verdict.status) for w in report.words]


def plain(text: str) -> str:
    """Some programs write curly quotation marks."""
    return text.replace("’", "'")


def story_of(path: Path) -> Path:
    return next(story for story in STORIES if story.stem == path.name.partition(".")[0])


def test_there_is_a_file_of_each_kind() -> None:
    assert {p.suffix for p in CONVERTED} == {".docx", ".epub", ".html", ".md", ".odt", ".pdf"}
    assert {story_of(p).stem for p in CONVERTED} == {"bake-day", "nettle-and-the-boat"}


@pytest.mark.parametrize("path", CONVERTED, ids=lambda path: path.name)
def test_each_word_is_judged_as_in_the_plain_text(path: Path) -> None:
    story = story_of(path)
    expected = found(story, story)
    assert len(expected[0]) == 7 and len(expected[1]) == 149
    assert found(path, story) == expected


@pytest.mark.skipif(not shutil.which("soffice"), reason="LibreOffice is not installed")
def test_all_stories_converted_now(tmp_path: Path) -> None:
    pages = [tmp_path / f"{story.stem}.html" for story in STORIES]
    for page, story in zip(pages, STORIES):
        page.write_text(as_page(story.read_text("utf-8")), encoding="utf-8")
    libreoffice(pages, "odt", tmp_path, tmp_path / "profile")
    for kind in ("docx", "pdf", "epub"):
        libreoffice([page.with_suffix(".odt") for page in pages], kind, tmp_path, tmp_path / "profile")
    for page, story in zip(pages, STORIES):
        expected = found(story, story)
        for kind in ("html", "odt", "docx", "pdf", "epub"):
            assert found(page.with_suffix(f".{kind}"), story) == expected, (story.stem, kind)


@pytest.mark.parametrize("path", [p for p in CONVERTED if p.suffix == ".docx"], ids=lambda path: path.name)
def test_each_paragraph_holds_its_words(path: Path) -> None:
    paragraphs = [p.text for p in python_docx.Document(str(path)).paragraphs if p.text.strip()]
    document = read_document(str(path))
    words = list(STRETCH.finditer(document.text))
    assert len(words) == 149
    for match in words:
        start, end = document.place(match.start()), document.end_place(match.end())
        assert (start.paragraph, end.paragraph) == (start.paragraph, start.paragraph)
        assert paragraphs[start.paragraph - 1][start.column - 1 : end.column - 1] == match[0]


# What LibreOffice's own plain text of the letter has, but for what is left out: see letter.fodt.
READ = [
    "The Wet Map", "Omar had a map. It was so wet.", "A map tells you where.", "Look at the net.", "In a box.", "tin", "hat", "one hen",
    "ten men", "Nettle sat on the map and the map got wet, so Omar ran to the jetty.", "The end 1st", "Fin.",
]  # fmt: skip


@pytest.mark.parametrize("kind", ["odt", "docx"])
def test_all_that_is_read_of_a_document_and_nothing_else(kind: str) -> None:
    document = read_document(str(LETTER / f"letter.{kind}"))
    assert [" ".join(part.split()) for part in document.text.split("\n\n") if part.strip()] == READ
    places = {
        word: document.place(document.text.index(word)) for word in ("map. It", "tells", "box", "hat", "ran to", "Fin")
    }
    assert {word: (place.page, place.paragraph) for word, place in places.items()} == {
        "map. It": (1, 2), "tells": (1, 2), "box": (1, 3), "hat": (1, 5), "ran to": (2, 8), "Fin": (3, 9),
    }  # fmt: skip


def test_a_pdf_file_without_its_heads_and_numbers_of_pages() -> None:
    # a PDF file shows what was deleted as long as the change is not accepted, and has no styles
    document = read_document(str(LETTER / "letter.pdf"))
    assert [" ".join(part.split()) for part in document.text.split("\n\n")] == [
        "The Wet Map", "Art: a map in a net Omar had a map. 1 deleted It was so wet. Look at the net. tin hat one hen ten men",
        "1 A map tells you where.", "In a box.", "Nettle sat on the map and the map got wet, so Omar ran to the jetty.",
        "The end 2 1st", "2 Fin.",
    ]  # fmt: skip
    assert document.place(document.text.index("ran to")).words() == "page 2, line 3"
