"""Which sense of a heteronym is meant: readable rules over the neighbouring words (`rules/context/`).

Rules vote for parts of speech, cues for single senses; the sense with the most votes is meant if it leads by enough.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache

from decodecheck.checking.context_rules import ballot
from decodecheck.documents import sentences
from decodecheck.resources import rules_folder
from decodecheck.tables import Row, read_each

LEAD = 2.0
"""A sense is chosen where it leads the next by at least so many votes."""
RARE_HANDICAP = 3.0
TAG_VOTES = 8.0
"""What a tagger's part of speech counts, where the configuration names one."""
MOST_HITS = 2
"""So many cues of one row count at most."""
WORD = re.compile(r"[^\W\d_]++(?:['’-][^\W\d_]++)*+|\d++|,|[—–]|--")
"""What counts as a neighbour; what else there is inside a sentence is passed over."""
_NO_ENDS = frozenset(sentences.STOPS).difference(sentences.ENDS)
"""Stops after which a capital is a name's."""
_NO_NAMES: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Neighbours:
    """A word in its sentence: the words before it, nearest first, and those after it; lower case. A comma or dash is ","."""

    before: tuple[str, ...]
    after: tuple[str, ...]
    capital: bool = False
    names: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Choice:
    """A sense to choose from: its label, the parts of speech it can be, whether it is rare."""

    label: str
    pos: frozenset[str]
    rare: bool


def neighbours(text: str, start: int, end: int, reach: int = 160) -> Neighbours:
    """The sentence around text[start:end], cut at full stops, quotation marks and blank lines."""
    first, last, mark = sentences.around(text, start, end, reach)
    left = text[first:start]
    found = WORD.findall(left)
    names = _NO_NAMES if left.islower() else _names(left, found, mark)
    before = _plain(found)
    before.reverse()
    after = _plain(WORD.findall(text, end, last))
    while after and after[-1] == ",":
        after.pop()
    return Neighbours(tuple(before), tuple(after), text[start].isupper(), names)


def _names(left: str, found: list[str], mark: str) -> frozenset[str]:
    """Of the words found on the left, those with a capital that do not begin a sentence."""
    names = {token.lower() for token in found[1:] if token[0].isupper()}
    if found and found[0][0].isupper():
        # it is the first if only blanks stand before it, after nothing, a quotation mark, a blank line or the end of a sentence
        between = left[: left.find(found[0])]
        if between.strip() or mark in _NO_ENDS:
            names.add(found[0].lower())
    return frozenset(names)


def _plain(tokens: list[str]) -> list[str]:
    """Tokens in lower case with straight apostrophes; every dash is a comma."""
    line = " ".join(tokens).lower().replace("’", "'")
    return line.replace("--", ",").replace("—", ",").replace("–", ",").split()


_Holds = Callable[[str, Neighbours], bool]
"""Does a cue fit? It is asked with all words around, a blank before and after each, and with their places."""


class Cues:
    """The cues of one row of `rules/context/cues.tsv` for one sense of a word."""

    __slots__ = ("_anywhere", "_placed", "sense", "weight")

    def __init__(self, sense: str, weight: float, cues: Iterable[str]) -> None:
        """Raises ValueError for a cue whose place is no number."""
        self.sense = sense
        self.weight = weight
        self._anywhere: list[str] = []
        self._placed: list[_Holds] = []
        for cue in cues:
            if any(sign in cue for sign in "&!:"):
                self._placed.append(_cue(cue))
            else:
                self._anywhere.append(_sought(cue))

    def hits(self, line: str, around: Neighbours) -> int:
        """How many cues fit, MOST_HITS at most; `line` holds all words around, a blank before and after each."""
        found = 0
        for words in self._anywhere:
            if words in line:
                found += 1
        if found < MOST_HITS:
            for holds in self._placed:
                found += holds(line, around)
        return min(found, MOST_HITS)


def _sought(cue: str) -> str:
    return f" {cue[:-1]}" if cue.endswith("*") else f" {cue} "


def _cue(cue: str) -> _Holds:
    if "&" in cue:
        parts = [_cue(part) for part in cue.split("&")]
        return lambda line, around: all(holds(line, around) for holds in parts)
    if cue.startswith("!"):
        denied = _cue(cue[1:])
        return lambda line, around: not denied(line, around)
    place, _, wanted = cue.rpartition(":")
    sought = _sought(wanted)
    if not place:
        return lambda line, around: sought in line
    offset = int(place)
    if offset < 0:
        return lambda line, around: -offset <= len(around.before) and sought in f" {around.before[-offset - 1]} "
    return lambda line, around: offset <= len(around.after) and sought in f" {around.after[offset - 1]} "


@cache
def cues() -> dict[str, tuple[Cues, ...]]:
    """The cues by word. Raises UserError for a row that cannot be read."""
    found: dict[str, list[Cues]] = {}
    for word, own in read_each(rules_folder() / "context" / "cues.tsv", _own):
        found.setdefault(word, []).append(own)
    return {word: tuple(own) for word, own in found.items()}


def _own(row: Row) -> tuple[str, Cues]:
    return row["word"], Cues(row["sense"], float(row["weight"]), row["words"].split(" "))


def choose(word: str, around: Neighbours, choices: Sequence[Choice], tag: str = "") -> str | None:
    """The label of the sense that is meant, None where the context does not decide.

    `tag` is a part of speech from a tagger (NOUN, VERB, PAST, PART, ADJ, ADV, PROPN), if there is one.
    """
    votes = ballot().votes(word, around.before, around.after, around.names)
    if tag:
        votes = {**votes, tag: votes.get(tag, 0.0) + TAG_VOTES}
    scores = {}
    for choice in choices:
        score = max([votes.get(pos, 0.0) for pos in choice.pos], default=0.0)
        if "PROPN" in choice.pos:
            score += -4.0 if not around.capital else 3.0 if around.before else 0.0
        if choice.rare:
            score -= RARE_HANDICAP
        scores[choice.label] = score
    own = cues().get(word)
    if own:
        line = f" {' '.join(around.before)} {' '.join(around.after)} "
        for row in own:
            if row.sense in scores:
                scores[row.sense] += row.weight * row.hits(line, around)
    ranked = sorted(scores, key=lambda label: -scores[label])
    if len(ranked) == 1 or scores[ranked[0]] - scores[ranked[1]] >= LEAD:
        return ranked[0]
    return None
