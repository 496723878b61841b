"""A page as a Word document."""

from __future__ import annotations

from io import BytesIO
from typing import Any

from docx import Document
from docx.enum.section import WD_ORIENT, WD_SECTION
from docx.enum.table import WD_CELL_VERTICAL_ALIGNMENT, WD_ROW_HEIGHT_RULE, WD_TABLE_ALIGNMENT
from docx.enum.text import WD_ALIGN_PARAGRAPH, WD_TAB_LEADER
from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from docx.shared import Mm, Pt, RGBColor

from decodecheck.errors import cut
from decodecheck.reports import display, paper
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

SUFFIXES = (".docx",)
LONGEST_PROPERTY = 255
"""Characters that python-docx takes for a property of a document."""
MARGIN = 12.0
SIZE = 8.0
LETTER = 0.62 * 0.3528 * SIZE
"""How wide a letter of running text is, about, in millimetres; the fonts are wide ones."""
CELL = 5.0
"""Room to the left and right of a cell's text, in millimetres."""
FONT = "Verdana"
BETWEEN = "  "
"""Between graphemes; a line may end there."""
TICK = "☐"


def render(page: Page) -> bytes:
    """The page as the bytes of a .docx file; the same page gives the same text."""
    document = Document()
    # python-docx ships a template of its own date and author
    document.core_properties.author = "decodecheck"
    document.core_properties.title = cut(page.title, LONGEST_PROPERTY)
    width = _lay_out(document, page)
    document.add_heading(page.title, level=1)
    if page.subtitle:
        _write(document.add_paragraph(), page.subtitle)
    for block in page.blocks:
        match block:
            case Heading(text):
                document.add_heading(text, level=2)
            case Sheet(title, subtitle):
                document.add_heading(title, level=1).paragraph_format.page_break_before = True
                if subtitle:
                    _write(document.add_paragraph(), subtitle)
            case Paragraph(text):
                paragraph = document.add_paragraph()
                _write(paragraph, text)
                if page.shape == "sheet":
                    paragraph.paragraph_format.space_before = paragraph.paragraph_format.space_after = Pt(8)
            case Entry(label, text):
                paragraph = document.add_paragraph()
                _write(paragraph, f"{label}: ", bold=True)
                _write(paragraph, text)
            case Table():
                _table(document, block, width)
            case Display():
                _display(document, block)
            case Blanks(labels):
                _blanks(document, labels, width)
            case Dictation(words):
                _dictation(document, words, paper.column_widths(page.paper))
            case Frames():
                _frames(document, block, page.paper)
            case WordCards():
                _word_cards(document, block, page.paper)
    target = BytesIO()
    document.save(target)
    return target.getvalue()


def _lay_out(document: Any, page: Page) -> float:
    """Set paper, margins and type; returns the width of a line in millimetres."""
    section = document.sections[0]
    to_write_on = page.shape == "sheet"
    margin, type_size = (paper.MARGIN, paper.TYPE) if to_write_on else (MARGIN, SIZE)
    width, height = paper.PAPERS[page.paper]
    if page.shape == "landscape":
        section.orientation = WD_ORIENT.LANDSCAPE
        width, height = height, width
    section.page_width, section.page_height = Mm(width), Mm(height)
    section.left_margin = section.right_margin = section.top_margin = section.bottom_margin = Mm(margin)
    normal = document.styles["Normal"]
    normal.font.name, normal.font.size = FONT, Pt(type_size)
    normal.paragraph_format.space_after = Pt(1)
    for level, size in ((1, 18), (2, 14)) if to_write_on else ((1, 14), (2, 10)):
        heading = document.styles[f"Heading {level}"]
        heading.font.name, heading.font.size, heading.font.color.rgb = FONT, Pt(size), RGBColor(0, 0, 0)
        heading.paragraph_format.space_before, heading.paragraph_format.space_after = Pt(6), Pt(2)
        heading.paragraph_format.keep_with_next = True
    return width - 2 * margin


def _write(paragraph: Any, text: str, *, bold: bool = False, size: float | None = None) -> None:
    """Add a text; its hyphens are such as no line ends at."""
    run = paragraph.add_run()
    run.bold = bold or None
    if size is not None:
        run.font.size = Pt(size)
    for at, part in enumerate(text.split("-")):
        if at:
            run._r.append(OxmlElement("w:noBreakHyphen"))
        if part:
            run.add_text(part)


def _table(document: Any, table: Table, width: float) -> None:
    drawn = document.add_table(rows=1, cols=len(table.header), style="Table Grid")
    drawn.alignment = WD_TABLE_ALIGNMENT.LEFT
    drawn.autofit = False
    widths = _widths(table, width)
    for _ in table.rows:
        drawn.add_row()
    for number, (row, texts) in enumerate(zip(drawn.rows, (table.header, *table.rows))):
        properties = row._tr.get_or_add_trPr()
        properties.append(OxmlElement("w:cantSplit"))
        if not number:
            # the header stands again on every sheet
            properties.append(OxmlElement("w:tblHeader"))
        for column, (cell, text) in enumerate(zip(row.cells, texts)):
            cell.width = Mm(widths[column])
            paragraph = cell.paragraphs[0]
            _write(paragraph, text, bold=not number)
            # neither a header nor a first row alone at the foot of a sheet
            paragraph.paragraph_format.keep_with_next = number < min(2, len(table.rows))
            if table.numeric(column):
                paragraph.alignment = WD_ALIGN_PARAGRAPH.RIGHT
    for grid, millimetres in zip(drawn.columns, widths):
        grid.width = Mm(millimetres)


def _widths(table: Table, width: float) -> list[float]:
    """Widths of the columns: what their content needs, as far as there is room; long columns share what is left."""
    needed = []
    for cells in zip(table.header, *table.rows):
        longest_word = max((len(w) for cell in cells for w in cell.split()), default=1)
        longest = max((len(cell) for cell in cells[1:]), default=0)
        needed.append(max(longest_word, longest) * LETTER + CELL)
    if sum(needed) <= width:
        return needed
    fair = width / len(needed)
    small = [n for n in needed if n <= fair]
    large = sum(n for n in needed if n > fair)
    left = width - sum(small)
    return [n if n <= fair else left * n / large for n in needed]


def _display(document: Any, block: Display) -> None:
    size = display.type_size(block)
    # columns belong to a section: one for the cards, one for what follows
    _columns(document.add_section(WD_SECTION.CONTINUOUS), display.COLUMNS)
    for card in block.cards:
        _card(document, card, size)
    _columns(document.add_section(WD_SECTION.CONTINUOUS), 1)


def _columns(section: Any, number: int) -> None:
    columns = section._sectPr.find(qn("w:cols"))
    columns.set(qn("w:num"), str(number))
    columns.set(qn("w:space"), str(round(display.GAP * 56.7)))


def _card(document: Any, card: Card, size: float) -> None:
    name = document.add_paragraph()
    _write(name, card.name, size=size * display.NAME)
    paragraphs, scales = [name], [display.NAME]
    if card.graphemes:
        paragraph = document.add_paragraph()
        for at, (grapheme, word) in enumerate(card.graphemes):
            _write(paragraph, (BETWEEN if at else "") + grapheme, bold=True, size=size)
            if word:
                _write(paragraph, f"\u00a0{word}", size=size * display.KEY_WORD)
        paragraphs.append(paragraph)
        scales.append(1.0)
    if card.words:
        paragraph = document.add_paragraph()
        _write(paragraph, BETWEEN.join(card.words), size=size * display.TRICKY)
        paragraphs.append(paragraph)
        scales.append(display.TRICKY)
    for paragraph, scale in zip(paragraphs, scales):
        paragraph.paragraph_format.keep_together = True
        paragraph.paragraph_format.keep_with_next = paragraph is not paragraphs[-1]
        paragraph.paragraph_format.space_after = Pt(0)
        paragraph.paragraph_format.line_spacing = Pt(size * scale * display.LINE)
    paragraphs[-1].paragraph_format.space_after = Pt(size * display.AFTER)


# -- sheets to write on ---------------------------------------------------------------------------------------------------


def _blanks(document: Any, labels: tuple[str, ...], width: float) -> None:
    """Labels in a line, each with room to write up to the next."""
    paragraph = document.add_paragraph()
    paragraph.paragraph_format.space_before = paragraph.paragraph_format.space_after = Pt(12)
    for number, label in enumerate(labels, 1):
        end = width * number / len(labels)
        stops = paragraph.paragraph_format.tab_stops
        stops.add_tab_stop(Mm(end - 4), leader=WD_TAB_LEADER.HEAVY)
        _write(paragraph, f"{label} ")
        paragraph.add_run().add_tab()
        if number < len(labels):
            stops.add_tab_stop(Mm(end))
            paragraph.add_run().add_tab()


def _dictation(document: Any, words: tuple[Dictated, ...], widths: list[float]) -> None:
    drawn = _ruled(document, len(words) + 1, widths)
    for column, (cell, text) in enumerate(zip(drawn.rows[0].cells, paper.HEAD)):
        _write(cell.paragraphs[0], text, bold=True, size=paper.SMALLER)
        if column in (0, 3, 4):
            cell.paragraphs[0].alignment = WD_ALIGN_PARAGRAPH.RIGHT
    drawn.rows[0]._tr.get_or_add_trPr().append(OxmlElement("w:tblHeader"))
    for number, (row, word) in enumerate(zip(drawn.rows[1:], words), 1):
        cells = [cell.paragraphs[0] for cell in row.cells]
        for paragraph in cells:
            paragraph.paragraph_format.space_before = paragraph.paragraph_format.space_after = Pt(4)
        counts = str(number), str(len(word.graphemes)), str(word.sounds)
        for paragraph, text in zip((cells[0], cells[3], cells[4]), counts):
            _write(paragraph, text)
            paragraph.alignment = WD_ALIGN_PARAGRAPH.RIGHT
        _write(cells[1], word.word, bold=True, size=paper.DICTATED)
        for at, grapheme in enumerate(word.graphemes):
            _write(cells[2], (BETWEEN if at else "") + f"{TICK}\u00a0{grapheme}", size=paper.DICTATED)
        if word.watch:
            below = row.cells[2].add_paragraph()
            _write(below, word.watch, size=paper.SMALL)
            below.paragraph_format.space_after = Pt(4)


def _frames(document: Any, frames: Frames, on: str) -> None:
    """A table of one row for each word, so that each can be moved or taken out."""
    width, room = paper.box_width(frames, on), paper.boxes_width(frames, on)
    for number, boxes in enumerate(frames.boxes, 1):
        line = paper.line_width(on) - paper.NUMBER - boxes * width
        gap = paper.GAP + room - boxes * width
        drawn = _ruled(document, 1, [paper.NUMBER, *[width] * boxes, gap, line - gap], "none")
        (row,) = drawn.rows
        row.height, row.height_rule = Mm(paper.BOX), WD_ROW_HEIGHT_RULE.EXACTLY
        cells = row.cells
        _write(cells[0].paragraphs[0], str(number), size=14)
        cells[0].vertical_alignment = WD_CELL_VERTICAL_ALIGNMENT.CENTER
        for cell in cells[1 : 1 + boxes]:
            _borders(cell, ("top", "left", "bottom", "right"))
        _borders(cells[-1], ("bottom",))
        # without text between them, tables would become one
        after = document.add_paragraph().paragraph_format
        after.space_before = after.space_after = Pt(0)
        after.line_spacing = Mm(paper.BETWEEN)


def _word_cards(document: Any, cards: WordCards, on: str) -> None:
    each, size = paper.CARD_COLUMNS, paper.card_type(cards, on)
    rows = -(-len(cards.words) // each)
    drawn = _ruled(document, rows, [paper.line_width(on) / each] * each)
    for row in drawn.rows:
        row.height, row.height_rule = Mm(paper.CARD), WD_ROW_HEIGHT_RULE.EXACTLY
    places = [cell for row in drawn.rows for cell in row.cells]
    for cell, word in zip(places, cards.words):
        cell.vertical_alignment = WD_CELL_VERTICAL_ALIGNMENT.CENTER
        cell.paragraphs[0].alignment = WD_ALIGN_PARAGRAPH.CENTER
        _write(cell.paragraphs[0], word, size=size)


def _ruled(document: Any, rows: int, widths: list[float], ruling: str = "single") -> Any:
    """An empty table with columns of given widths, whose rows stay whole; `ruling` "none" for one without lines."""
    drawn = document.add_table(rows=rows, cols=len(widths), style="Table Grid" if ruling == "single" else None)
    drawn.alignment = WD_TABLE_ALIGNMENT.LEFT
    drawn.autofit = False
    for column, width in zip(drawn.columns, widths):
        column.width = Mm(width)
    for row in drawn.rows:
        row._tr.get_or_add_trPr().append(OxmlElement("w:cantSplit"))
        for cell, width in zip(row.cells, widths):
            cell.width = Mm(width)
    return drawn


def _borders(cell: Any, sides: tuple[str, ...]) -> None:
    """Give a cell lines of its own on some sides."""
    borders = OxmlElement("w:tcBorders")
    for side in sides:
        line = OxmlElement(f"w:{side}")
        for name, value in (("val", "single"), ("sz", "8"), ("space", "0"), ("color", "000000")):
            line.set(qn(f"w:{name}"), value)
        borders.append(line)
    cell._tc.get_or_add_tcPr().append(borders)
