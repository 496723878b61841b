"""Words that a list leaves out unless they are asked for, by kind."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from functools import cache, cached_property

import numpy as np
import numpy.typing as npt

from decodecheck.judging.blockers import capitals_step
from decodecheck.lexicon.common_words import VARIETIES
from decodecheck.lexicon.endings import ENDINGS
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import NEVER
from decodecheck.lexicon.vector import alike_with_capital
from decodecheck.phonics.align import Segment
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.notes import false_digraphs
from decodecheck.phonics.sounds import Sound
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.alike import SHORT
from decodecheck.wordlists.columns import Columns, Mask, Numbers, numbers

KINDS = {
    "capitals": ("with a capital that is not taught yet", "has a capital that is not taught yet"),
    "names": ("names", "a name"),
    "abbreviations": (
        "abbreviations, parts of words, single letters",
        "an abbreviation, a part of a word, or a letter",
    ),
    "possessives": ("possessives", "a possessive"),
    "contractions": ("with an ending after an apostrophe that is not taught (didn't)", "a contraction"),
    "unfit": ("unfit for a primary classroom", "unfit for a primary classroom"),
    "other-country": ("in the spelling of the other country", "the spelling of the other country"),
    "unsure": ("that can be read in one of two senses only", "can be read in one of its senses only"),
    "heteronyms": ("with two readings", "has two readings"),
    "joins": ("with letters that only look like a digraph (mishap)", "has letters that only look like a digraph"),
    "pinned": ("with a reading that the progression pins", "has a reading that the progression pins"),
}
"""Every kind by the name of its switch: how a number of such words is told, and one. A word counts for the first that it is."""
ALWAYS = frozenset(("capitals", "pinned"))
"""Kinds that no switch lets in: what cannot be read yet, and words of which the lexicon has another reading than the progression."""
LONE = ("a", "i")


EVERYDAY = 10
"""The highest cost in the inventory of a digraph that everybody is taught: sh, th, ea, oi; not the kn of knee or the au of haul."""
_VOWELS = "aeiou"
_OTHER = 26
"""The number of what is no letter."""


class LeftOut:
    """Tells of what kind words are that a list leaves out. `words` are all words of the lexicon."""

    def __init__(self, columns: Columns, order: TeachingOrder, step: int, words: Sequence[str]) -> None:
        self.columns, self.order, self.step, self.words = columns, order, step, words

    def kinds(self, found: Numbers, readings: Numbers) -> list[str]:
        """The kind of each of some words of the lexicon, in one of its readings; "" for one that no list leaves out."""
        names = list(KINDS)
        kind = np.full(len(found), -1, np.int8)
        # the first kind that a word is counts, so the last is written first
        for name in reversed(names):
            kind[self.are(name, found, readings)] = names.index(name)
        return [names[k] if k >= 0 else "" for k in kind.tolist()]

    def are(self, kind: str, found: Numbers, readings: Numbers) -> Mask:
        """For each of some words in one of its readings, whether it is of a kind."""
        columns = self.columns
        match kind:
            case "capitals":
                if not self.order.capitals and not self.order.capitals_from:
                    return np.zeros(len(found), bool)
                names = self.are("names", found, readings).tolist()
                forms = (written(self.words[n], name) for n, name in zip(found.tolist(), names))
                return np.array([capitals_step(form, self.order) > self.step for form in forms], bool)
            case "names":
                is_name = numbers(columns.tables.is_name)[found] != 0
                result: Mask = is_name | columns.names[readings] | columns.for_reasons("capital")[found]
                return result
            case "abbreviations":
                lone: Mask = np.diff(numbers(columns.tables.word_offset).astype(np.int64)) == 2
                return (columns.for_reasons("no word") | (lone & ~self._holds(LONE)))[found]
            case "possessives":
                return (self._ends_with("'s") & ~self._holds(SHORT))[found]
            case "contractions":
                taught = self._marked(())
                for ending in ENDINGS:
                    if "'" in ending and self.order.item_step.get(Item.ending(ending), NEVER) <= self.step:
                        taught |= self._ends_with(ending)
                return (self._with_apostrophe() & ~taught)[found]
            case "unfit":
                return columns.unfit[found]
            case "other-country":
                return columns.for_reasons(*(v for v in VARIETIES if v != columns.lexicon.name))[found]
            case "unsure":
                unread: Mask = self.order.readiness.words[found] > self.step
                return unread
            case "heteronyms":
                several: Mask = (columns.senses[found] > 1) | ~alike_with_capital(columns.lexicon)[found]
                return several
            case "joins":
                return self._look_joined(readings)
            case "pinned":
                return self._marked(n for n in self._spoken_of() if not self.order.goes_by_items(self.words[n]))[found]
            case _:
                raise ValueError(f"{kind} is no kind of words")

    # -- masks over all words ---------------------------------------------------------------------------------------------

    def _marked(self, known: Iterable[int]) -> Mask:
        result = np.zeros(self.columns.tables.count, bool)
        result[list(known)] = True
        return result

    def _holds(self, words: Iterable[str]) -> Mask:
        """For every word, whether it is one of some."""
        return self._marked(
            at for w in words if (at := bisect_left(self.words, w)) < len(self.words) and self.words[at] == w
        )

    def _ends_with(self, ending: str) -> Mask:
        """For every word, whether it ends in some letters."""
        end = numbers(self.columns.tables.word_offset)[1:].astype(np.int64) - 1
        found = np.ones(len(end), bool)
        for back, letter in enumerate(reversed(ending), 1):
            # before a short word stand the end of another and what is between them
            found &= self._letters[end - back] == ord(letter)
        return found

    def _with_apostrophe(self) -> Mask:
        """For every word, whether it has an apostrophe."""
        offsets = numbers(self.columns.tables.word_offset)
        return self._marked((np.searchsorted(offsets, np.flatnonzero(self._letters == ord("'")), "right") - 1).tolist())

    @cached_property
    def _letters(self) -> npt.NDArray[np.uint8]:
        """The letters of all words, each with a line end after it."""
        return np.frombuffer("\n".join([*self.words, ""]).encode(), np.uint8)

    def _spoken_of(self) -> Iterator[int]:
        """The numbers of words that the order may speak of by themselves, each to be looked at."""
        order, words = self.order, self.words
        spoken = [w.lower() for w in order.allowed_words] + list(order.sounds) + [w.lower()[:-1] for w in order.pinned]
        for stem in spoken:
            at = bisect_left(words, stem)
            while at < len(words) and words[at].startswith(stem):
                yield at
                at += 1
        if order.sounds:
            letters = self._letters
            thrice = np.flatnonzero((letters[:-2] == letters[1:-1]) & (letters[1:-1] == letters[2:]))
            offsets = numbers(self.columns.tables.word_offset)
            yield from (np.searchsorted(offsets, thrice, "right") - 1).tolist()

    # -- letters that only look like a digraph ------------------------------------------------------------------------------

    def _look_joined(self, readings: Numbers) -> Mask:
        """For some readings, what `looks_joined` says of each."""
        columns, table = self.columns, _digraphs()
        forms = columns.tables.forms
        letter = np.array([_letter(g) if _counts(g, sound, irregular) else _OTHER for g, sound, _, irregular in forms])
        flat = letter[columns.form_flat]
        starts, ends = columns.unit_form[:-1].astype(np.int64), columns.unit_form[1:].astype(np.int64)
        # a word's structure is a unit without a letter: it keeps one word from the next
        filled = ends > starts
        first = np.where(filled, flat[np.minimum(starts, len(flat) - 1)], _OTHER)
        last = np.where(filled, flat[ends - 1], _OTHER)
        within = np.append(table[flat[:-1], flat[1:]], False)
        within[ends[filled] - 1] = False
        meets = np.append(table[last[columns.units[:-1]], first[columns.units[1:]]], False)
        meets |= columns.units_holding(within)[columns.units]
        joined: Mask = np.logical_or.reduceat(meets, columns.reading_unit[:-1])[readings]
        # the e of a split digraph may stand between the two
        split = columns.any_unit(columns.has_form(columns.forms_where(lambda form: "-" in form[0])))[readings]
        for number in np.flatnonzero(joined & split).tolist():
            joined[number] = looks_joined(columns.lexicon.reading(int(readings[number])).segments)
        return joined


def written(word: str, name: bool) -> str:
    """A word of the lexicon as it is written: names, and I with its contractions, with a capital."""
    return word.capitalize() if name or word == "i" or word.startswith("i'") else word


def looks_joined(segments: Sequence[Segment]) -> bool:
    """Do two neighbouring graphemes meet in letters that are an everyday digraph elsewhere, both vowels or both consonants (mishap, react)?

    Not so the ng of finger and danger, where n before g is as it always is, nor the er of very: such pairs are in too many words.
    """
    left_alone = {s.grapheme for s in segments if not _counts(s.grapheme, s.sound, s.irregular)}
    return any(
        _digraphs()[_letter(one), _letter(other)] and not left_alone & {one, other}
        for one, other in false_digraphs(segments)
    )


def _counts(grapheme: str, sound: Sound, irregular: bool) -> bool:
    """May a grapheme be part of what only looks like a digraph?"""
    return not irregular and (grapheme, sound) not in (("n", ("ng",)), ("g", ("j",)))


@cache
def _digraphs() -> Mask:
    """For two different letters, whether they are an everyday digraph of vowels or of consonants."""
    found = np.zeros((27, 27), bool)
    for grapheme, rows in inventory().by_grapheme.items():
        if len(grapheme) == 2 and grapheme.isascii() and grapheme.isalpha() and grapheme[0] != grapheme[1]:
            alike = (grapheme[0] in _VOWELS) == (grapheme[1] in _VOWELS)
            usual = any(c.bare != "no" and not c.place and c.cost <= EVERYDAY for c in rows)
            found[_letter(grapheme[0]), _letter(grapheme[1])] = alike and usual
    return found


def _letter(grapheme: str) -> int:
    """The number of a letter; _OTHER for anything longer or else."""
    return ord(grapheme) - 97 if len(grapheme) == 1 and "a" <= grapheme <= "z" else _OTHER
