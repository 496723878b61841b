"""E-books: what is read, in which order, and where.

Sources: EPUB 3.3 (w3.org/TR/epub-33, section numbers from memory); pandoc's and LibreOffice's own e-books are read in test_converted.py.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from decodecheck.documents.document import Place
from decodecheck.documents.readers.epub import read
from decodecheck.errors import UserError
from tests.documents.damage import damaged
from tests.documents.making import epub, package, parts_of

XHTML = '<?xml version="1.0"?>\n<!DOCTYPE html>\n<html xmlns="http://www.w3.org/1999/xhtml"><head><title>no</title><script src="a.js"/></head><body>{}</body></html>'


def page(body: str) -> str:
    return XHTML.format(body)


BOOK = {
    "text/one.xhtml": page("<h1>The <i>wet</i> map</h1><p>The tin&nbsp;hat.</p>\n<p> </p><p>A m<b>a</b>t.<br/>So.</p>"),
    "b%20c.xhtml": page(
        "<p>Omar<a epub:type='noteref' href='#n'>1</a> ran.</p><aside epub:type='footnote'>A note.</aside>"
    ),
}


def book(**more: object) -> bytes:
    chapters = {name.replace("%20", " "): text for name, text in BOOK.items()}
    made = parts_of(epub(BOOK, **more))  # type: ignore[arg-type]
    for name in list(made):
        if "%20" in name:
            made[name.replace("%20", " ")] = made.pop(name)
    assert chapters
    return package(made)


def test_chapters_are_read_in_order_with_their_places() -> None:
    document = read("book.epub", book())
    assert document.text == "The wet map\n\nThe tin\xa0hat.\n\nA mat.\nSo.\n\nOmar 1 ran.\n\nA note."
    places = {w: document.place(document.text.index(w)) for w in ("wet", "hat", "So", "ran", "note")}
    assert places == {
        "wet": Place(chapter="The wet map", paragraph=1, column=5), "hat": Place(chapter="The wet map", paragraph=2, column=9),
        "So": Place(chapter="The wet map", paragraph=3, column=8), "ran": Place(chapter="b c.xhtml", paragraph=1, column=8),
        "note": Place(chapter="b c.xhtml", paragraph=2, column=3),
    }  # fmt: skip
    assert places["hat"].after("book.epub") == "book.epub, chapter The wet map, paragraph 2, column 9"


def test_comments_in_a_chapter() -> None:
    assert read("x.epub", epub({"a.xhtml": page("<p>no<!-- decodecheck: skip --></p><p>tin</p>")})).text == "tin"
    with pytest.raises(UserError, match=r"x.epub, OPS/a.xhtml:3:\d+: `begin skip` stands here, and nothing ends it"):
        read("x.epub", epub({"a.xhtml": page("<p><!-- decodecheck: begin skip -->no</p>"), "b.xhtml": page("tin")}))


def locked(algorithm: str) -> dict[str, str]:
    return {
        "META-INF/encryption.xml": '<encryption xmlns="urn:oasis:names:tc:opendocument:xmlns:container" '
        'xmlns:enc="http://www.w3.org/2001/04/xmlenc#"><enc:EncryptedData>'
        f'<enc:EncryptionMethod Algorithm="{algorithm}"/></enc:EncryptedData></encryption>'
    }


def test_a_locked_book_is_told_and_one_with_locked_fonts_is_read() -> None:
    with pytest.raises(UserError, match="locked by its seller"):
        read("x.epub", book(more=locked("http://www.w3.org/2001/04/xmlenc#aes128-cbc")))
    assert read("x.epub", book(more=locked("http://www.idpf.org/2008/embedding"))).text.startswith("The wet map")


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (epub({"a.xhtml": page("tin")}, missing="gone.xhtml"), "names a chapter that is not in it: OPS/gone.xhtml"),
        (epub({"a.xhtml": page("<img src='a.png' alt='no'/>")}), "holds no text; words inside pictures"),
        (epub({"../../a.xhtml": page("tin")}), "holds a part that leads out of it"),
        (epub({"a.xhtml": page("tin")}, missing="../../../etc/passwd"), "names a chapter that is not in it"),
        (package({"mimetype": "application/epub+zip"}), "no e-book"),
        (epub({"a.xhtml": page("<!-- tin")}), "comment is opened here and not closed"),
    ],
)
def test_what_cannot_be_read_is_told(data: bytes, said: str) -> None:
    with pytest.raises(UserError, match=said) as caught:
        read("x.epub", data)
    assert caught.value.problems[0].todo


@settings(max_examples=400, deadline=None)
@given(damaged(parts_of(book())))
def test_a_damaged_book_is_read_or_told(data: bytes) -> None:
    try:
        document = read("x.epub", data)
    except UserError as error:
        assert len(error.problems) == 1 and error.problems[0].todo
    else:
        for at in range(len(document.text)):
            assert document.place(at).chapter and document.place(at).paragraph
