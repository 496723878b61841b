"""What a word may be at its place: which form of which base, by its spelling, by how often it is met so, and by the words around it."""

from __future__ import annotations

from functools import lru_cache
from math import log10

from decodecheck.checking.context import Neighbours
from decodecheck.checking.context_rules import ballot
from decodecheck.lexicon.analysis import not_endings
from decodecheck.lexicon.child_words import FUNCTION, listed_evidence
from decodecheck.lexicon.inflection import BASE, ING, PARTICIPLE, PAST, Inflected, inflections
from decodecheck.lexicon.lookup import Lookup
from decodecheck.lexicon.meanings import ADJECTIVE, ADVERB, NOUN, VERB, meanings
from decodecheck.lexicon.store import tables
from decodecheck.lexicon.word_classes import word_class

TAGS = {NOUN: "NOUN", VERB: "VERB", ADJECTIVE: "ADJ", ADVERB: "ADV"}
"""What the rules over neighbouring words vote for; PAST and PART of verbs besides."""
CLASSES = {NOUN: "noun", VERB: "verb", ADJECTIVE: "adjective", ADVERB: "adverb"}
LEAD = 2.0
"""What a word may be counts if it is not further behind what is likeliest, in votes."""
_FOR_TEN = 3.0
"""Votes for being met ten times as often."""
_FOR_CLASS = 2.0
"""Votes for being of the class that the word mostly is in stories."""
_FOR_PAST = 1.0
"""Votes for a past, where it might be a participle: stories are told in the past."""
_SAID_SO = 2.0
"""So many votes of the words around it make a word of grammar something else: I like it."""
_FUNCTION_CLASSES = ("pronoun", "determiner", "preposition", "conjunction")
_REMEMBERED = 1 << 14


@lru_cache(_REMEMBERED)
def tagged(base: str, pos: str) -> int:
    """How often WordNet's tagged texts have a word as a part of speech, in its senses that are kept."""
    return sum(s.tagged for s in meanings().senses(base) if s.pos == pos)


@lru_cache(_REMEMBERED)
def usual_class(plain: str) -> str:
    """The class in which a story mostly uses a word, by the table of word classes, else by its broad category; "" where it is not known."""
    known = listed_evidence(tables(), plain)
    return word_class(plain) or (CLASSES.get(known.category.partition(".")[0], "") if known else "")


@lru_cache(_REMEMBERED)
def is_grammar(plain: str) -> bool:
    """Is a word's meaning its grammar (the, him, could)?"""
    known = listed_evidence(tables(), plain)
    return known is not None and known.category == FUNCTION


def readings(lookup: Lookup, plain: str, sense: str = "", around: Neighbours | None = None) -> list[Inflected]:
    """What a plain word may be at its place: forms of bases that have a meaning, the likeliest first; none for a word of grammar.

    `sense` is the label of the sense that a check settled on, `around` are the words beside it; without them, all is told by how often the
    word is met as what.
    """
    wanted = _tags(lookup, plain, sense)
    votes = ballot().votes(plain, around.before, around.after, around.names) if around else {}
    usual = usual_class(plain)
    scored: dict[tuple[str, str, str], tuple[float, Inflected]] = {}
    for one in inflections(plain):
        tag = {PAST: "PAST", PARTICIPLE: "PART"}.get(one.ending, TAGS[one.pos])
        if (wanted and tag not in wanted) or not _means(one, plain):
            continue
        said = votes.get(tag, 0.0)
        if usual in _FUNCTION_CLASSES and said < _SAID_SO:
            continue
        if one.ending in (ING, PARTICIPLE):
            # it may stand where an adjective does
            said = max(said, votes.get("ADJ", 0.0))
        score = said + _FOR_TEN * log10(1 + tagged(one.base, one.pos))
        score += _FOR_CLASS * (usual == CLASSES[one.pos]) + _FOR_PAST * (one.ending == PAST)
        # past and participle are one form of one verb: what the place says decides between them
        key = one.base, one.pos, PAST if one.ending == PARTICIPLE else one.ending
        if key not in scored or scored[key][0] < score:
            scored[key] = score, one
    best = max((score for score, _ in scored.values()), default=0.0)
    ranked = sorted(scored.values(), key=lambda pair: -pair[0])
    return [one for score, one in ranked if score >= best - LEAD]


def _means(one: Inflected, plain: str) -> bool:
    """Whether a base has a meaning as a part of speech, and the form is one of it."""
    if is_grammar(one.base) or (plain, one.ending) in not_endings():
        return False
    if not any(s.pos == one.pos for s in meanings().senses(one.base)):
        return False
    if one.ending != BASE or one.possessive:
        return True
    # WordNet has cows as a word of its own
    own = tagged(plain, one.pos)
    return not any(i.pos == one.pos and i.ending != BASE and tagged(i.base, i.pos) > own for i in inflections(plain))


def _tags(lookup: Lookup, plain: str, sense: str) -> frozenset[str]:
    """The parts of speech of a sense; none where any will do."""
    if not sense:
        return frozenset()
    meant = [reading.pos for reading in lookup.readings(plain) if reading.sense == sense]
    return frozenset().union(*meant) - {"RARE"}
