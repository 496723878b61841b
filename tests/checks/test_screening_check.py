"""Against the correspondences and word structures of the phonics screening check in England.

Source: Standards and Testing Agency, "Year 1 phonics screening check: structure and content", 2012, after the assessment
framework of February 2012 (Crown copyright, Open Government Licence v3.0): what its sections 1 and 2 may ask.
"""

import pytest

from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import BLOCKED, DECODABLE
from decodecheck.lexicon.items import GPC, Item
from decodecheck.progression.meanings import choices
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve

from .published import BRITISH, Row, table

ROWS = [row for row in table("phonics_screening_check.tsv") if row["kind"] in ("gpc", "structure")]
GRAPHEMES = [row["value"] for row in ROWS if row["kind"] == "gpc"]
# The row on split digraphs and trigraphs speaks of graphemes inside CVC, not of a structure of its own.
STRUCTURES = {
    row["value"]: "2 syllables" if row["value"] == "two-syllable words" else row["value"]
    for row in ROWS
    if row["kind"] == "structure" and not row["value"].startswith("CVC with ")
}


def statement(row: Row) -> str:
    """A row as a statement of a progression; where the bare grapheme asks for a sound, all that it asks about."""
    if row["kind"] == "structure":
        return f"structure {STRUCTURES[row['value']]}"
    asked = [c.key_word for c in choices(row["value"], BRITISH) if c.bare == "ask"]
    return f"teach {row['value']}" + (f" as in {' and '.join(asked)}" if len(asked) > 1 else "")


def progression() -> str:
    """Sections 1 and 2 as steps 1 and 2."""
    lines = ['progression "Screening check"', f"accent {BRITISH}"]
    for section in ("1", "2"):
        lines.append(f"step {section}")
        rows = [row for row in ROWS if row["section"] == section]
        lines += [f"  {statement(row)}" for row in rows if row["kind"] == "gpc" or row["value"] in STRUCTURES]
    return "\n".join(lines) + "\n"


@pytest.fixture(scope="module")
def order() -> TeachingOrder:
    resolved, problems = resolve(progression(), "check.progression")
    assert problems == []
    return resolved


def test_the_table_is_whole() -> None:
    # counted in the file: 40 graphemes in section 1, 24 more in section 2; q is printed as q(u)
    assert [sum(r["section"] == s and r["kind"] == "gpc" for r in ROWS) for s in "12"] == [40, 24]
    assert list(STRUCTURES.values()) == ["CVC", "VCC", "CCVC", "CVCC", "CCVCC", "CCCVC", "CCCVCC", "2 syllables"]


@pytest.mark.parametrize("grapheme", GRAPHEMES)
def test_each_grapheme_is_taught(order: TeachingOrder, grapheme: str) -> None:
    assert any(item.kind == GPC and item.grapheme == grapheme for item in order.item_step)


@pytest.mark.parametrize("structure", STRUCTURES.values())
def test_each_structure_is_taught(order: TeachingOrder, structure: str) -> None:
    item = Item.syllables(2) if structure == "2 syllables" else Item.shape(structure)
    assert [m.keys for m in order.mentions if m.label == structure] == [frozenset((item,))]


# Our own words, read by the list of the section: no word of a past check.
SECTION_1 = [
    "chin",
    "sheep",
    "ring",
    "thin",
    "quiz",
    "fox",
    "duck",
    "buzz",
    "bell",
    "elf",
    "and",
    "ill",
    "stop",
    "clap",
    "milk",
    "jump",
    "moon",
    "book",
    "fork",
    "farm",
    "coin",
    "brick",
]
SECTION_2 = {
    # a grapheme of section 2
    "rain": {"ai"}, "cake": {"a-e"}, "time": {"i-e"}, "home": {"o-e"}, "cube": {"u-e"}, "when": {"wh"}, "light": {"igh"},
    "chair": {"air"}, "leaf": {"ea"}, "head": {"ea"}, "town": {"ow"}, "snow": {"ow"}, "chief": {"ie"}, "toy": {"oy"},
    # a structure of section 2
    "stamp": {"CCVCC"}, "string": {"CCCVC"}, "strand": {"CCCVCC"}, "rabbit": {"2 syllables"}, "sunset": {"2 syllables"},
    # both
    "pillow": {"2 syllables", "ow"},
}  # fmt: skip
NEITHER = {"kettle": {"le"}, "photo": {"o"}, "knee": {"kn"}, "bath": {"a"}, "some": {"o-e"}, "city": {"c", "y"}}


@pytest.mark.parametrize("word", SECTION_1)
def test_words_of_section_1(order: TeachingOrder, word: str) -> None:
    assert Judge(order, 1).judge(word).status == DECODABLE


@pytest.mark.parametrize(("word", "in_the_way"), SECTION_2.items())
def test_words_of_section_2(order: TeachingOrder, word: str, in_the_way: set[str]) -> None:
    verdict = Judge(order, 1).judge(word)
    assert (verdict.status, {b.grapheme for b in verdict.blockers}) == (BLOCKED, in_the_way)
    assert Judge(order, 2).judge(word).status == DECODABLE


@pytest.mark.parametrize(("word", "in_the_way"), NEITHER.items())
def test_words_of_neither_section(order: TeachingOrder, word: str, in_the_way: set[str]) -> None:
    # source: scoring guidance: in a real word only the sound that is right for it counts
    verdict = Judge(order, 2).judge(word)
    assert (verdict.status, {b.grapheme for b in verdict.blockers}) == (BLOCKED, in_the_way)
