"""Markdown: what is read, and that every place leads back to the word in the file.

Sources: CommonMark 0.31.2 (spec.commonmark.org, section numbers from memory), GitHub Flavored Markdown for tables and struck-out text;
pandoc as a second reader of the same texts, where it is installed.
"""

from __future__ import annotations

import contextlib
import shutil
import subprocess
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.documents.document import Document, Place
from decodecheck.documents.readers.markdown import read
from decodecheck.documents.reading import read_document
from decodecheck.errors import UserError
from tests.documents.slices import bare, slices, wrong


def md(text: str) -> Document:
    return read("story.md", text.encode())


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("# The *wet* map #\n\nTin hat.\n", "The wet map Tin hat."),  # 4.2 headings, 6.2 emphasis
        ("The map\nis wet\n===\n\nTin.", "The map is wet Tin."),  # 4.3 setext headings
        ("*re*turn **b**read", "return bread"),
        ("don&rsquo;t caf&#233;", "don’t café"),  # 2.5 entities
        (r"\*star\* 1\. tin", "*star* 1. tin"),  # 2.4 backslash escapes
        ('[Look](http://x.org "Nettle") at ![a donkey](nettle.png) it', "Look at it"),  # 6.3 links, 6.4 images
        ("[Look][a] [at][] [it]\n\n[a]: http://x.org 'Nettle'\n[at]: /b\n[it]: c\n", "Look at it"),
        ("See <http://tin.org> now", "See now"),  # 6.5 autolinks
        ("Tin `code` hat\n\n    code()\n\n```\ncode\n```\n~~~ x\ncode\n~~~\n", "Tin hat"),  # 6.1, 4.4, 4.5
        ("---\nstep: 9\ntitle: Nettle\n---\nTin.\n", "Tin."),
        ("Tin[^1] hat.\n\n[^1]: A foot\n    note.\n", "Tin hat. A foot note."),
        ("Tin ^[a note] hat", "Tin ^[a note] hat"),
        ("> tin\n> > hat\nlazy\n\n1. one\n   - two\n\n10) ten", "tin hat lazy one two ten"),  # 5.1 to 5.3
        ("| a | b\\|c |\n|---|:-:|\n| *d* | e |\n", "a b|c d e"),
        ("Tin ~~not~~ hat", "Tin hat"),
        ("tin<!-- a note -->hat <b>big</b> a<br>b", "tinhat big a b"),  # 6.6 raw HTML
        (
            "<div hidden>\nno\n</div>\n\n<p>yes <em>t</em>in</p>\n\n<script>\nno()\n</script>\n",
            "yes tin",
        ),  # 4.6 HTML blocks
        ("<!-- a\n\nnote -->\n\nTin", "Tin"),
        (
            "> <div\n> title='no > no'>tin\n> </div>\n\n> hat <b\n> title='no'>m</b>at\n\n- <p>\n  cat</p>\n",
            "tin hat mat cat",
        ),
        ("tin\\\nhat  \nmat", "tin hat mat"),  # 6.7 hard line breaks
        ("Term\n: what it is\n", "Term what it is"),
        ("bre-\nad", "bre- ad"),  # 6.8: a page shows the end of a line as a blank
    ],
)
def test_what_is_read(text: str, words: str) -> None:
    document = md(text)
    assert document.text.split() == words.split()
    assert wrong(document, text) == []


def test_places_are_those_of_the_file() -> None:
    text = (
        "\ufeff# A\tmap\r\n\r\n- the *t*in\r\n\that\r\n\r\n| é | don&rsquo;t |\r\n|--|--|\r\n| \U0001f434 | big |\r\n"
    )
    document = md(text)
    # a mark of the order of bytes is no column; columns are characters, also of tabs and of what is beyond 16 bits
    found = {word: (document.place(document.text.index(word))) for word in ("map", "tin", "hat", "don", "big")}
    assert found == {
        "map": Place(1, 5), "tin": Place(3, 8), "hat": Place(4, 2), "don": Place(6, 7), "big": Place(8, 7),
    }  # fmt: skip
    end = document.text.index("don’t") + 5
    assert document.end_place(end) == Place(6, 18)
    assert document.line_of(document.text.index("tin")) == ("- the *t*in", 8)


def test_what_parts_paragraphs_parts_sentences() -> None:
    assert md("# Map\nTin\n\n- a\n- b\n").text == "Map\n\nTin\n\na\n\nb"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("One\n\n<!-- decodecheck: skip -->\nTwo\n\nThree", "One Three"),
        ("One\n\n<!-- decodecheck: skip -->\n\nTwo\n\nThree", "One Three"),
        ("One <!-- Decodecheck: SKIP --> two\n\nThree", "Three"),
        (
            "# A\n\n<!-- decodecheck: begin skip -->\n\nOne\n\n- two\n\n<!-- decodecheck: end skip -->\n\nThree",
            "A Three",
        ),
        ("- one <!-- decodecheck: skip -->\n- two", "two"),
        ("<!-- decodes: skip -->\nOne", "One"),
    ],
)
def test_what_comments_mark_is_not_read(text: str, words: str) -> None:
    document = md(text)
    assert document.text.split() == words.split()
    assert [slice_ for _, slice_ in slices(document, text)] == words.split()


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("A\n\n<!-- decodecheck: begin skip -->\n\nB", 3, "nothing ends it"),
        ("A\n\n<!-- decodecheck: end skip -->\n\nB", 3, "nothing is skipped"),
        ("<!-- decodecheck: begin skip -->\n\n<!-- decodecheck: begin skip -->\n", 3, "line 1 began to skip already"),
        ("A\n\n<!-- decodecheck: skp -->\n\nB", 3, "Did you mean `skip`?"),
        ("A <b", 0, ""),
        ("A\n\n<div\n\nB", 3, "not closed"),
        ("A\n\n<!-- B", 3, "comment is opened here and not closed"),
        ("A\n\n" + "> " * 100 + "deep", 3, "more than 58 deep"),
        ("- " * 5000 + "deep", 1, "more than 58 deep"),
    ],
)
def test_what_would_hide_text_is_an_error(text: str, line: int, said: str) -> None:
    if not said:
        assert md(text).text == text
        return
    with pytest.raises(UserError) as caught:
        md(text)
    (problem,) = caught.value.problems
    assert (problem.path, problem.line) == ("story.md", line) and said in problem.text()


@pytest.mark.parametrize(("name", "megabytes"), [("x.md", 10), ("x.html", 50)])
def test_what_is_too_large_is_told_at_once(name: str, megabytes: int, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(b"tin hat\n" * (megabytes * 1_000_000 // 8) + b"the end\n")
    with pytest.raises(UserError, match=f"more than {megabytes} megabytes"):
        read_document(str(tmp_path / name))


WORDS = st.sampled_from(["tin", "hat", "map", "naïve", "don’t", "A", "\U0001f434b", "be-gin"])


def marked(word: str) -> st.SearchStrategy[tuple[str, str]]:
    """A word with how it may be written."""
    half = len(word) // 2
    return st.sampled_from(
        [
            (word, word), (f"*{word}*", word), (f"**{word}**", word), (f"[{word}](http://x.org/zz)", word),
            (word[:half] + f"**{word[half:]}**", word), (f"<b>{word}</b>", word), (f"`zz` {word}", word),
            (word.replace("’", "&rsquo;"), word), (word[:half] + "<!-- zz -->" + word[half:], word),
            (word.replace("ï", "&iuml;"), word), (f"{word}\\.", f"{word}."), (f"![zz](zz.png) {word}", word),
            (f"~~zz~~ {word}", word), (f"{word}[^9]", f"{word}[^9]"), (f"<http://zz.org> {word}", word),
        ]
    )  # fmt: skip


LINES = st.lists(WORDS.flatmap(marked), min_size=1, max_size=5)
SHAPES = [
    "{}",
    "# {}",
    "> {}",
    "- {}",
    "1. {}",
    "  {}  ",
    "- > {}",
    "{}\n===",
    "| {} |\n|---|",
    ">\t{}",
    "-\t{}",
    "## {} ##",
]


@settings(max_examples=400, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(SHAPES), LINES, LINES), min_size=1, max_size=6),
    st.sampled_from(["\n", "\r\n", "\r"]),
    st.booleans(),
)
def test_every_slice_of_the_file_is_the_word(
    blocks: list[tuple[str, list[tuple[str, str]], list[tuple[str, str]]]], end: str, more: bool
) -> None:
    parts, words = [], []
    for shape, first, second in blocks:
        # a line that begins with a comment is HTML to its end (4.6), in which an asterisk is one
        first, second = ([("So", "So"), *line] if line[0][0].startswith("<!--") else line for line in (first, second))
        lines = [" ".join(written for written, _ in first)]
        words += [word for _, word in first]
        if more and shape == "{}":
            # a second line of the paragraph
            lines.append(" ".join(written for written, _ in second))
            words += [word for _, word in second]
        parts.append(shape.format("\n".join(lines)))
    text = "\n\n<!-- apart -->\n\n".join(parts).replace("\n", end)
    document = md(text)
    assert document.text.split() == words
    assert wrong(document, text) == []


@settings(max_examples=400, deadline=None)
@given(st.text(st.sampled_from("ab1 \n\r\t*_`~[]()<>!#-+>|\\&;:^.=\"'{}é/"), max_size=120))
def test_any_text_is_read_or_told(text: str) -> None:
    try:
        document = md(text)
    except UserError as error:
        assert len(error.problems) == 1 and error.problems[0].todo
        return
    for _, slice_ in slices(document, text):
        assert slice_


@pytest.mark.parametrize(
    "piece", ["*a ", "[", "![", "<a ", "`", "``a", "> ", "\\", "&#", "a|", "<!--a-->", "_a*", "[^1]: ", "]("]
)
def test_the_time_grows_with_the_length(piece: str) -> None:
    start = time.process_time()
    with contextlib.suppress(UserError):
        md("a " + piece * (20_000 // len(piece)))
    assert time.process_time() - start < 20


@pytest.mark.skipif(not shutil.which("pandoc"), reason="pandoc is not installed")
@settings(max_examples=15, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(SHAPES[:8]), LINES), min_size=1, max_size=4))
def test_pandoc_reads_the_same_words(blocks: list[tuple[str, list[tuple[str, str]]]]) -> None:
    plain = [
        (shape, [w for w in line if "~~" not in w[0] and "zz" not in w[0] and "[^" not in w[0]])
        for shape, line in blocks
    ]
    text = "\n\n<!-- apart -->\n\n".join(shape.format(" ".join(w for w, _ in line)) for shape, line in plain if line)
    command = ["pandoc", "-f", "commonmark", "-t", "html", "--wrap=none"]
    page = subprocess.run(command, input=text.encode(), capture_output=True, check=True).stdout.decode()
    assert md(text).text.split() == bare(page).split()
