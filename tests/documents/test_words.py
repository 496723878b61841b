"""Cutting words: every span slices the original, whatever the text; awkward story words stay whole."""

import re
import sys
import unicodedata
from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from decodecheck.checking.check import Checker
from decodecheck.documents.words import cut
from decodecheck.formats import known_bytes, known_text
from decodecheck.judging.judge import Judge
from decodecheck.lexicon.forms import UNSEEN as UNSEEN_MARKS
from decodecheck.lexicon.forms import is_word
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import tables
from decodecheck.progression.resolve import resolve
from decodecheck.source import SourceText, decode


def words(stretch: str) -> list[str]:
    return [stretch[c.start : c.end] for c in cut(stretch) if c.kind == "word"]


# The source: what the cutter makes of the same characters in a text.
@settings(max_examples=300, deadline=None)
@given(st.from_regex(r"[a-zé]{1,3}(['’.!_-]?[a-z2]{1,3}){0,3}['’.!]?", fullmatch=True))
@example("'em")
@example("'twas")
@example("dogs'")
@example("goin’")
@example("cafe\u0301")
@example("o'clock")
def test_a_word_is_what_the_cutter_leaves_whole(text: str) -> None:
    assert is_word(text) == (words(text) == [text])


@pytest.mark.parametrize(
    ("stretch", "expected"),
    [
        ("didn't", ["didn't"]), ("didn’t", ["didn’t"]), ("cannot", ["cannot"]), ("gonna", ["gonna"]), ("wed", ["wed"]),
        ('"Kit’s"', ["Kit’s"]), ("well-fed", ["well-fed"]), ("dogs'", ["dogs'"]), ("'dogs'", ["dogs"]), ("goin'", ["goin'"]),
        ("cat...dog", ["cat", "dog"]), ("end.Then", ["end", "Then"]), ("yes/no", ["yes", "no"]), ("ran—then", ["ran", "then"]),
        ("ran--then", ["ran", "then"]), ("*hop*", ["hop"]), ("_hop_", ["hop"]), ("(hop)", ["hop"]), ("“Hop!”", ["Hop"]),
        ("b-b-but", ["b-b-but"]), ("10am", []), ("3rd", []), ("1,066", []), ("www.school.org", []), ("a@b.org", []),
        ("co\u00adop", ["co\u00adop"]), ("cafe\u0301", ["cafe\u0301"]), ("ﬁsh", ["ﬁsh"]), ("'em", ["'em"]), ("…and", ["and"]),
        ("said,", ["said"]), ("O’Hara", ["O’Hara"]), (":)", []), ("—", []), ("Mr.", ["Mr"]), ("rock'n'roll", ["rock'n'roll"]),
    ],
)  # fmt: skip
def test_stretches(stretch: str, expected: list[str]) -> None:
    assert words(stretch) == expected


def test_words_between_underscores_keep_their_places() -> None:
    assert [(c.start, c.end) for c in cut("hat_at_a")] == [(0, 3), (4, 6), (7, 8)]


def test_no_listed_word_is_cut() -> None:
    # tokenizers for English cut wed, id, cannot, gonna and others
    wrong = [w for w in tables().words() if words(w) != [w]]
    assert wrong == []


def test_plain_spelling_knows_the_way_back() -> None:
    spelling = plain_spelling("Ca\u00adfé’s")
    assert spelling.plain == "cafe's"
    assert [("Ca\u00adfé’s")[i] for i in spelling.origin] == ["C", "a", "f", "é", "’", "s"]


ORDER, _ = resolve("step 1\n  teach a, t\n", "x")
CHECKER = Checker(Judge(ORDER, 1))
STORY = st.text(alphabet=st.sampled_from(list("aAtTbdnrs'’\"“”-—.,!?…\n\r\t  \u00ad\u0301é😀ﬁ0123/@_*")), max_size=80)


@settings(max_examples=600, deadline=None)
@example("<?xml", False)
@given(STORY | st.text(max_size=60), st.booleans())
def test_every_span_slices_the_original(text: str, bom: bool) -> None:
    try:
        data = text.encode("utf-8")
    except UnicodeEncodeError:
        return
    if b"\0" in data or known_bytes(data) or known_text(text.removeprefix("\ufeff")):
        return  # refused as a file of another kind, such as one that begins with <?xml
    source = SourceText("x", decode((b"\xef\xbb\xbf" if bom else b"") + data, "x"))
    assert source.text == text.removeprefix("\ufeff") or not bom or source.text == text
    report = CHECKER.check(source, every_word=True)
    lines = source.text.replace("\r\n", "\n ").replace("\r", "\n").split("\n")
    for finding in report.findings:
        assert source.text[finding.start : finding.end] == finding.word
        assert source.place(finding.start) == (finding.place.line, finding.place.column)
        assert source.place(finding.end) == (finding.end_place.line, finding.end_place.column)
        assert 1 <= finding.place.line <= len(lines)
        for blocker in finding.blockers:
            assert all(0 <= i < len(finding.word) for i in blocker.letters)
    seen = [(w.start, w.end) for w in report.words]
    assert seen == sorted(seen)
    assert all(a[1] <= b[0] for a, b in pairwise(seen))
    judged = sum(n for status, n in report.counts.items() if status != "unjudged")
    assert judged == len(seen) == sum(report.running.values())


def test_a_word_divided_at_a_line_end_is_one() -> None:
    order, _ = resolve("step 1\n  teach a, b, e, i, n, r, s, t, u\n", "x")
    text = "a rab-\nbit sat\n"
    report = Checker(Judge(order, 1)).check(SourceText("x", text), every_word=True)
    assert [w.word for w in report.words] == ["a", "rab-\nbit", "sat"]
    assert report.counts["decodable"] == 2


def test_names_and_sentence_starts() -> None:
    order, _ = resolve("step 1\n  teach a, b, d, m, n, s, t\n", "x")
    report = Checker(Judge(order, 1)).check(SourceText("x", "Zofkin sat. Sad Zofkin sat.\n"))
    assert [f.kind for f in report.findings] == ["unlisted-word", "unlisted-name"]
    skipping, _ = resolve("step 1\n  teach a, b, d, m, n, s, t\nskip all names\n", "x")
    report = Checker(Judge(skipping, 1)).check(SourceText("x", "A mad John sat. Sad Aisha sat.\n"))
    assert [f.word for f in report.findings] == ["A"]


UNSEEN = [
    chr(n) for n in (*range(0x80, 0x3000), *range(0xFE00, 0xFE10), *range(0xFEFF, 0x10000), *range(0xE0000, 0xE0200))
]


# The source: Unicode's general category Cf (format characters), as Python's unicodedata has it, and the variation selectors.
@pytest.mark.parametrize(
    "sign",
    [c for c in UNSEEN if unicodedata.category(c) == "Cf" or "VARIATION SELECTOR" in unicodedata.name(c, "")][::7],
)
def test_an_unseen_character_is_part_of_its_word(sign: str) -> None:
    order, _ = resolve("step 1\n  teach a, b, d, n, t, s, h, i, p, r, e\n", "x")
    checker = Checker(Judge(order, 1))
    for text in (
        f"br{sign}ead",
        f"bre{sign}{sign}ad",
        f"“Br{sign}ead{sign}!”",
        f"can{sign}'t",
        f"can'{sign}t",
        f"{sign}bread",
    ):
        assert [words(text)[0].replace(sign, "").lower()] == [w.replace(sign, "").lower() for w in words(text)]
    report = checker.check(SourceText("x", f"Br{sign}ead. Don'{sign}t. Bread.\n"), every_word=True)
    assert [f.word for f in report.findings] == [f"Br{sign}ead", f"Don'{sign}t", "Bread"]
    assert {f.status for f in report.findings} == {"blocked"}
    assert "bread" in report.distinct and report.running["bread"] == 2


def test_every_format_character_is_known_to_be_unseen() -> None:
    pattern = re.compile(f"[{UNSEEN_MARKS}]")
    everything = map(chr, range(0x80, sys.maxunicode + 1))
    missing = [hex(ord(c)) for c in everything if unicodedata.category(c) == "Cf" and not pattern.match(c)]
    assert missing == []
    assert not any(pattern.match(c) for c in "aé’'-\u2010\u2011 \u00a0_1中")
