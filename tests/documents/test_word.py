"""Word documents: what is read, and where.

Sources: ECMA-376 part 1 (WordprocessingML) and part 3 (markup compatibility), from memory; python-docx as a second reader of the same
paragraphs.
"""

from __future__ import annotations

import io
import zipfile

import docx as python_docx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.documents.document import Document, Place
from decodecheck.documents.readers.word import read
from decodecheck.errors import UserError
from tests.documents.damage import damaged
from tests.documents.making import W, docx, p, package, parts_of, r

BOX = f"<w:txbxContent>{p('box')}</w:txbxContent>"


def word(body: str, **more: str) -> Document:
    return read("story.docx", docx(body, **more))


def field(code: str, result: str) -> str:
    mark = '<w:r><w:fldChar w:fldCharType="{}"/></w:r>'
    return f"{mark.format('begin')}<w:r><w:instrText>{code}</w:instrText></w:r>{mark.format('separate')}{result}{mark.format('end')}"


@pytest.mark.parametrize(
    ("body", "text"),
    [
        (p("The t", "in") + p() + p("hat"), "The tin\n\nhat"),  # a word in two runs; an empty paragraph
        (p("<w:r><w:t>a</w:t><w:tab/><w:t>b</w:t><w:br/><w:t>c</w:t></w:r>"), "a\tb\nc"),
        (p("<w:r><w:t>co</w:t><w:noBreakHyphen/><w:t>op sa</w:t><w:softHyphen/><w:t>ys</w:t></w:r>"), "co\u2011op sa\u00adys"),
        (p("tin", f"<w:del>{r(' no')}<w:r><w:delText>no</w:delText></w:r></w:del>", f"<w:ins>{r(' hat')}</w:ins>"), "tin hat"),
        (p(f"<w:moveFrom>{r('no')}</w:moveFrom>", f"<w:moveTo>{r('tin')}</w:moveTo>"), "tin"),
        (p("one", more="<w:rPr><w:del/></w:rPr>") + p("two") + p("three"), "onetwo\n\nthree"),  # its end is deleted
        (p("See ", field("HYPERLINK http://no.org", r("Look")), " at"), "See Look at"),
        (p(field(f"IF {field('no', r('no'))}", r("yes"))), "yes"),  # a field in the code of a field
        (p(f'<w:hyperlink r:id="r9">{r("Look")}</w:hyperlink>', f"<w:fldSimple w:instr='no'>{r(' at')}</w:fldSimple>"), "Look at"),
        (f"<w:sdt><w:sdtPr/><w:sdtContent>{p('tin')}</w:sdtContent></w:sdt>", "tin"),
        (p(f"<w:sdt><w:sdtPr><w:showingPlcHdr/></w:sdtPr><w:sdtContent>{r('no')}</w:sdtContent></w:sdt>", "tin"), "tin"),
        (p(f"<w:smartTag>{r('tin')}</w:smartTag>", f"<w:customXml>{r(' hat')}</w:customXml>"), "tin hat"),
        (f"<w:tbl><w:tr><w:tc>{p('a')}</w:tc><w:tc>{p('b')}</w:tc></w:tr></w:tbl>", "a\n\nb"),
        (p("hat", r(" no", "<w:vanish/>"), r(" yes", '<w:vanish w:val="0"/>'), r(" web", "<w:webHidden/>")), "hat yes web"),
        (p("<m:oMath><m:r><m:t>no</m:t></m:r></m:oMath>", "tin"), "tin"),
        (p(f"<w:r><w:ruby><w:rt>{r('no')}</w:rt><w:rubyBase>{r('tin')}</w:rubyBase></w:ruby></w:r>"), "tin"),
        (p("<w:r><w:sym w:font='no' w:char='F04A'/></w:r>", "tin"), " tin"),
        (p("tin", f"<w:r><mc:AlternateContent><mc:Choice Requires='wps'>{BOX}</mc:Choice><mc:Fallback><w:pict>{BOX}</w:pict></mc:Fallback>"
           "</mc:AlternateContent></w:r>", " hat"), "tin hat\n\nbox"),  # once
        (p(f"<w:r><mc:AlternateContent><mc:Fallback><w:pict>{BOX}</w:pict></mc:Fallback></mc:AlternateContent></w:r>"), "box"),
        (p("tin", '<w:r><w:commentReference w:id="1"/></w:r>'), "tin"),
    ],
)  # fmt: skip
def test_what_is_read(body: str, text: str) -> None:
    assert word(body).text == text


def test_the_other_form_of_the_standard() -> None:
    strict = W.replace(
        "http://schemas.openxmlformats.org/wordprocessingml/2006/main",
        "http://purl.oclc.org/ooxml/wordprocessingml/main",
    )
    assert word(p("tin", style="a") + p("hat"), spaces=strict, styles=style("a", "Not read")).text == "hat"


def test_notes_stand_after_the_paragraph_they_belong_to_and_not_in_its_words() -> None:
    document = word(
        p("tin", '<w:r><w:footnoteReference w:id="2"/></w:r>', " hat", '<w:r><w:endnoteReference w:id="2"/></w:r>')
        + p("mat"),
        footnotes=f'<w:footnote w:id="2">{p("<w:r><w:footnoteRef/></w:r>", " a foot")}{p("note")}</w:footnote>'
        f'<w:footnote w:id="3">{p("that nothing refers to")}</w:footnote>',
        endnotes=f'<w:endnote w:id="2">{p("an end note")}</w:endnote>',
    )
    assert document.text == "tin hat\n\n a foot\n\nnote\n\nan end note\n\nmat"
    places = {w: document.place(document.text.index(w)) for w in ("hat", "foot", "end", "mat")}
    assert places == {
        "hat": Place(paragraph=1, column=5), "foot": Place(paragraph=1, column=4), "end": Place(paragraph=1, column=4),
        "mat": Place(paragraph=2, column=1),
    }  # fmt: skip


def test_notes_that_refer_to_notes_and_boxes_in_boxes_do_not_grow() -> None:
    def refers(number: int) -> str:
        return f'<w:r><w:footnoteReference w:id="{number}"/></w:r>'

    notes = "".join(
        f'<w:footnote w:id="{n}">{p(f"note {n} ", *[refers(m) for m in range(n + 1)] * 2)}</w:footnote>'
        for n in range(60)
    )
    document = word(p("tin", *[refers(n) for n in range(60)] * 50), footnotes=notes)
    assert document.text.split("\n\n") == ["tin", *(f"note {n} " for n in range(60))]
    boxes = "<w:p><w:r><w:txbxContent>" * 300 + p("tin") + "</w:txbxContent></w:r></w:p>" * 300
    assert word(boxes).text == "tin"
    assert word("<w:p>" * 900 + r("tin") + "</w:p>" * 900 + p("hat")).text == "tin\n\nhat"


def test_pages_are_those_that_the_document_says_it_has() -> None:
    broken = "<w:r><w:lastRenderedPageBreak/></w:r>"
    document = word(p("one ", broken, "two") + p("<w:r><w:br w:type='page'/></w:r>", broken, "three"))
    places = {w: document.place(document.text.index(w)) for w in ("one", "two", "three")}
    assert places == {
        "one": Place(page=1, paragraph=1, column=1), "two": Place(page=2, paragraph=1, column=5),
        "three": Place(page=3, paragraph=2, column=2),
    }  # fmt: skip
    # where no program has laid it out, the pages that its author began
    document = word(p("one") + p("<w:r><w:br w:type='page'/></w:r>", "two") + p("three", more="<w:pageBreakBefore/>"))
    assert [document.place(document.text.index(w)).page for w in ("one", "two", "three")] == [1, 2, 3]
    assert word(p("one") + p("two")).place(0) == Place(paragraph=1, column=1)


def style(identifier: str, name: str, base: str = "", hidden: bool = False) -> str:
    based = f'<w:basedOn w:val="{base}"/>' if base else ""
    return f'<w:style w:styleId="{identifier}"><w:name w:val="{name}"/>{based}{"<w:rPr><w:vanish/></w:rPr>" * hidden}</w:style>'


@pytest.mark.parametrize("name", ["not read", "Not read", "NOT-READ", "Not_Read"])
def test_what_has_the_style_not_read_is_left_out(name: str) -> None:
    styles = (
        style("a", name)
        + style("b", "Body")
        + style("c", "Caption", "a")
        + style("d", "Dark", hidden=True)
        + style("e", "E", "e")
    )
    body = (
        p("tin", style="b") + p("no", style="a") + p("no", style="c") + p("no", r("no", "<w:b/>"), style="a")
        + p("hat ", r("no", '<w:rStyle w:val="a"/>'), r("no", '<w:rStyle w:val="d"/>'), r("mat", '<w:rStyle w:val="d"/><w:vanish w:val="false"/>'))
        + p("no", style="d") + p("cat", style="e") + p(f"<w:r>{BOX}</w:r>", style="a")
    )  # fmt: skip
    assert word(body, styles=styles).text == "tin\n\nhat mat\n\ncat"


def test_styles_that_build_on_one_another_in_a_ring() -> None:
    ring = style("a", "A", "b") + style("b", "B", "c") + style("c", "C", "a")
    assert word(p("tin", style="a"), styles=ring).text == "tin"


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (p("tin") + '<w:altChunk r:id="r9"/>', "takes in another file"),
        (p("<w:r><w:fldChar w:fldCharType='begin'/></w:r>", "tin"), "field of this document is opened and not closed"),
    ],
)
def test_what_would_hide_text_is_an_error(body: str, said: str) -> None:
    with pytest.raises(UserError, match=said):
        word(body)


def test_a_main_part_of_another_name() -> None:
    parts = parts_of(docx(p("tin")))
    parts["word/other.xml"] = parts.pop("word/document.xml")
    parts["_rels/.rels"] = str(parts["_rels/.rels"], "utf-8").replace("word/document.xml", "/word/other.xml")  # type: ignore[arg-type]
    assert read("x.docx", package(parts)).text == "tin"
    del parts["word/other.xml"]
    with pytest.raises(UserError, match="no Word document, or it is damaged"):
        read("x.docx", package(parts))


def test_paragraphs_without_text_are_none() -> None:
    assert word(p() + p(" ")).text == ""


WORDS = st.sampled_from(["tin", "hat", "naïve", "don’t", "\U0001f434b", "A"])


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.tuples(WORDS, st.booleans()), max_size=6), min_size=1, max_size=8))
def test_each_paragraph_is_the_one_that_python_docx_has(paragraphs: list[list[tuple[str, bool]]]) -> None:
    made = python_docx.Document()
    for words in paragraphs:
        paragraph = made.add_paragraph()
        for text, split in words:
            for piece in (text[:1], text[1:]) if split else (text,):
                paragraph.add_run(piece)
            paragraph.add_run(" ")
    out = io.BytesIO()
    made.save(out)
    document = read("x.docx", out.getvalue())
    found = [q.text for q in python_docx.Document(io.BytesIO(out.getvalue())).paragraphs if q.text.strip()]
    assert document.text == "\n\n".join(found)
    for at, character in enumerate(document.text):
        if not character.isspace():
            place = document.place(at)
            assert found[place.paragraph - 1][place.column - 1] == character


PARTS = parts_of(
    docx(
        p("tin", style="a")
        + p(f"<w:r>{BOX}</w:r>", '<w:r><w:footnoteReference w:id="2"/></w:r>', field("no", r("hat"))),
        styles=style("a", "A", "b") + style("b", "B"),
        footnotes=f'<w:footnote w:id="2">{p("note")}</w:footnote>',
    )
)


@settings(max_examples=400, deadline=None)
@given(damaged(PARTS))
def test_a_damaged_document_is_read_or_told(data: bytes) -> None:
    try:
        document = read("x.docx", data)
    except UserError as error:
        assert len(error.problems) == 1 and error.problems[0].todo
    else:
        for at in range(len(document.text)):
            assert document.place(at).paragraph


def test_parts_of_the_package_that_are_locked() -> None:
    data = bytearray(docx(p("tin")))
    with zipfile.ZipFile(io.BytesIO(bytes(data))) as made:
        offsets = [info.header_offset for info in made.infolist()]
    for offset in offsets:
        data[offset + 6] |= 1
    at = 0
    while (at := data.find(b"PK\x01\x02", at)) >= 0:
        data[at + 8] |= 1
        at += 4
    with pytest.raises(UserError, match="locked with a password"):
        read("x.docx", bytes(data))
