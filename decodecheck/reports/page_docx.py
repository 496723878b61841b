"""A page as a Word document."""

from __future__ import annotations

from io import BytesIO

from docx import Document
from docx.enum.section import WD_ORIENT
from docx.shared import Mm, Pt, RGBColor

from decodecheck.errors import cut
from decodecheck.reports.page import Entry, Heading, Page, Paragraph, Table

SUFFIX = ".docx"
LONGEST_PROPERTY = 255
"""Characters that python-docx takes for a property of a document."""
A4 = (Mm(210), Mm(297))


def render(page: Page) -> bytes:
    """The page as the bytes of a .docx file; the same page gives the same text."""
    document = Document()
    # python-docx ships a template of its own date and author
    document.core_properties.author = "decodecheck"
    document.core_properties.title = cut(page.title, LONGEST_PROPERTY)
    section = document.sections[0]
    width, height = A4
    if page.shape == "landscape":
        section.orientation = WD_ORIENT.LANDSCAPE
        width, height = height, width
    section.page_width, section.page_height = width, height
    section.left_margin = section.right_margin = section.top_margin = section.bottom_margin = Mm(12)
    normal = document.styles["Normal"]
    normal.font.name, normal.font.size = "Verdana", Pt(8)
    normal.paragraph_format.space_after = Pt(1)
    for level, size in ((1, 14), (2, 10)):
        heading = document.styles[f"Heading {level}"]
        heading.font.name, heading.font.size, heading.font.color.rgb = "Verdana", Pt(size), RGBColor(0, 0, 0)
        heading.paragraph_format.space_before, heading.paragraph_format.space_after = Pt(6), Pt(2)
    document.add_heading(page.title, level=1)
    if page.subtitle:
        document.add_paragraph(page.subtitle)
    for block in page.blocks:
        match block:
            case Heading(text):
                document.add_heading(text, level=2)
            case Paragraph(text):
                document.add_paragraph(text)
            case Entry(label, text):
                paragraph = document.add_paragraph()
                paragraph.add_run(f"{label}: ").bold = True
                paragraph.add_run(text)
            case Table(header, rows):
                drawn = document.add_table(rows=1, cols=len(header), style="Table Grid")
                for cell, text in zip(drawn.rows[0].cells, header):
                    cell.paragraphs[0].add_run(text).bold = True
                for row in rows:
                    for cell, text in zip(drawn.add_row().cells, row):
                        cell.text = text
    target = BytesIO()
    document.save(target)
    return target.getvalue()
