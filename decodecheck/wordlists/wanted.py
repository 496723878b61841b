"""What is asked of a list of words."""

from __future__ import annotations

import re
from dataclasses import dataclass

from decodecheck.errors import Problem, UserError
from decodecheck.source import read_text, shown
from decodecheck.wordlists.targets import Target

READING, SPELLING = "reading", "spelling"
START, MIDDLE, END = "start", "middle", "end"
EASY, COMMON, LENGTH, ALPHABET = "easy", "common", "length", "alphabet"
ORDERS = (EASY, COMMON, LENGTH, ALPHABET)
NUMBER = 20
_RANGE = re.compile(r"(\d{0,3})(-?)(\d{0,3})\Z")
_WORD = re.compile(r"[^\W\d_]+(?:['’\-][^\W\d_]+)*")
_STRUCTURE = re.compile(r"[CV]*V[CV]*\Z")


@dataclass(frozen=True, slots=True)
class Range:
    """From `least` to `most`, as it was written."""

    text: str
    least: int
    most: int


@dataclass(frozen=True, slots=True)
class WantedWords:
    """What is asked of a list.

    `targets` have each to be in every word, `without` in none; `place` is where the first target stands ("": anywhere).
    `common` and `likely` are the least Zipf frequency in English at large and in books for young children. `apart`: no word that
    sounds like another. `used` are words of the file `used_from` that are not wanted again. `purpose` SPELLING asks that every
    spelling has been taught, too. `also` names kinds of words that are let in (`left_out.KINDS`). `number` is how many words, None for all;
    with a `seed` they are drawn among the likely ones. `order` is one of ORDERS.
    """

    targets: tuple[Target, ...] = ()
    without: tuple[Target, ...] = ()
    place: str = ""
    graphemes: Range | None = None
    sounds: Range | None = None
    syllables: Range | None = None
    structures: tuple[str, ...] = ()
    endings: bool = True
    common: float | None = None
    likely: float | None = None
    apart: bool = False
    used: frozenset[str] | None = None
    used_from: str = ""
    purpose: str = READING
    also: frozenset[str] = frozenset()
    number: int | None = NUMBER
    seed: int | None = None
    order: str = EASY


def range_of(text: str | None, option: str) -> Range | None:
    """`3`, `3-4`, `3-` or `-4` as a range; None for None. Raises UserError for anything else."""
    if text is None:
        return None
    match = _RANGE.match(text.replace(" ", "").replace("–", "-"))
    if not match or not (match[1] or match[3]):
        raise UserError(
            Problem(option, f"{text!r} is no number.", "Write 3, or 3-4, or 3- for 3 and more, or -4 for up to 4.")
        )
    least = int(match[1] or 0)
    most = int(match[3]) if match[3] else 999 if match[2] else least
    if least > most:
        raise UserError(
            Problem(option, f"{text!r} holds no number: {least} is more than {most}.", f"Write {most}-{least}.")
        )
    return Range(text, least, most)


def structures_of(text: str | None, option: str) -> tuple[str, ...]:
    """`CVC, CCVC` as its structures. Raises UserError for what is none."""
    found = []
    for part in re.split(r"[,\s]+", text.strip()) if text is not None else ():
        name = part.upper()
        if not _STRUCTURE.match(name):
            todo = "Write C for each consonant and V for each vowel, for instance CVC or CVC,CCVC."
            raise UserError(Problem(option, f"{part!r} is no structure.", todo))
        found.append(name)
    return tuple(found)


def words_of(path: str | None) -> frozenset[str] | None:
    """The words of a file, in small letters; None for None. Raises UserError where it cannot be read or holds none."""
    if path is None:
        return None
    if not path:
        raise UserError(Problem("--not-in", "No file is named.", "Name a file with words, or leave --not-in out."))
    words = frozenset(w.lower().replace("’", "'") for w in _WORD.findall(read_text(path).text))
    if not words:
        raise UserError(
            Problem(shown(path), "There is no word in this file.", "Put words into it, or leave --not-in out.")
        )
    return words
