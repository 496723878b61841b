"""Addresses and numerals in stretches without white space, held to spaCy's English tokenizer."""

import re
import time
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from decodecheck.documents.addresses import ADDRESS, LONGEST, addresses
from decodecheck.documents.words import Cut, cut
from tests.data.folder import DATA
from tests.documents import awkward
from tests.documents.spacy_cut import TELLING, spacy_cut

ROOT = Path(__file__).parents[2]
BETWEEN = [mark for mark in awkward.JOINED if mark not in "./"]
"""A dot or a slash between two words may make an address of them (stop.go/5): see DIFFERENT."""


def described(stretch: str, cuts: tuple[Cut, ...]) -> list[str]:
    return [f"{c.kind} {stretch[c.start : c.end]}" for c in cuts]


def without_last_stop(stretch: str, cuts: tuple[Cut, ...]) -> tuple[Cut, ...]:
    """spaCy leaves a full stop after a slash in the address: www.x.co.uk/."""
    return tuple(
        Cut(c.start, c.end - 1, c.kind) if c.kind == "address" and stretch[: c.end].endswith("/.") else c for c in cuts
    )


@settings(max_examples=3000, deadline=None)
@given(
    st.builds(
        "{}{}{}".format,
        st.sampled_from(awkward.OPENING),
        st.sampled_from(awkward.ALL),
        st.sampled_from(awkward.CLOSING),
    )
)
@example("www.x.co.uk/.’")
def test_one_awkward_thing_between_punctuation(stretch: str) -> None:
    assert described(stretch, cut(stretch)) == described(stretch, without_last_stop(stretch, spacy_cut(stretch)))


@settings(max_examples=3000, deadline=None)
@given(
    st.builds(
        "{}{}{}{}{}".format,
        st.sampled_from(awkward.OPENING),
        st.sampled_from(awkward.PLAIN),
        st.sampled_from(BETWEEN),
        st.sampled_from(awkward.PLAIN),
        st.sampled_from(awkward.CLOSING),
    )
)
def test_two_awkward_things_that_touch(stretch: str) -> None:
    assert described(stretch, cut(stretch)) == described(stretch, spacy_cut(stretch))


def test_texts_of_the_project() -> None:
    folders = [DATA / "stories", DATA / "passages", ROOT / "corpora_demo", ROOT / "tests" / "errors" / "cases"]
    texts = [path.read_text("utf-8", "replace") for folder in folders for path in sorted(folder.rglob("*.txt"))]
    texts += [path.read_text("utf-8") for path in (ROOT / "README.md", ROOT / "rules" / "GUIDE.md")]
    stretches = sorted({s for text in texts for s in text.split() if TELLING.search(s)})
    assert len(stretches) > 100
    different = [s for s in stretches if cut(s) != without_last_stop(s, spacy_cut(s))]
    # the name of a file in a link, which is an address to spaCy because .md is Moldova's domain
    assert different == ["[README](../README.md)"]


# Stretches of which spaCy's tokens make something else, with what is right. `spaCy`: what its tokens would make of them.
DIFFERENT = [
    # two addresses, or an address and a word, with a mark between that is part of neither
    ("a@b.org,c@d.org", ["address a@b.org,c@d.org"], ["address a@b.org", "address c@d.org"]),
    ("x.com(Nettle)", ["word x", "word com", "word Nettle"], ["address x.com", "word Nettle"]),
    ("write(t@x.org)", ["word write", "word t", "word x", "word org"], ["word write", "address t@x.org"]),
    ("Nettle:t@x.org", ["word Nettle", "word t", "word x", "word org"], ["word Nettle", "address t@x.org"]),
    ("t@x.org'and", ["address t@x.org'and"], ["address t@x.org", "word and"]),
    ("Nettle—x.org/tide", ["address Nettle—x.org/tide"], ["word Nettle", "address x.org/tide"]),
    ("50p—x.org/a", ["address 50p—x.org/a"], ["number 50p", "address x.org/a"]),
    ("see=harbour-lane.org", ["word see", "word harbour", "address lane.org"], ["word see", "address harbour-lane.org"]),
    ("harbour-lane.org;tide", ["word harbour-lane", "word org", "word tide"], ["address harbour-lane.org", "word tide"]),
    # an address is one from its beginning to its end
    ("mailto:t@x.org", ["word mailto", "word t", "word x", "word org"], ["address mailto:t@x.org"]),
    ("x.org:80", ["word x", "word org", "number 80"], ["address x.org:80"]),
    ("x.org?b=c", ["word x", "word org", "word b", "word c"], ["address x.org?b=c"]),
    ("x.org/@nettle", ["word x", "word org", "word nettle"], ["address x.org/@nettle"]),
    ("http://localhost:80/a", ["word http", "word localhost", "number 80", "word a"], ["address http://localhost:80/a"]),
    ("www.x.org/10km", ["address www.x.org/10", "word km"], ["address www.x.org/10km"]),
    ("x.org/B.B.C.", ["word x", "word org", "word B", "word B", "word C"], ["address x.org/B.B.C"]),
    # a mark before it or after it is no part of it
    ("-x.org", ["address -x.org"], ["address x.org"]),
    ("www.x.co.uk/.", ["address www.x.co.uk/."], ["address www.x.co.uk/"]),
    ('href="http://x.org/a"/>', ['address href="http://x.org', "word a"], ["word href", "address http://x.org/a"]),
    # a numeral or a file is none
    ("1.yes/no", ["address 1.yes/no"], ["number 1", "word yes", "word no"]),
    ("3.5/", ["address 3.5/"], ["number 3", "number 5"]),
    ("1/2.no", ["address 1/2.no"], ["number 1", "number 2", "word no"]),
    ("/tide.md", ["address /tide.md"], ["word tide", "word md"]),
]  # fmt: skip


@pytest.mark.parametrize(("stretch", "spacy", "right"), DIFFERENT)
def test_where_spacy_is_not_followed(stretch: str, spacy: list[str], right: list[str]) -> None:
    assert described(stretch, spacy_cut(stretch)) == spacy
    assert described(stretch, cut(stretch)) == right


@settings(max_examples=1000, deadline=None)
@given(st.text(st.sampled_from("abwcomrgB1.@/:-_+'’,…=( é?"), max_size=40).map(lambda text: text.replace(" ", "www.")))
def test_addresses_are_parts_of_the_stretch_in_order(stretch: str) -> None:
    at = 0
    for start, end in addresses(stretch):
        assert at <= start < end <= len(stretch)
        assert stretch[start].isalnum() and re.search(r"[\w/?=@:+'’…(-]\Z", stretch[start:end])
        assert re.search(r"\.\w|://", stretch[start:end])
        at = end
    assert [(c.start, c.end) for c in cut(stretch) if c.kind == "address"] == addresses(stretch)


def test_what_is_longer_than_any_address_is_none() -> None:
    path = "x.org/" + "a" * (LONGEST - 6)
    assert addresses(path) == [(0, LONGEST)]
    assert addresses(path + "a") == []


@pytest.mark.parametrize(
    "piece",
    ["a", "a.", "a..", "a...b", "a_", "_", "-", "-a", ".", "a-", "a@", "@", "a+", "a+.", "a.1-", "1.", "1.1.1.1.", "a:", "a://", "://",
     "http://", "http://-", "http://a@", "http://a:", "www.", "www.-", "mailto:", "a@a.", "a@-", "a'a", "a.A", "(a1)", "a.com", "a.com-"],
)  # fmt: skip
def test_the_time_grows_with_the_length(piece: str) -> None:
    # 200,000 characters take a few hundredths of a second; if each began another search to the end, some minutes
    text = piece * (200_000 // len(piece)) + "!"
    start = time.process_time()
    for _ in ADDRESS.finditer(text):
        pass
    assert time.process_time() - start < 2
