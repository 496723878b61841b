"""Pages in each format: one set of blocks, all of it there, escaped, nothing cut."""

from __future__ import annotations

from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path

import docx
import docx.document
import docx.table
import pytest
from docx.shared import Mm
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.cli.main import run
from decodecheck.insight.brief import brief
from decodecheck.insight.overview import overview
from decodecheck.insight.preview import preview
from decodecheck.over_texts import compare_texts
from decodecheck.reports import brief as brief_report
from decodecheck.reports import comparison as comparison_report
from decodecheck.reports import display, paper
from decodecheck.reports import overview as overview_report
from decodecheck.reports import preview as preview_report
from decodecheck.reports.page import (
    Blanks,
    Card,
    Dictated,
    Dictation,
    Display,
    Entry,
    Frames,
    Heading,
    Page,
    Paragraph,
    Sheet,
    Table,
    WordCards,
)
from decodecheck.reports.pages import docx as page_docx
from decodecheck.reports.pages import html as page_html
from decodecheck.reports.pages import text as page_text
from decodecheck.session import Session

DEMO = Path(__file__).parents[2] / "corpora_demo"
HARBOUR = str(DEMO / "harbour-lane.progression")
TEXT = st.text(alphabet=st.sampled_from(list("abcé æː'\"<>&{}%|[]\\*_-")), min_size=1, max_size=120).map(
    lambda s: " ".join(s.split()) or "x"
)
BLOCKS = st.lists(
    st.one_of(
        st.builds(Heading, TEXT),
        st.builds(Paragraph, TEXT),
        st.builds(Entry, TEXT, TEXT),
        st.builds(Sheet, TEXT, TEXT),
        st.builds(Blanks, st.lists(TEXT, min_size=1, max_size=3).map(tuple)),
        st.builds(
            Dictation,
            st.lists(
                st.builds(
                    Dictated,
                    TEXT,
                    st.lists(TEXT, min_size=1, max_size=12).map(tuple),
                    st.integers(1, 15),
                    st.one_of(st.just(""), TEXT),
                ),
                max_size=4,
            ).map(tuple),
        ),
        st.builds(Frames, st.lists(st.integers(1, 30), max_size=5).map(tuple)),
        st.builds(WordCards, st.lists(TEXT, max_size=5).map(tuple)),
        st.builds(
            Display,
            st.lists(
                st.builds(
                    Card,
                    TEXT,
                    st.lists(st.tuples(TEXT, TEXT), max_size=3).map(tuple),
                    st.lists(TEXT, max_size=3).map(tuple),
                ),
                min_size=1,
                max_size=3,
            ).map(tuple),
        ),
        st.builds(Table, st.tuples(TEXT, TEXT), st.lists(st.tuples(TEXT, TEXT), max_size=4).map(tuple), st.just((1,))),
    ),
    max_size=8,
)
PAGES = st.builds(
    Page,
    TEXT,
    TEXT,
    BLOCKS.map(tuple),
    st.sampled_from(["portrait", "landscape", "half", "sheet"]),
    st.sampled_from(list(paper.PAPERS)),
)


def pieces(page: Page) -> list[str]:
    """Every text of a page, in order."""
    found = [page.title, page.subtitle]
    for block in page.blocks:
        match block:
            case Heading(text) | Paragraph(text):
                found.append(text)
            case Sheet(title, subtitle):
                found += [title, subtitle]
            case Blanks(texts) | WordCards(texts):
                found += texts
            case Dictation(words):
                found += paper.HEAD[:-1]
                for number, word in enumerate(words, 1):
                    counts = str(len(word.graphemes)), str(word.sounds)
                    found += [str(number), word.word, *word.graphemes, word.watch, *counts]
            case Frames(boxes):
                found += [str(number) for number, _ in enumerate(boxes, 1)]
            case Entry(label, text):
                found += [label, text]
            case Table(header, rows):
                found += [*header, *(cell for row in rows for cell in row)]
            case Display(cards):
                for card in cards:
                    found += [card.name, *(text for pair in card.graphemes for text in pair), *card.words]
    return found


def letters(text: str) -> list[str]:
    return sorted(c for c in text if not c.isspace() and c not in "-─━|:=(),☐│┌┬┐└┴┘+")


def run_on(texts: list[str]) -> str:
    """Texts one after another, without their spaces."""
    return "".join("".join(texts).split())


class Reader(HTMLParser):
    """The text of the body, and whether every element is closed in turn."""

    VOID = ("meta", "br", "col")

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "body" in self.open:
            self.text.append(data)


@settings(max_examples=150, deadline=None)
@given(PAGES)
def test_html_holds_everything_and_is_well_formed(page: Page) -> None:
    reader = Reader()
    reader.feed(page_html.render(page))
    assert reader.open == []
    assert run_on(reader.text) == run_on(pieces(page))


def word_text(document: docx.document.Document) -> str:
    """The text of a Word document, in order."""
    found = []
    for block in document.iter_inner_content():
        if isinstance(block, docx.table.Table):
            found += [cell.text for row in block.rows for cell in row.cells]
        else:
            found.append(block.text)
    return "\n".join(found)


@settings(max_examples=25, deadline=None)
@given(PAGES)
def test_a_word_document_holds_everything(page: Page) -> None:
    document = docx.Document(BytesIO(page_docx.render(page)))
    assert letters(word_text(document)) == letters("".join(pieces(page)))


@settings(max_examples=150, deadline=None)
@given(PAGES)
def test_text_holds_everything_in_100_columns(page: Page) -> None:
    text = page_text.render(page)
    # a display has column heads of its own in text
    heads = "StepGraphemesTricky words" * sum(isinstance(b, Display) for b in page.blocks)
    heads += paper.HEAD[-1] * sum(isinstance(b, Dictation) for b in page.blocks)
    assert letters(text) == letters("".join(pieces(page)) + heads)
    # a title or heading is one line, however long
    whole = {page.title, *(b.text for b in page.blocks if isinstance(b, Heading))}
    whole |= {b.title for b in page.blocks if isinstance(b, Sheet)}
    assert all(len(line) <= 100 or line in whole or set(line) <= {"-", "="} for line in text.split("\n"))


PAGE_COMMANDS = (
    ["progression", "show", HARBOUR],
    ["progression", "brief", HARBOUR, "--step", "14"],
    ["progression", "compare", HARBOUR, HARBOUR],
    ["preview", str(DEMO / "texts" / "step-14" / "nettle-and-the-boat.txt")],
)


@pytest.mark.parametrize("arguments", PAGE_COMMANDS, ids=lambda a: a[-1] if a[0] == "preview" else a[1])
@pytest.mark.parametrize("suffix", ["txt", "html", "docx"])
def test_every_page_in_every_format(arguments: list[str], suffix: str, tmp_path: Path) -> None:
    target = tmp_path / f"page.{suffix}"
    assert run([*arguments, "--output", str(target)]) == 0
    data = target.read_bytes()
    assert data.startswith({"docx": b"PK", "html": b"<!doctype html>"}.get(suffix, b""))
    if suffix == "docx":
        assert docx.Document(BytesIO(data)).paragraphs
    assert list(tmp_path.iterdir()) == [target]


def real_pages() -> dict[str, Page]:
    """Every printable report on the demo as data."""
    session = Session(HARBOUR, "14")
    order = session.order(HARBOUR)
    checked = session.check_story(str(DEMO / "texts" / "step-14" / "nettle-and-the-boat.txt"), every_word=True)
    compared = compare_texts(Session(), HARBOUR, str(DEMO / "next-year.progression"), str(DEMO / "texts"))
    return {
        "show": overview_report.page(overview(order, order.last)),
        "brief": brief_report.page(brief(order, 14)),
        "preview": preview_report.page(preview(checked)),
        "compare": comparison_report.page(compared.comparison, compared.changes, compared.compared),
    }


@pytest.mark.parametrize("name", ["show", "brief", "preview", "compare"])
def test_each_block_of_a_real_page_stands_in_the_file(name: str) -> None:
    page = real_pages()[name]
    wanted = [run_on([text]) for text in pieces(page)]
    reader = Reader()
    reader.feed(page_html.render(page))
    document = docx.Document(BytesIO(page_docx.render(page)))
    for text in (run_on(reader.text), run_on([word_text(document)])):
        at = 0
        for piece in wanted:
            # in the order of the page
            assert piece in text[at:], piece
            at = text.index(piece, at) + len(piece)


def test_no_line_ends_at_a_hyphen_and_headings_keep_what_follows() -> None:
    page = real_pages()["show"]
    html = page_html.render(page)
    assert "<b>a-e</b>" in html and "white-space: nowrap" in html
    assert '<span class="short">-ly,</span>' in html
    document = docx.Document(BytesIO(page_docx.render(page)))
    body = document.element.body
    assert "w:noBreakHyphen" in body.xml and "a-e" not in body.xml
    for table in document.tables:
        first, second = table.rows[0], table.rows[1]
        assert first._tr.xpath("./w:trPr/w:tblHeader")
        assert all(p.paragraph_format.keep_with_next for c in first.cells for p in c.paragraphs)
        assert all(p.paragraph_format.keep_with_next for c in second.cells for p in c.paragraphs)
    assert document.styles["Heading 2"].paragraph_format.keep_with_next
    widths = [c.width for c in document.tables[1].columns]
    assert len(set(widths)) > 1 and sum(int(w or 0) for w in widths) <= Mm(273)
    (sheet,) = [p for p in document.paragraphs if p.text == "For the teacher"]
    assert sheet.paragraph_format.page_break_before


def test_a_display_is_as_large_as_one_sheet_allows() -> None:
    few = Display((Card("Step 1", (("p", "pen"), ("e", "egg")), ("the",)),))
    many = Display(tuple(Card(f"Step {n}", (("p", "pen"),) * 5, ("the",) * 3) for n in range(30)))
    assert display.type_size(few) == display.LARGEST
    assert display.SMALLEST <= display.type_size(many) < 20
    endless = Display(tuple(Card(f"Step {n}", (("p", "pen"),) * 5, ("the",) * 3) for n in range(300)))
    assert display.type_size(endless) == display.SMALLEST


def test_a_page_never_replaces_what_it_is_made_of(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy = tmp_path / "school.progression"
    copy.write_bytes(Path(HARBOUR).read_bytes())
    assert run(["progression", "show", str(copy), "--format", "text", "--output", str(copy)]) == 2
    assert copy.read_bytes() == Path(HARBOUR).read_bytes()
    assert "is what the page is made of" in capsys.readouterr().err
