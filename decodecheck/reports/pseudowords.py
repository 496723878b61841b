"""What `pseudowords` prints."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from decodecheck.lexicon.beside import Spelling
from decodecheck.phonics.sounds import has_vowel, project
from decodecheck.printing import as_json
from decodecheck.progression.meanings import key_word
from decodecheck.reports.rows import aligned, as_csv
from decodecheck.wordlists.plausible import said
from decodecheck.wordlists.pseudowords import PseudoWord

CAUTION = "For an occasional look at how a child decodes; not for teaching, and not for homework."
SCORING = (
    "Accept every reading that is given here; regional accents count. There is no number that a child has to reach."
)
WEAKENED = "A vowel of a word with two syllables may also be weakened, as in an unstressed syllable."
HEAD = ("word", "graphemes", "structure", "section", "readings", "accept")


@dataclass(frozen=True, slots=True)
class PseudoWordList:
    """Invented words; `made_of` says in words of what, `accents` are those in which they sound like no word: their readings are told in
    the first."""

    words: tuple[PseudoWord, ...]
    made_of: str
    accents: tuple[str, ...]
    seed: int


def render(found: PseudoWordList, form: str) -> str:
    """The list as text, json or csv, ending in a line end."""
    return {"text": _text, "json": _json, "csv": _csv}[form](found)


def _text(found: PseudoWordList) -> str:
    accent = found.accents[0]
    lines = [f"Invented words, made of {found.made_of}", CAUTION, SCORING]
    if any(_syllables(word) > 1 for word in found.words):
        lines.append(WEAKENED)
    number = 0
    for section, words in groupby(found.words, key=lambda word: word.section):
        lines += ["", f"Section {section}"] if section else [""]
        rows = []
        for word in words:
            number += 1
            rows.append(
                (
                    str(number),
                    word.word,
                    " ".join(_graphemes(word)),
                    word.structure,
                    " or ".join(_ipa(word, accent)),
                    "; ".join(choices(word, accent)),
                )
            )
        lines += aligned(rows)
    return "\n".join(lines) + "\n"


def choices(word: PseudoWord, accent: str) -> list[str]:
    """The graphemes of an invented word that may be read in several ways, with familiar words: `ow as in town or grow`."""
    found = []
    for at, (grapheme, _) in enumerate(word.graphemes):
        sounds = dict.fromkeys(reading[at][1] for reading in word.readings)
        words = list(dict.fromkeys(key_word(grapheme, sound, accent) for sound in sounds))
        if len(words) > 1:
            found.append(f"{grapheme} as in {' or '.join(words)}")
    return found


def _graphemes(word: PseudoWord) -> list[str]:
    return [grapheme for grapheme, _ in word.graphemes]


def _ipa(word: PseudoWord, accent: str) -> list[str]:
    return [f"/{''.join(said(reading, accent))}/" for reading in word.readings]


def _syllables(word: PseudoWord) -> int:
    return sum(has_vowel(sound) for _, sound in word.graphemes)


def _json(found: PseudoWordList) -> str:
    accent = found.accents[0]
    document: dict[str, Any] = {
        "schema": 1,
        "caution": f"{CAUTION} {SCORING}",
        "made_of": found.made_of,
        "accents": list(found.accents),
        "seed": found.seed,
        "words": [_document(word, accent) for word in found.words],
    }
    return as_json(document) + "\n"


def _document(word: PseudoWord, accent: str) -> dict[str, Any]:
    return {
        "word": word.word,
        "section": word.section or None,
        "structure": word.structure,
        "syllables": _syllables(word),
        "graphemes": _sounded(word.graphemes, accent),
        "readings": [
            {"ipa": "".join(said(reading, accent)), "graphemes": _sounded(reading, accent)} for reading in word.readings
        ],
        "may_be_weakened": _syllables(word) > 1,
    }


def _sounded(graphemes: Sequence[Spelling], accent: str) -> list[dict[str, Any]]:
    return [{"grapheme": g, "sounds": list(project(g, sound, False, accent))} for g, sound in graphemes]


def _csv(found: PseudoWordList) -> str:
    accent = found.accents[0]
    rows = [
        (
            word.word,
            " ".join(_graphemes(word)),
            word.structure,
            word.section or "",
            " ".join(_ipa(word, accent)),
            "; ".join(choices(word, accent)),
        )
        for word in found.words
    ]
    return as_csv(HEAD, rows)
