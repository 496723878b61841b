"""Against the table of consonant spellings of the Common Core State Standards.

Source: National Governors Association Center for Best Practices and Council of Chief State School Officers, "Common Core
State Standards for English Language Arts & Literacy", 2010, Appendix A, Figure 8: phonemes with common spellings and
example words. (c) Copyright 2010 National Governors Association Center for Best Practices and Council of Chief State School
Officers. All rights reserved.
"""

from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.sounds import plain_ipa

from .published import AMERICAN, Row, folded, held, readings, table

ROWS = table("ccss_consonants.tsv")

DIVIDED_OTHERWISE = {
    ("folk", "lk"): "the silent l belongs to the vowel: f ol k",
    ("calf", "lf"): "the silent l belongs to the vowel: c al f",
    ("quiet", "q"): "qu is one grapheme",
    ("queen", "u"): "qu is one grapheme",
    ("use", "u"): "the vowel letter and the e are one split digraph, u-e",
    ("breathe", "th"): "the e belongs to the consonant: the, as ve in have",
    ("mission", "ss"): "the i marks the sound: ssi is one grapheme",
}
"""(word, grapheme) to the reason why the program divides the word in another way than the table."""


def consonant(row: Row) -> str:
    """The row's consonant in folded IPA; the sound at the start of where is that of wear for most speakers."""
    return plain_ipa(row["phoneme_ipa_us"]).replace("ʍ", "w")


def spells(sounds: tuple[str, ...], wanted: str) -> bool:
    """Is the consonant among the sounds of a grapheme? er, ur, ir spell an r together with a vowel."""
    return any(sound == wanted or (wanted == "r" and sound.endswith("r")) for sound in sounds)


def holds(row: Row) -> bool:
    """Does some reading of the row's word hold its grapheme with its consonant?"""
    return any(
        grapheme == row["grapheme"] and spells(sounds, consonant(row))
        for reading in readings(row["word"], AMERICAN)
        for grapheme, sounds in held(reading, AMERICAN)
    )


def test_the_table_is_whole() -> None:
    # counted in the file
    assert (len(ROWS), sum(bool(row["word"]) for row in ROWS)) == (82, 81)


def test_example_words_hold_their_grapheme() -> None:
    missing = {(row["word"], row["grapheme"]) for row in ROWS if row["word"] and not holds(row)}
    assert missing == DIVIDED_OTHERWISE.keys()


def test_example_words_hold_their_consonant() -> None:
    # however it is divided, the word must hold the consonant
    for row in ROWS:
        if row["word"]:
            sounds = [s for r in readings(row["word"], AMERICAN) for _, s in held(r, AMERICAN)]
            assert any(spells(s, consonant(row)) for s in sounds), row["word"]


def test_spellings_without_an_example_word_are_in_the_inventory() -> None:
    for row in ROWS:
        if not row["word"]:
            listed = inventory().by_grapheme[row["grapheme"]]
            assert any(spells(folded(c.grapheme, c.sound, False, AMERICAN), consonant(row)) for c in listed)
