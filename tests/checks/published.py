"""Read the published tables under tests/data/published, and ask what the lexicon holds of a word."""

from collections.abc import Iterator
from pathlib import Path

from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.lexicon.store import Reading
from decodecheck.lexicon.units import Unit
from decodecheck.phonics.sounds import plain_ipa, project
from decodecheck.tables import read_table

DATA = Path(__file__).parent.parent / "data" / "published"
BRITISH, AMERICAN = "southern-british", "general-american"

Row = dict[str, str]


def table(name: str) -> list[Row]:
    """All rows of a published table; the first comment line of the file names the document it comes from."""
    return read_table(DATA / name)


def readings(word: str, accent: str) -> tuple[Reading, ...]:
    """All readings of a word as the program looks it up."""
    return Lookup(accent).find(plain_spelling(word)).readings


def said(reading: Reading, accent: str) -> str:
    """The whole reading in folded IPA."""
    return plain_ipa("".join(ipa for s in reading.segments for ipa in project(s.grapheme, s.sound, s.linked, accent)))


def held(reading: Reading, accent: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every grapheme of a reading with its sounds in folded IPA; those of other accepted segmentations come after ours."""
    for s in reading.segments:
        yield s.grapheme, tuple(plain_ipa(ipa) for ipa in project(s.grapheme, s.sound, s.linked, accent))
    for item in items(reading):
        kind, *rest = item.split("|")
        # a guard beside the item says that it only stands in for another one: no segmentation of its own
        if kind == "gpc":
            sound = tuple(rest[1].split("+")) if rest[1] else ()
            yield rest[0], tuple(plain_ipa(ipa) for ipa in project(rest[0], sound, False, accent))


def items(reading: Reading) -> Iterator[str]:
    """The items of those alternatives that no guard holds back."""
    for unit in reading.units:
        for alternative in unit.alternatives:
            if not any(item in ("weak", "plain-n") or item.startswith(("single|", "letters|")) for item in alternative):
                yield from alternative


def ending_units(reading: Reading, ending: str, accent: str) -> Iterator[str]:
    """What the letters of an ending say in a reading, in folded IPA; nothing where it has no such ending."""
    for unit in reading.units:
        if any(f"ending|{ending}" in alternative for alternative in unit.alternatives):
            yield unit_ipa(unit, accent)


def unit_ipa(unit: Unit, accent: str) -> str:
    """The sounds of a unit in folded IPA."""
    return plain_ipa("".join(ipa for g, sound, linked, _ in unit.forms for ipa in project(g, sound, linked, accent)))
