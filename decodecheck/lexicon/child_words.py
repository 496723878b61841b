"""How common a word is likely to be in books for young children, estimated from parts that can be seen.

The estimate is on the Zipf scale (`lexicon/frequency.py`) and is one sum:

    child_zipf = start + general * (how common the word is in general)
                       + books * log10(1 + how often it stands in seven old books for children, with its regular forms)
                       + syllable * (its syllables beyond the first)
                       + base * (by how much the commonest word in it is commoner than itself: helpful has help; no regular form)
                       + family * log10(1 + how many words of the lexicon are made with it), of at most 9 words
                       + learned, if it has three syllables or more and a learned ending (-tion, -ment, -ous)
                       + everyday, if it is on a list of words of home and school, or is a form of one
                       + what is due to its broad category (noun.animal, verb.social)

`rules/child/weights.tsv` has the weights, each with its reason, `rules/child/` the parts. General frequency comes from text for
adults, the books are old, and nobody asked a child: it is an estimate that puts words in an order, no measurement.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from math import log10

from decodecheck.lexicon.frequency import zipf_frequency
from decodecheck.lexicon.items import ENDING
from decodecheck.lexicon.store import Reading, Tables, tables
from decodecheck.phonics.sounds import has_vowel
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

START, GENERAL, BOOKS, SYLLABLE, BASE, FAMILY, LEARNED, EVERYDAY = PARTS = (
    "start", "general", "books", "syllable", "base", "family", "learned", "everyday",
)  # fmt: skip
"""The parts that every word has or may have, by the names of their weights; the other weights are those of categories."""
UNKNOWN = "none"
"""The category of words that have none."""
FUNCTION = "function"
"""The category of words whose meaning is their grammar: WordNet has a few of them, and only as chemical elements and the like (he, at, in)."""
LARGEST_FAMILY = 9
MOST_SYLLABLES = 5
MOST_BY_BASE = 200
LEAST, MOST = 1, 900
"""The estimate in hundredths lies between these."""
UNLISTED = 150
"""What is taken for the frequency, in hundredths, of a word of the lexicon that the list of frequencies leaves out as too rare."""
_LEARNED = re.compile(
    r".*(?:tion|sion|ment|ity|ism|[ae]nce|[ae]ncy|cy|ure|tude|ology|itis|ous|ive|ical?|al|ary|ate|i[sz]e|ify|oid|ia|us|um|i[ns]|i[dnt]e|ose)s?\Z"
)


@dataclass(frozen=True, slots=True)
class Evidence:
    """What an estimate is made from: general frequency and by how much a part of the word is commoner, in hundredths of the
    Zipf scale; how often it stands in the books; category; whether it is on the list of everyday words; syllables; how many
    words are made with it."""

    word: str
    general: int
    syllables: int
    count: int = 0
    base: int = 0
    family: int = 0
    category: str = UNKNOWN
    everyday: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """One part of an estimate: the name of its weight, what it goes by, and what it adds on the Zipf scale."""

    name: str
    what: str
    adds: float


@cache
def weights() -> dict[str, float]:
    """The weights by the names of their parts, categories among them (`rules/child/weights.tsv`)."""
    return {row["part"]: float(row["weight"]) for row in read_table(rules_folder() / "child" / "weights.tsv")}


@cache
def categories() -> tuple[str, ...]:
    """The categories in the order of the weights; the compiled lexicon numbers them so."""
    return tuple(name for name in weights() if name not in PARTS)


def parts(evidence: Evidence) -> list[Part]:
    """The parts of which an estimate is the sum; those that add nothing are left out."""
    return [part for part in _parts(evidence) if part.adds]


def _parts(e: Evidence) -> Iterator[Part]:
    w = weights()
    yield Part(START, "every word", w[START])
    yield Part(GENERAL, f"Zipf {e.general / 100:.2f} in general English", w[GENERAL] * e.general / 100)
    times = f"{e.count} times" if e.count != 1 else "once"
    yield Part(BOOKS, f"{times} in old books for children", w[BOOKS] * log10(1 + e.count))
    syllables = min(e.syllables, MOST_SYLLABLES) - 1
    if syllables > 0:
        yield Part(SYLLABLE, f"{e.syllables} syllables", w[SYLLABLE] * syllables)
    yield Part(BASE, "made with a commoner word", w[BASE] * min(e.base, MOST_BY_BASE) / 100)
    made = f"{e.family} words are made with it" if e.family != 1 else "one word is made with it"
    yield Part(FAMILY, made, w[FAMILY] * log10(1 + min(e.family, LARGEST_FAMILY)))
    if is_learned(e.word, e.syllables):
        yield Part(LEARNED, "long, with a learned ending", w[LEARNED])
    if e.everyday:
        yield Part(EVERYDAY, "a word of home and school", w[EVERYDAY])
    yield Part(e.category, "its broad category" if e.category != UNKNOWN else "no broad category", w[e.category])


def estimate(evidence: Evidence) -> int:
    """The estimate in hundredths of the Zipf scale, at least LEAST and at most MOST."""
    return max(LEAST, min(MOST, round(100 * sum(part.adds for part in _parts(evidence)))))


def is_learned(word: str, syllables: int) -> bool:
    """Does a word of three syllables or more end like one of book learning (decision, government, numerous)?"""
    return syllables > 2 and _LEARNED.match(word) is not None


def syllables_of(reading: Reading) -> int:
    """How many syllables a reading has: its graphemes with a vowel sound."""
    return sum(has_vowel(s.sound) for s in reading.segments)


def evidence_of(word: str, reading: Reading) -> Evidence | None:
    """What is known of a plain word that is read so; None where no figure tells how common it is in general.

    Of a word that is not in the lexicon, only general frequency, syllables and ending are known.
    """
    found = listed_evidence(tables(), word)
    if found:
        return found
    zipf = zipf_frequency(word)
    return None if zipf is None else Evidence(word, round(zipf * 100), syllables_of(reading))


_CLASSES = {"noun": "noun", "verb": "verb", "adj": "adjective", "adv": "adverb"}
_OF_VERBS = ("-ed", "-ing")


def class_by_category(word: str, reading: Reading) -> str:
    """The word class of a plain word by its broad category, for words that no one has read; "" where it has none. With an -ed or
    -ing that is its ending it is a verb, whatever its base.

    Measured once, with WordNet's database at hand and without the help of `rules/word_classes.tsv`: of the nouns, verbs, adjectives
    and adverbs of that table this puts 90% where they stand.
    """
    if any(item.kind == ENDING and item.name in _OF_VERBS for unit in reading.units for item in unit.alternatives[0]):
        return "verb"
    found = listed_evidence(tables(), word)
    return _CLASSES.get(found.category.partition(".")[0], "") if found else ""


def listed_evidence(known: Tables, word: str) -> Evidence | None:
    """What the compiled lexicon knows of a word; None where it does not have it."""
    number = known.number(word)
    if number < 0:
        return None
    column = {
        name: int(known.column(f"child_{name}")[number])
        for name in ("syllables", "count", "base", "family", "category", "everyday")
    }
    return Evidence(
        word,
        int(known.zipf[number]) or UNLISTED,
        column["syllables"],
        column["count"],
        column["base"],
        column["family"],
        categories()[column["category"]],
        bool(column["everyday"]),
    )
