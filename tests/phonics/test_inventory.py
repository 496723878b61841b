"""The inventory linted like code."""

import unicodedata
from collections import Counter

import pytest

from decodecheck.lexicon.items import GPC, TOGETHER
from decodecheck.lexicon.lookup import Lookup
from decodecheck.lexicon.store import lexicon, tables
from decodecheck.phonics.inventory import Correspondence, also_accepted, inventory, together
from decodecheck.phonics.sounds import ACCENTS, project, sound_codes
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

LOOKUPS = {accent: Lookup(accent) for accent in ("southern-british", "general-american")}


def keys_of(word: str) -> set[str]:
    """Correspondences in any reading of a word, in either accent, in our segmentation or another accepted one."""
    found: set[str] = set()
    for lookup in LOOKUPS.values():
        for reading in lookup.readings(word.lower()):
            found |= {s.key for s in reading.segments}
            for unit in reading.units:
                for alternative in unit.alternatives:
                    found |= {f"{i.grapheme}|{'+'.join(i.sound)}" for i in alternative if i.kind == GPC}
    return found


def test_every_row_of_the_file_is_read() -> None:
    lines = (rules_folder() / "inventory.tsv").read_text(encoding="utf-8").splitlines()
    _, *rows = [line.split("\t") for line in lines if line and not line.startswith("#")]
    assert [(c.grapheme, c.key_word) for c in inventory().all] == [(row[0], row[2]) for row in rows]
    assert len(inventory().by_grapheme) == len({row[0] for row in rows})
    # as many as there were when this was written, but for a few
    assert len(rows) >= 493 - 5


@pytest.mark.parametrize("correspondence", inventory().all, ids=lambda c: c.key)
def test_key_word_aligns_to_its_row(correspondence: Correspondence) -> None:
    if correspondence.grapheme == "'":
        assert "'" in correspondence.key_word
        return
    assert correspondence.key in keys_of(correspondence.key_word)


def test_rows_are_unique_normal_and_known() -> None:
    assert not [k for k, n in Counter(c.key for c in inventory().all).items() if n > 1]
    for c in inventory().all:
        assert c.grapheme == unicodedata.normalize("NFC", c.grapheme).lower()
        assert all(code in sound_codes() for code in c.sound)
        assert c.place in ("", "final", "late", "ending")
        assert 1 <= c.cost <= 45


def test_rows_are_sorted() -> None:
    rows = read_table(rules_folder() / "inventory.tsv")
    order = [(r["grapheme"].replace("-", "~"), int(r["cost"]), r["sound"]) for r in rows]
    assert order == sorted(order)


def test_a_grapheme_that_asks_has_a_choice() -> None:
    for grapheme, rows in inventory().by_grapheme.items():
        asked = [c for c in rows if c.bare == "ask"]
        assert len(asked) != 1, grapheme


def test_bare_sounds_differ_only_where_one_lesson_teaches_both() -> None:
    # design decision, common practice, no source: bare `th` is both of thin and this, `se` both of house and cheese
    for grapheme in ("th", "se", "x", "er", "ue", "ew", "u-e"):
        assert sum(c.bare == "yes" for c in inventory().by_grapheme[grapheme]) == 2, grapheme


def test_every_sound_has_every_accent() -> None:
    for c in inventory().all:
        for accent in ACCENTS:
            assert len(project(c.grapheme, c.sound, False, accent)) == len(c.sound)


def test_combinations_and_other_segmentations_are_of_listed_correspondences() -> None:
    for combination in together().values():
        for parts in combination.parts:
            assert all(key in inventory().by_key for key in parts), combination.name
    for canonical, other in also_accepted():
        assert all(key in inventory().by_key for key in (*canonical, *other)), (canonical, other)


@pytest.mark.parametrize("row", read_table(rules_folder() / "together.tsv"), ids=lambda r: r["correspondences"])
def test_combination_occurs_in_its_key_word(row: dict[str, str]) -> None:
    alternatives = {
        item
        for lookup in LOOKUPS.values()
        for reading in lookup.readings(row["key_word"].lower())
        for unit in reading.units
        for alternative in unit.alternatives
        for item in alternative
    }
    assert any(item.kind == TOGETHER and item.name == row["name"] for item in alternatives)


@pytest.mark.parametrize("row", read_table(rules_folder() / "also_accepted.tsv"), ids=lambda r: r["segmentation"])
def test_other_segmentation_is_found_in_its_example(row: dict[str, str]) -> None:
    wanted = tuple(row["segmentation"].split(" "))
    found = False
    for lookup in LOOKUPS.values():
        for reading in lookup.readings(row["example"]):
            keys = [s.key for s in reading.segments]
            found = found or any(tuple(keys[i : i + len(wanted)]) == wanted for i in range(len(keys)))
    assert found


def test_rare_rows_say_why_they_are_kept() -> None:
    frequent: dict[int, int] = {}
    known = tables()
    for name in ("british", "american"):
        lex = lexicon(name)
        for number in range(known.count):
            zipf = 100 if known.is_name[number] else known.zipf[number]
            for sense in range(lex.word_sense[number], lex.word_sense[number + 1]):
                for reading in range(lex.sense_reading[sense], lex.sense_reading[sense + 1]):
                    for unit in lex.units[lex.reading_unit[reading] : lex.reading_unit[reading + 1]]:
                        frequent[unit] = max(frequent.get(unit, 0), zipf)
    best: dict[str, int] = {}
    for unit, zipf in frequent.items():
        for grapheme, sound, _, _ in known.unit(unit).forms:
            key = f"{grapheme}|{'+'.join(sound)}"
            best[key] = max(best.get(key, 0), zipf)
    notes = {
        f"{r['grapheme']}|{'' if r['sound'] == '-' else r['sound']}": r["note"]
        for r in read_table(rules_folder() / "inventory.tsv")
    }
    # Zipf 3 is once in a million words
    assert [key for key, zipf in best.items() if key in notes and zipf < 297 and not notes[key]] == []
