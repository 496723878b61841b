"""Our segmentations against the hand-made gold set (tests/data/gold_segmentations.tsv, made by hand for the project)."""

from decodecheck.lexicon.lookup import Lookup
from decodecheck.phonics.notes import other_segmentations
from decodecheck.phonics.sounds import project
from decodecheck.tables import read_table
from tests.data.folder import DATA

ACCENT = "southern-british"


def graphemes_agree(word: str, row: dict[str, str], lookup: Lookup) -> bool:
    wanted = {row["graphemes"], *(a.strip() for a in row["also"].split("|") if a.strip())}
    for reading in lookup.readings(word):
        ours = {" ".join(s.grapheme for s in reading.segments), *other_segmentations(reading.segments)}
        if ours & wanted:
            return True
    return False


def sounds_agree(word: str, row: dict[str, str], lookup: Lookup) -> bool:
    wanted = "".join(row["sounds"].replace("+", "").replace("0", "").split())
    return any(
        "".join(i for s in r.segments for i in project(s.grapheme, s.sound, s.linked, ACCENT)) == wanted
        for r in lookup.readings(word)
    )


def test_graphemes_of_the_gold_set() -> None:
    lookup = Lookup(ACCENT)
    rows = read_table(DATA / "gold_segmentations.tsv")
    assert len(rows) >= 600
    wrong = [r["word"] for r in rows if not graphemes_agree(r["word"].split("#")[0], r, lookup)]
    print(f"gold set: {len(rows) - len(wrong)} of {len(rows)} segmentations agree")
    assert sorted(wrong) == sorted(EXCEPTIONS)


EXCEPTIONS: dict[str, str] = {"debris": "ours joins the silent s to its vowel: is, as in chassis"}


def test_sounds_of_the_gold_set() -> None:
    lookup = Lookup(ACCENT)
    rows = read_table(DATA / "gold_segmentations.tsv")
    same = sum(sounds_agree(r["word"].split("#")[0], r, lookup) for r in rows)
    print(f"gold set: {same} of {len(rows)} pronunciations agree to the letter")
    assert same >= 0.94 * len(rows)
