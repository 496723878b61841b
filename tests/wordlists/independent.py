"""A reading of our own of the rule files, to hold invented words against: nothing of the program's generator is used here."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from functools import cache
from itertools import product
from pathlib import Path

import wordfreq

ROOT = Path(__file__).parents[2]
RULES = ROOT / "rules"
PUBLISHED = ROOT / "tests" / "data" / "published"


def rows(path: Path) -> Iterator[dict[str, str]]:
    lines = (x for x in path.read_text(encoding="utf-8").splitlines() if not x.startswith("#"))
    return csv.DictReader(lines, delimiter="\t", quoting=csv.QUOTE_NONE)


@cache
def section_rows() -> tuple[dict[str, str], ...]:
    """Source: Standards and Testing Agency, "Year 1 phonics screening check: structure and content", 2012."""
    return tuple(rows(PUBLISHED / "phonics_screening_check.tsv"))


def graphemes_of(section: int) -> set[str]:
    return {r["value"] for r in section_rows() if r["kind"] == "gpc" and int(r["section"]) <= section}


def structures_of(section: int) -> set[str]:
    return {r["value"] for r in section_rows() if r["kind"] == "structure" and r["section"] == str(section)}


def written(graphemes: list[str]) -> str:
    """What graphemes spell: a split digraph goes around the grapheme after it."""
    text, tail = "", ""
    for grapheme in graphemes:
        head, _, later = grapheme.partition("-")
        text += head + tail
        tail = later
    return text + tail


def plain(ipa: str) -> str:
    """A pronunciation without stress, length, spaces and the marks of one accent for what others write otherwise."""
    return re.sub("[ˈˌː .]", "", ipa).replace("ɹ", "r").replace("ɛ", "e").replace("g", "ɡ")


@cache
def said_by_words(lexicon: str) -> dict[str, set[str]]:
    """The words of a lexicon ("british", "american") by each pronunciation, words added by hand among them."""
    found: dict[str, set[str]] = {}
    for row in rows(RULES / "pronunciations" / f"{lexicon}.tsv"):
        found.setdefault(plain(row["pronunciation"]), set()).add(row["word"])
    for name in ("words", "names"):
        for row in rows(RULES / "supplement" / f"{name}.tsv"):
            for said in (row[lexicon] or "").split(" | "):
                found.setdefault(plain(said), set()).add(row["word"])
    return found


@cache
def spellings() -> frozenset[str]:
    """Every word that is written down in a rule file."""
    found = set()
    for path in (
        *(RULES / "pronunciations").glob("*.tsv"),
        RULES / "supplement" / "words.tsv",
        RULES / "supplement" / "names.tsv",
        RULES / "frequency" / "zipf.tsv",
    ):
        found |= {row["word"].lower() for row in rows(path)}
    return frozenset(found)


@cache
def counted() -> frozenset[str]:
    return frozenset(wordfreq.get_frequency_dict("en", "large"))


@cache
def rude() -> tuple[str, ...]:
    return tuple(row["word"] for row in rows(RULES / "unfit_words.tsv") if row["kind"] == "unsuitable")


@cache
def rude_sounds(lexicon: str) -> frozenset[tuple[str, ...]]:
    """What rude words sound like, sound by sound; a vowel that glides to ə is one."""
    wanted = set(rude())
    return frozenset(
        tuple(re.sub("(ɪ|e|ʊ|i|u) ə", r"\1ə", " ".join(map(plain, row["pronunciation"].split(" ")))).split(" "))
        for row in rows(RULES / "pronunciations" / f"{lexicon}.tsv")
        if row["word"] in wanted
    )


@cache
def letters_that_begin_and_end() -> tuple[frozenset[str], frozenset[str]]:
    """The consonant letters before the first vowel letter, and what stands from the last but one vowel letters on, of three words."""
    begin: dict[str, set[str]] = {}
    end: dict[str, set[str]] = {}
    for row in rows(RULES / "pronunciations" / "british.tsv"):
        if row["word"].isalpha() and not row["name"]:
            begin.setdefault(beginning(row["word"]), set()).add(row["word"])
            end.setdefault(ending(row["word"]), set()).add(row["word"])
    return tuple(frozenset(x for x, words in found.items() if len(words) >= 3) for found in (begin, end))  # type: ignore[return-value]


def beginning(word: str) -> str:
    match = re.match("(qu|[^aeiouy]|^y)*", word)
    return match[0] if match else ""


def ending(word: str) -> str:
    """The last vowel letters with the consonants after them, and the e after those."""
    match = re.search("[aeiouy]+[^aeiouy]*e?$", word.lstrip("y").replace("qu", "q"))
    return match[0] if match else ""


def within_one(one: tuple[str, ...] | str, other: tuple[str, ...] | str) -> bool:
    """Is a sequence the same as another, or one change, one more or one less away? Every such change is tried."""
    if one == other:
        return True
    a, b = tuple(one), tuple(other)
    if len(a) == len(b):
        return sum(x != y for x, y in zip(a, b)) == 1
    if abs(len(a) - len(b)) != 1:
        return False
    longer, shorter = (a, b) if len(a) > len(b) else (b, a)
    return any(longer[:i] + longer[i + 1 :] == shorter for i in range(len(longer)))


@cache
def said_by() -> dict[str, set[str]]:
    """The sound codes that the inventory has for each grapheme."""
    found: dict[str, set[str]] = {}
    for row in rows(RULES / "inventory.tsv"):
        found.setdefault(row["grapheme"], set()).add(row["sound"])
    return found


@cache
def ipa_of(accent: str) -> dict[str, str]:
    return {row["code"]: row[accent] for row in rows(RULES / "sounds.tsv")}


def possible(graphemes: list[str], accent: str) -> set[str]:
    """Everything that graphemes can say by the inventory, however rare."""
    choices = [
        {"".join(ipa_of(accent)[code] for code in sound.split("+")) for sound in said_by()[g] if sound != "-"}
        for g in graphemes
    ]
    return {plain("".join(x)) for x in product(*choices)}
