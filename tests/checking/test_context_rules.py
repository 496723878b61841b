"""The rules made ready say what the rules say that are read one by one (`plain_context`)."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.checking.context import Choice, Cues, choose, cues, neighbours
from decodecheck.checking.context_rules import FAR, OPTIONS, OWN, Ballot, Condition, Rule, ballot, classes, read_rules
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table
from tests.checking import plain_context
from tests.data.folder import DATA

HETERONYMS = sorted(cues())
POS = ["NOUN", "VERB", "PAST", "PART", "ADJ", "ADV", "PROPN"]
QUOTED = sorted({o[1:-1] for r in read_rules() for c in r.conditions for o in c.options if o.startswith('"')})
CUED = {
    row["word"]: sorted(set(re.findall(r"[a-z'-]+", row["words"])))
    for row in read_table(rules_folder() / "context" / "cues.tsv")
}
WORDS = st.one_of(
    # a class first, so that small classes are drawn as often as large ones
    st.sampled_from(sorted(classes())).flatmap(lambda name: st.sampled_from(sorted(classes()[name]))),
    st.sampled_from(QUOTED),
    st.sampled_from(
        ["donkey", "nets", "boats'", "rope's", "glass", "bus", "painted", "red", "sing", "painting", "softly"]
    ),
    st.sampled_from(["Omar", "Tilda's", "NETTLE", "Mr", "Élan", "ΟΔΟΣ", "İz", "x", "7", "B12", "²"]),
)
GAPS = st.sampled_from(
    [" "] * 12
    + [", ", ",", " — ", "--", " -- ", "-", "–", ". ", "! ", "? ", "; ", ": ", "… ", ".", "\n", "\r\n", "\n\n", "\n \t\n", "\r\n\r\n"]
    + [" “", "” ", ' "', '" ', " '", "' ", " ‘", "’ ", ",’ ", "!' ", ",' said ", "'", "’", " (", ") ", "_", " * "]
)  # fmt: skip


@st.composite
def passages(draw: st.DrawFn) -> tuple[str, int, int]:
    """A text, and where in it a heteronym is."""
    word = draw(st.sampled_from(HETERONYMS))
    lower = st.one_of(WORDS, st.sampled_from(CUED[word]))
    words = st.one_of(lower, lower, lower.map(str.capitalize))
    pieces: list[str] = []
    for _ in range(draw(st.integers(0, 7))):
        pieces += [draw(words), draw(GAPS)]
    before = "".join(pieces)
    if draw(st.integers(0, 3)) == 0:
        word = word.capitalize()
    pieces = [word]
    for _ in range(draw(st.integers(0, 5))):
        pieces += [draw(GAPS), draw(words)]
    text = before + "".join(pieces) + draw(st.sampled_from(["", ".", ",", ", ", "!’", "\n\n", " —"]))
    return text, len(before), len(before) + len(word)


@st.composite
def senses(draw: st.DrawFn, word: str) -> list[Choice]:
    labels = sorted({own.sense for own in cues()[word]} | {"other"})
    return [
        Choice(label, frozenset(draw(st.sets(st.sampled_from(POS), max_size=3))), draw(st.integers(0, 4)) == 0)
        for label in labels
    ]


@settings(max_examples=1500, deadline=None)
@given(passages(), st.sampled_from([1, 5, 30, 160]), st.data())
def test_the_fast_way_says_what_the_plain_way_says(
    place: tuple[str, int, int], reach: int, data: st.DataObject
) -> None:
    text, start, end = place
    around = neighbours(text, start, end, reach)
    assert around == plain_context.neighbours(text, start, end, reach)
    word = text[start:end].lower()
    choices = data.draw(senses(word))
    tag = data.draw(st.sampled_from(["", "", *POS]))
    assert choose(word, around, choices, tag) == plain_context.choose(word, around, choices, tag)
    votes = plain_context.votes_for(word, around)
    assert ballot().votes(word, around.before, around.after, around.names) == votes


ASKED = st.one_of(
    st.sampled_from(sorted(OPTIONS)), st.sampled_from(sorted(classes())), st.sampled_from([f'"{w}"' for w in QUOTED])
)
CONDITIONS = st.builds(
    Condition,
    st.sampled_from([-4, -3, -2, -1, 1, 2, 3, FAR, OWN]),
    st.lists(ASKED, min_size=1, max_size=3).map(tuple),
    st.booleans(),
)
RULES = st.lists(
    st.builds(
        Rule,
        st.lists(CONDITIONS, min_size=1, max_size=3).map(tuple),
        st.tuples(st.tuples(st.sampled_from(POS), st.sampled_from([1.0, 2.5, -3.0]))),
    ),
    min_size=1,
    max_size=4,
)


@settings(max_examples=500, deadline=None)
@given(passages(), RULES)
def test_any_rule_means_what_it_says(place: tuple[str, int, int], rules: list[Rule]) -> None:
    text, start, end = place
    word, around = text[start:end].lower(), neighbours(text, start, end)
    votes: dict[str, float] = {}
    for rule in rules:
        asked = [plain_context.Condition(c.offset, c.options, c.denied) for c in rule.conditions]
        if all(plain_context.holds(c, word, around) for c in asked):
            for pos, weight in rule.votes:
                votes[pos] = votes.get(pos, 0.0) + weight
    assert Ballot(rules, classes()).votes(word, around.before, around.after, around.names) == votes


@pytest.mark.parametrize(
    "name", ["heteronym_sentences.tsv", "heteronym_sentences_worked.tsv", "published/heteronyms.tsv"]
)
def test_sentences_around_which_nothing_is_lost(name: str) -> None:
    for row in read_table(DATA / name):
        text = row["sentence"]
        for match in re.finditer(r"\w+", text):
            around = neighbours(text, *match.span())
            assert around == plain_context.neighbours(text, *match.span())
            assert ballot().votes(
                match[0].lower(), around.before, around.after, around.names
            ) == plain_context.votes_for(match[0].lower(), around)


def test_a_cue_at_no_place_is_refused() -> None:
    with pytest.raises(ValueError, match="invalid literal"):
        Cues("oar", 1.0, ("boat", "near:lake"))
