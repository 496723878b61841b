"""OpenDocument texts: what is read, and where.

Sources: OpenDocument 1.3, part 3 (section numbers from memory); LibreOffice's own conversions of the demo's stories are held against
their plain text in test_converted.py.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from decodecheck.documents.document import Document, Place
from decodecheck.documents.readers.open_document import read
from decodecheck.errors import UserError
from tests.documents.damage import damaged
from tests.documents.making import odt, parts_of


def text(body: str, **more: str) -> Document:
    return read("story.odt", odt(body, **more))


def style(name: str, display: str = "", *, parent: str = "", family: str = "paragraph", more: str = "") -> str:
    shown = f' style:display-name="{display}"' if display else ""
    based = f' style:parent-style-name="{parent}"' if parent else ""
    return f'<style:style style:name="{name}"{shown}{based} style:family="{family}">{more}</style:style>'


NOTE = "<text:note><text:note-citation>1</text:note-citation><text:note-body><text:p>a foot</text:p><text:p>note</text:p></text:note-body></text:note>"
BOX = "<draw:frame><draw:text-box><text:p>box</text:p></draw:text-box><svg:title>no</svg:title><svg:desc>no</svg:desc></draw:frame>"
DELETION = "<text:tracked-changes><text:changed-region><text:deletion><text:p>no</text:p></text:deletion></text:changed-region></text:tracked-changes>"


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ("<text:h>The map</text:h><text:p>The t<text:span>i</text:span>n</text:p><text:p/><text:p>hat</text:p>", "The map\n\nThe tin\n\nhat"),
        ("<text:p>a<text:tab/>b<text:line-break/>c<text:s text:c='1000000000'/>d</text:p>", "a\tb\nc d"),  # 6.1
        ("<text:p>tin\n     hat</text:p>", "tin hat"),  # 6.1.2: white space collapses
        (f"{DELETION}<text:p>tin<text:change text:change-id='a'/> hat</text:p>", "tin hat"),
        (f"<text:p>tin{NOTE} hat</text:p><text:p>mat</text:p>", "tin hat\n\na foot\n\nnote\n\nmat"),
        (f"<text:p>tin{BOX} hat</text:p>", "tin hat\n\nbox"),
        ("<text:p>tin<office:annotation><text:p>no</text:p></office:annotation> hat<office:annotation-end/></text:p>", "tin hat"),
        ("<text:p>See <text:a>Look</text:a> at</text:p>", "See Look at"),
        ("<text:list><text:list-header><text:p>a</text:p></text:list-header><text:list-item><text:number>1.</text:number><text:p>b</text:p>"
         "</text:list-item></text:list>", "a\n\nb"),
        ("<table:table><table:table-row><table:table-cell><text:p>a</text:p></table:table-cell><table:table-cell><text:p>b</text:p>"
         "</table:table-cell></table:table-row></table:table>", "a\n\nb"),
        ("<text:section><text:p>tin</text:p></text:section>", "tin"),
        ("<text:p><text:hidden-text text:is-hidden='true'>no</text:hidden-text>tin "
         "<text:hidden-text text:is-hidden='false'>hat</text:hidden-text></text:p>", "tin hat"),
        ("<text:p>no <text:hidden-paragraph text:is-hidden='true'/>no</text:p><text:p>tin</text:p>", "tin"),
        ("<text:p><text:ruby><text:ruby-base>tin</text:ruby-base><text:ruby-text>no</text:ruby-text></text:ruby></text:p>", "tin"),
        ("<text:p>page <text:page-number>3</text:page-number></text:p>", "page "),
    ],
)  # fmt: skip
def test_what_is_read(body: str, found: str) -> None:
    assert text(body).text == found


def test_what_a_style_hides_or_names_not_read_is_left_out() -> None:
    none = '<style:text-properties text:display="none"/>'
    styles = style("a", "Not read") + style("b", "Body") + style("r", "r", parent="s") + style("s", "s", parent="r")
    automatic = (
        style("P1", parent="a") + style("P2", parent="b", more=none) + style("T1", family="text", more=none)
        + style("not_20_read", family="text", parent="") + style("T2", "not read", family="text")
    )  # fmt: skip
    body = "".join(
        f'<text:p text:style-name="{name}">{said}</text:p>'
        for name, said in [("a", "no"), ("b", "tin"), ("P1", "no"), ("P2", "no"), ("r", "hat"), ("a", f"no{NOTE}{BOX}"),
                           ("b", '<text:span text:style-name="T1">no<text:span>no</text:span></text:span>mat<text:span text:style-name="T2">no</text:span>')]
    )  # fmt: skip
    assert text(body, styles=styles, automatic=automatic).text == "tin\n\nhat\n\nmat"


def test_pages_and_paragraphs() -> None:
    automatic = style("P1", more='<style:paragraph-properties fo:break-before="page"/>')
    body = f'<text:p>one <text:soft-page-break/>two{NOTE}</text:p><text:p/><text:p text:style-name="P1">three</text:p>'
    document = text(body, automatic=automatic)
    places = {w: document.place(document.text.index(w)) for w in ("one", "two", "foot", "three")}
    assert places == {
        "one": Place(page=1, paragraph=1, column=1), "two": Place(page=2, paragraph=1, column=5),
        "foot": Place(page=2, paragraph=1, column=3), "three": Place(page=3, paragraph=2, column=1),
    }  # fmt: skip
    assert text("<text:p>one</text:p>").place(0) == Place(paragraph=1, column=1)


def test_a_document_that_is_locked() -> None:
    with pytest.raises(UserError, match="locked with a password"):
        text("", manifest="<manifest:encryption-data/>")


PARTS = parts_of(
    odt(
        f"<text:p text:style-name='P1'>tin{NOTE}</text:p><text:p>hat{BOX}<text:span text:style-name='T1'>mat</text:span></text:p>",
        automatic=style("P1"),
    )
)


@settings(max_examples=400, deadline=None)
@given(damaged(PARTS))
def test_a_damaged_document_is_read_or_told(data: bytes) -> None:
    try:
        document = read("x.odt", data)
    except UserError as error:
        assert len(error.problems) == 1 and error.problems[0].todo
    else:
        for at in range(len(document.text)):
            assert document.place(at).paragraph
