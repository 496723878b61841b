"""Against the spelling appendix of the national curriculum in England.

Source: Department for Education, "National curriculum in England: English programmes of study", September 2013, English
Appendix 1: Spelling (Crown copyright, Open Government Licence v3.0): the example words of years 1 and 2 (those of year 2 are
from memory), the rows of year 1, the common exception words of years 1 and 2, the homophones of years 2 to 4.
"""

import pytest

from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import BLOCKED, DECODABLE
from decodecheck.lexicon.items import GPC, TOGETHER, Item
from decodecheck.phonics.sounds import plain_ipa
from decodecheck.progression.meanings import projected
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve

from .published import BRITISH, Row, combinations, endings, graphemes, held, readings, said, table

YEAR_1 = table("nc_appendix1_year1.tsv")
NAMED = [row for row in YEAR_1 if row["grapheme"]]
YEAR_2 = table("nc_appendix1_year2.tsv")
NAMED_2 = [row for row in YEAR_2 if row["grapheme"]]

# -- the example words of years 1 and 2 ----------------------------------------------------------------------------------------

WITHOUT_THE_ROWS_GRAPHEME: dict[tuple[str, str], str] = {}
"""(word, row) to the reason why the word does not hold the row's grapheme in this program."""


def holds(row: Row) -> bool:
    """Does some reading hold the row's letters with their sound, as a grapheme, a combination or (rows of suffixes) an ending?"""
    wanted = plain_ipa(row["phoneme"])
    for reading in readings(row["word"], BRITISH):
        if any(g == row["grapheme"] and "".join(sounds) == wanted for g, sounds in held(reading, BRITISH)):
            return True
        if (row["grapheme"], wanted) in set(combinations(reading, BRITISH)):
            return True
        suffix = row["row_label"].startswith("adding ")
        if suffix and (f"-{row['grapheme']}", wanted) in set(endings(reading, BRITISH)):
            return True
    return False


def test_the_table_is_whole() -> None:
    # counted in the file: 15 rows are about syllables, a prefix and compounds
    assert (len(YEAR_1), len(NAMED)) == (257, 242)
    # 57 are about endings, suffixes and apostrophes
    assert (len(YEAR_2), len(NAMED_2)) == (155, 98)


def test_year_1_words_hold_the_grapheme_of_their_row() -> None:
    # source: Appendix 1, year 1, columns "Statutory requirements" and "Example words"
    missing = {(row["word"], row["row_label"]) for row in NAMED if not holds(row)}
    assert missing == WITHOUT_THE_ROWS_GRAPHEME.keys()


DIVIDED_OTHERWISE = {
    ("adjust", "j"): "dj is one grapheme",
    ("nostril", "il"): "the i can be heard, so i and l are two graphemes",
    ("television", "s"): "the i marks the sound: si is one grapheme",
}
"""(word, grapheme) of year 2 to the reason why the program divides the word in another way than its row."""


def test_year_2_words_hold_the_grapheme_of_their_row() -> None:
    # source: Appendix 1, year 2, columns "Statutory requirements" and "Example words", from memory
    assert {(row["word"], row["grapheme"]) for row in NAMED_2 if not holds(row)} == DIVIDED_OTHERWISE.keys()


@pytest.mark.parametrize("word", [row["word"] for row in YEAR_1 if row["row_label"].startswith("division of words")])
def test_words_of_two_syllables(word: str) -> None:
    # source: Appendix 1, year 1, "Division of words into syllables"; each example word has two
    assert any(Item.syllables(2) in reading.units[0].alternatives[0] for reading in readings(word, BRITISH))


@pytest.mark.parametrize("word", [row["word"] for row in YEAR_1 if row["row_label"] == "prefix un"])
def test_prefix_un_changes_no_grapheme(word: str) -> None:
    # source: Appendix 1, year 1: "The prefix un- is added to the beginning of a word without any change to the spelling
    # of the root word."
    root = word.removeprefix("un")
    roots = [graphemes(reading) for reading in readings(root, BRITISH)]
    assert roots
    assert any(graphemes(r)[:2] == ["u", "n"] and graphemes(r)[2:] in roots for r in readings(word, BRITISH))


PARTS = {
    "football": ("foot", "ball"),
    "playground": ("play", "ground"),
    "farmyard": ("farm", "yard"),
    "bedroom": ("bed", "room"),
    "blackberry": ("black", "berry"),
}


def test_the_compounds_are_those_of_the_table() -> None:
    assert [row["word"] for row in YEAR_1 if row["row_label"] == "compound words"] == list(PARTS)


@pytest.mark.parametrize(("word", "parts"), PARTS.items())
def test_compounds_keep_the_graphemes_of_their_parts(word: str, parts: tuple[str, str]) -> None:
    # source: Appendix 1, year 1: "Each part of the longer word is spelt as it would be if it were on its own."
    joined = [
        graphemes(one) + graphemes(other)
        for one in readings(parts[0], BRITISH)
        for other in readings(parts[1], BRITISH)
    ]
    assert any(graphemes(reading) in joined for reading in readings(word, BRITISH))


# -- homophones ---------------------------------------------------------------------------------------------------------

SOUNDING_OTHERWISE: dict[str, str] = {}
"""Set of words to the reason why this program does not take it as the table does."""


def test_homophones_sound_alike_and_near_homophones_do_not() -> None:
    # source: Appendix 1, "Homophones and near-homophones" of years 2 and 3 to 4; which are near ones is our column
    otherwise = set()
    for row in table("homophones.tsv"):
        spoken = [{said(reading, BRITISH) for reading in readings(word, BRITISH)} for word in row["set"].split("/")]
        alike = bool(set.intersection(*spoken))
        if not all(spoken) or alike != (row["type"] == "homophone"):
            otherwise.add(row["set"])
    assert otherwise == SOUNDING_OTHERWISE.keys()


# -- common exception words ---------------------------------------------------------------------------------------------

# Everything that the rows of year 1 name, on top of the revision of reception that stands before them.
TAUGHT = """
progression "All of year 1"
accent southern-british
step 1 "reception and year 1"
  teach a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, qu, r, s, t, u, v, w, x, y, z
  teach ch, sh, th, ng
  together nk
  teach ff, ll, ss, zz, ck, tch, ve
  teach -s, -es, -ing, -ed, -er, -est
  teach ai, oi, ay, oy, a-e, e-e, i-e, o-e, u-e
  teach ar, ee, er, ir, ur, oa, oe, ue, ew, igh, or, ore, aw, au, air, are
  teach ea as in leaf and head
  teach oo as in moon and book
  teach ou as in out
  teach ow as in town and grow
  teach ie as in pie and field
  teach ear as in near and bear
  teach y as in funny, at word end
  teach ph, wh
"""

LEFT_OUT = {
    ("ou", "uː"): "named as a stated exception: the only common word ending in ou is you, an exception word itself"
}
"""What a row of year 1 names and the progression does not teach."""

PLAINLY_DECODABLE = {
    "today": "the o is only a weakened one, which counts as its short sound unless a school says otherwise",
    "children": "starred in the source as no exception itself: it stands there for its link with child",
    "every": "said with three syllables it holds er as in sister and y as in funny",
    "everybody": "every, as above, and body",
    "clothes": "clothe with -s: every letter has a taught sound, though many say it without th",
    "house": "s with a silent e, which a progression that never mentions se does not hold back",
    "again": "many say it with ai as in rain; the first a is only a weakened one",
}
"""Common exception words that are decodable with everything of year 1, and why that is right."""


@pytest.fixture(scope="module")
def order() -> TeachingOrder:
    resolved, problems = resolve(TAUGHT, "year1.progression")
    assert problems == []
    return resolved


def taught(order: TeachingOrder, row: Row) -> bool:
    """Does the progression teach what a row names?"""
    grapheme, wanted = row["grapheme"], plain_ipa(row["phoneme"])
    if row["row_label"].startswith("adding "):
        return Item.ending(f"-{grapheme}") in order.item_step
    if (grapheme, wanted) == ("n", "ŋ"):
        return any((item.kind, item.name) == (TOGETHER, "nk") for item in order.item_step)
    for item in order.item_step:
        if item.kind == GPC and item.grapheme == grapheme:
            sound = projected(grapheme, item.sound, BRITISH)
            if plain_ipa(sound) == wanted:
                return True
    return False


def test_the_progression_teaches_every_row_of_year_1(order: TeachingOrder) -> None:
    rows = [row for row in table("nc_appendix1_rows.tsv") if row["year"] == "1" and row["grapheme"]]
    assert len(rows) == 67
    assert {(row["grapheme"], row["phoneme"]) for row in rows if not taught(order, row)} == LEFT_OUT.keys()


def test_exception_words_are_not_plainly_decodable(order: TeachingOrder) -> None:
    # source: Appendix 1, "Common exception words" of years 1 and 2
    judge = Judge(order, 1)
    words = [row["word"] for row in table("nc_exception_words.tsv")]
    assert len(words) == 109
    statuses = {word: judge.judge(word).status for word in words}
    assert {word for word, status in statuses.items() if status == DECODABLE} == PLAINLY_DECODABLE.keys()
    assert {status for word, status in statuses.items() if word not in PLAINLY_DECODABLE} == {BLOCKED}


@pytest.mark.parametrize(
    ("word", "in_the_way"),
    # the grapheme that makes each word an exception; general knowledge of teaching
    [
        ("the", {"e"}), ("of", {"f"}), ("said", {"ai"}), ("says", {"ay", "s"}), ("was", {"a", "s"}), ("you", {"ou"}),
        ("they", {"ey"}), ("she", {"e"}), ("go", {"o"}), ("my", {"y"}), ("there", {"ere"}), ("friend", {"ie"}),
        ("school", {"ch"}), ("push", {"u"}), ("door", {"oor"}), ("find", {"i"}), ("climb", {"i", "mb"}), ("great", {"ea"}),
        ("bath", {"a"}), ("hour", {"h", "our"}), ("sure", {"s", "ure"}), ("eye", {"eye"}), ("could", {"oul"}),
        ("who", {"wh", "o"}), ("many", {"a"}), ("people", {"eo", "le"}), ("half", {"al"}), ("money", {"o", "ey"}),
    ],
)  # fmt: skip
def test_what_makes_a_word_an_exception(order: TeachingOrder, word: str, in_the_way: set[str]) -> None:
    assert {blocker.grapheme for blocker in Judge(order, 1).judge(word).blockers} == in_the_way
