"""Web pages: what is read, and that every place leads back to the word in the file.

Sources: the HTML standard (html.spec.whatwg.org, sections 13.1 and 13.2, from memory); lxml's HTML parser, which has no part in the
reader, as a second reader of the same pages.
"""

from __future__ import annotations

import contextlib
import time

import lxml.html
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.documents.document import Document, Place
from decodecheck.documents.readers.web_page import read
from decodecheck.errors import UserError
from tests.documents.slices import slices, wrong


def page(text: str) -> Document:
    return read("story.html", text.encode())


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("<!DOCTYPE html><html><head><title>No</title><style>p{}</style></head><body><p>Tin hat</p></body></html>", "Tin hat"),
        ("<script>if (a < b) { '<p>no</p>' }</script><p>tin", "tin"),
        ("<script/><p>tin</p>", "tin"),  # XHTML: a self-closed element has no contents
        ("<p>re<b>tu</b>rn <i>t</i>in</p>", "return tin"),
        ("<p>don&rsquo;t caf&eacute; a&nbsp;b &#x1F434; &lt;tin&gt; AT&T a &b; &copy", "don’t café a b \U0001f434 <tin> AT&T a &b; ©"),
        ("<p>one<p>two<ul><li>a<li>b</ul><table><tr><td>c<td>d</table>", "one two a b c d"),  # end tags left out
        ("one<br>two<br/>three<hr>four<wbr>five", "one two three fourfive"),
        ("<p>one</p><!-- no --><p>two</p><!----><!--> three <!---> four", "one two three four"),
        ("<p hidden>no</p><p style='color:red; display: none'>no</p><p>yes", "yes"),
        ("<p hidden>no<p>yes<ul><li hidden>no<li>tin</ul>", "yes tin"),
        ("<img alt='no' src=no><a href='http://no.org'>Look</a> <svg><text>no</text></svg>", "Look"),
        ("<p>tin <del>no</del><ins>hat</ins> <code>no</code><kbd>no</kbd></p>", "tin hat"),
        ("<nav>no</nav><header>Tin</header><footer>no</footer><article>hat<footer>mat</footer></article>", "Tin hat mat"),
        ("<p>hat<sup>1</sup> hat<a href='#n'>2</a> 1<sup>st</sup> <sup>1</sup>The note", "hat 1 hat 2 1st 1 The note"),
        ("<ruby>tin<rp>(</rp><rt>no</rt><rp>)</rp></ruby>", "tin"),
        ("<span role='doc-pagebreak'>12</span><span epub:type='pagebreak'>13</span>tin", "tin"),
        ("<p>3 < 4 <3 </ a></p ><p>tin", "3 < 4 <3 tin"),
        ("<p title='a > b' data-x=\"<p>no</p>\">tin", "tin"),
        ("<![CDATA[a & b]]><?php no ?> tin", "a & b tin"),
        ("<noscript>no</noscript><template>no</template><textarea>no</textarea>tin", "tin"),
        ("<pre>tin\nhat</pre>", "tin hat"),
        ("\r\n<P>TIN</P>", "TIN"),
        ("tin<br></br>hat<img src=no>mat<button>a</button><button>b</button>", "tin hat mat a b"),
    ],
)  # fmt: skip
def test_what_is_read(text: str, words: str) -> None:
    document = page(text)
    assert document.text.split() == words.split()
    assert wrong(document, text) == []


def test_places_are_those_of_the_file() -> None:
    text = "\ufeff<p>A\tmap</p>\r\n<ul>\r\n  <li>the <b>t</b>in\r\n hat</ul>\U0001f434 don&rsquo;t <i>big</i>"
    document = page(text)
    found = {word: document.place(document.text.index(word)) for word in ("map", "tin", "hat", "don", "big")}
    assert found == {
        "map": Place(1, 6), "tin": Place(3, 14), "hat": Place(4, 2), "don": Place(4, 12), "big": Place(4, 27),
    }  # fmt: skip
    assert document.end_place(document.text.index("don’t") + 5) == Place(4, 23)
    assert document.end_place(document.text.index("tin") + 3) == Place(3, 21)


def test_paragraphs_are_those_of_the_page_and_not_those_of_the_file() -> None:
    assert page("<p>bre-\nad\n\nThe\n\nhat</p><p>Tin</p>").text == "bre- ad  The  hat\n\nTin"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("<p>One<!-- decodecheck: skip --> two</p><p>three", "three"),
        ("<!-- decodecheck: skip --><p>One</p><p>three", "three"),
        ("<p>One<!-- decodecheck: begin skip --></p><p>two<!-- decodecheck: end skip --> three", "One three"),
    ],
)
def test_what_comments_mark_is_not_read(text: str, words: str) -> None:
    assert page(text).text.split() == words.split()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("<p>a\n<!-- b", "story.html:2:1: A comment is opened here and not closed"),
        ("<p>a\n<script>b", "story.html:2:1: <script> is opened here and not closed"),
        ("<p>a\n<title>b</p>", "story.html:2:1: <title> is opened here and not closed"),
        ("<p>a\n<b c='d", "story.html:2:1: A tag is opened here and not closed"),
        ("<p>a\n</b", "story.html:2:1: A tag is opened here and not closed"),
        ("<p>a\n<![CDATA[b", "story.html:2:1: A CDATA section is opened here and not closed"),
        ("<!-- decodecheck: begin skip --><p>a", "nothing ends it"),
        ('<!DOCTYPE html [<!ENTITY a "tin">]><p>&a;', "names of its own for characters"),
    ],
)
def test_what_would_hide_text_is_an_error(text: str, said: str) -> None:
    with pytest.raises(UserError) as caught:
        page(text)
    assert said in str(caught.value) and caught.value.problems[0].todo


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b'<meta charset="windows-1252"><p>caf\xe9 \x93hat\x94', "café “hat”"),
        (b"<meta http-equiv=content-type content='text/html; charset=ISO-8859-1'><p>caf\xe9 \x92", "café ’"),
        (b'<?xml version="1.0" encoding="iso-8859-15"?><html><p>\xa4</p></html>', "€"),
        (b'<meta charset="utf-8"><p>caf\xc3\xa9', "café"),
        ("\ufeff<meta charset='latin-1'><p>café".encode(), "café"),
        ("<meta charset='utf-16'><p>café".encode("utf-16"), "café"),
        (b"<meta charset='no-such'><p>caf\xc3\xa9", "café"),
    ],
)
def test_a_page_may_say_how_it_is_stored(data: bytes, words: str) -> None:
    assert read("x.html", data).text.split() == words.split()


def test_a_page_that_says_wrongly_how_it_is_stored() -> None:
    with pytest.raises(UserError, match="stored as euc_jp, and is not"):
        read("x.html", b"<meta charset=euc-jp><p>\xff\xff")
    with pytest.raises(UserError, match="older Windows format"):
        read("x.html", b"<p>caf\xe9 hat")


WORDS = st.sampled_from(["tin", "hat", "naïve", "don’t", "A", "be-gin", "\U0001f434b"])
INLINE = [
    "{}",
    "<b>{}</b>",
    "<i class='zz'>{}</i>",
    '<a href="zz">{}</a>',
    "<span>{}</span>",
    "{}<!-- zz -->",
    "<img alt=zz>{}",
]
BLOCKS = ["<p>{}</p>", "<div>{}</div>", "<h2>{}</h2>", "<ul><li>{}</li></ul>", "<p>{}", "<blockquote><p>{}</p></blockquote>",
          "<table><tr><td>{}</td></tr></table>", "<section>{}</section>", "{}<br>", "<p hidden>zz</p>{}"]  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(BLOCKS),
            st.lists(st.tuples(st.sampled_from(INLINE), WORDS, st.booleans()), min_size=1, max_size=5),
        ),
        min_size=1,
        max_size=6,
    ),
    st.sampled_from([" ", "\n", "\r\n", "\t"]),
)
def test_every_slice_of_the_file_is_the_word(blocks: list[tuple[str, list[tuple[str, str, bool]]]], blank: str) -> None:
    parts, words = [], []
    for block, line in blocks:
        written = [
            inline.format(word.replace("ï", "&iuml;").replace("’", "&#8217;") if named else word)
            for inline, word, named in line
        ]
        words += [word for _, word, _ in line]
        parts.append(block.format(blank.join(written)))
    text = blank.join(parts)
    document = page(text)
    assert document.text.split() == words
    assert wrong(document, text) == []
    # lxml does not know what a page hides
    if "hidden" not in text:
        spaced = (
            text.replace("<br>", " ").replace("</td>", " </td>").replace("</li>", " </li>").replace("</p>", " </p>")
        )
        assert lxml.html.document_fromstring(f"<div>{spaced}</div>").text_content().split() == words


@settings(max_examples=500, deadline=None)
@given(st.lists(st.sampled_from(["<", ">", "p", "/", "!", "--", "a", " ", "\n", "\r", '"', "'", "=", "&", "#", ";", "1", "x", "é", "<p>", "</p>", "<b ", "<!--", "-->",
                                 "script", "<![CDATA[", "]]>", "?", "<pre>", "<sup>", "hidden", "<li>", "amp"]), max_size=40).map("".join))  # fmt: skip
def test_any_text_is_read_or_told(text: str) -> None:
    try:
        document = page(text)
    except UserError as error:
        assert len(error.problems) == 1 and error.problems[0].todo
        return
    for _, slice_ in slices(document, text):
        assert slice_


@pytest.mark.parametrize(
    "piece",
    ["<p>a", "<b>a", "<!--", "<a ", "<", "</", "&#", "&a", "<a b='", '<a b="', "<div><p>", "</b>", "<li>a", "<b></p>", "<![CDATA[", "<b><div></div>",
     "<sup>", "<!--a-->", "<p hidden>", "</p>", "<script>", "<a a=b ", "<?"],
)  # fmt: skip
def test_the_time_grows_with_the_length(piece: str) -> None:
    start = time.process_time()
    with contextlib.suppress(UserError):
        page(piece * (300_000 // len(piece)))
    assert time.process_time() - start < 10


def test_ten_thousand_elements_in_one_another_are_read() -> None:
    assert page("<div>" * 10_000 + "tin" + "</div>" * 10_000 + "<p>hat").text == "tin\n\nhat"
