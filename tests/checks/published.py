"""Read the published tables under tests/data/published, and ask what the lexicon holds of a word."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from decodecheck.lexicon.items import ENDING, GPC, TOGETHER, Item
from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.lexicon.store import Reading
from decodecheck.phonics.sounds import Sound, plain_ipa, project
from decodecheck.tables import read_table

DATA = Path(__file__).parent.parent / "data" / "published"
BRITISH, AMERICAN = "southern-british", "general-american"

Row = dict[str, str]
Held = tuple[str, tuple[str, ...]]


def table(name: str) -> list[Row]:
    """All rows of a published table; the first line of each file names the document it comes from."""
    return list[dict[str, str]](read_table(DATA / name))


def readings(word: str, accent: str) -> tuple[Reading, ...]:
    """All readings of a word as the program looks it up."""
    return Lookup(accent).find(plain_spelling(word)).readings


def graphemes(reading: Reading) -> list[str]:
    """The graphemes of a reading in order."""
    return [s.grapheme for s in reading.segments]


def folded(grapheme: str, sound: Sound, linked: bool, accent: str) -> tuple[str, ...]:
    """The sounds of a grapheme in folded IPA."""
    return tuple(plain_ipa(ipa) for ipa in project(grapheme, sound, linked, accent))


def said(reading: Reading, accent: str) -> str:
    """A whole reading in folded IPA."""
    return "".join(ipa for s in reading.segments for ipa in folded(s.grapheme, s.sound, s.linked, accent))


def held(reading: Reading, accent: str) -> Iterator[Held]:
    """Every grapheme of a reading with its sounds: those of our segmentation, then those of other accepted ones."""
    for s in reading.segments:
        yield s.grapheme, folded(s.grapheme, s.sound, s.linked, accent)
    for unit in reading.units:
        for alternative in unit.alternatives:
            # where a guard stands, the items stand in for others: that is no segmentation of its own
            if not any(item.guard for item in alternative):
                yield from _named(alternative, accent)


def _named(items: Iterable[Item], accent: str) -> Iterator[Held]:
    for item in items:
        if item.kind == GPC:
            yield item.grapheme, folded(item.grapheme, item.sound, False, accent)


def endings(reading: Reading, accent: str) -> Iterator[tuple[str, str]]:
    """Every ending of a reading with what its letters say: ("-ed", "t")."""
    return _spoken(reading, accent, ENDING)


def combinations(reading: Reading, accent: str) -> Iterator[tuple[str, str]]:
    """Every combination of a reading with what its letters say: ("tion", "ʃən")."""
    return _spoken(reading, accent, TOGETHER)


def _spoken(reading: Reading, accent: str, kind: str) -> Iterator[tuple[str, str]]:
    for unit in reading.units:
        spoken = "".join(ipa for g, sound, linked, _ in unit.forms for ipa in folded(g, sound, linked, accent))
        for alternative in unit.alternatives:
            for item in alternative:
                if item.kind == kind:
                    yield item.name, spoken
