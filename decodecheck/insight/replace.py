"""Words that an author may put in the place of a word that cannot be read yet: near in meaning, in the same form, readable at the step.

What words mean is WordNet's (`lexicon/meanings.py`), and WordNet knows nothing of the sentence: these are proposals, for a person to choose
from. A word's part of speech is what its form and its neighbours allow; a noun never stands for a verb.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import log10

from decodecheck.checking.context import Neighbours
from decodecheck.checking.context_rules import ballot
from decodecheck.judging.judge import Judge, judge_at
from decodecheck.judging.verdict import DECODABLE, TRICKY
from decodecheck.lexicon.analysis import not_endings
from decodecheck.lexicon.child_words import FUNCTION, listed_evidence
from decodecheck.lexicon.common_words import is_fit
from decodecheck.lexicon.inflection import (
    ING,
    PARTICIPLE,
    PAST,
    Inflected,
    form_of,
    inflections,
)
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.meanings import ADJECTIVE, ADVERB, NOUN, VERB, Meanings, Sense, meanings
from decodecheck.lexicon.word_classes import word_class
from decodecheck.phonics.sounds import is_vowel
from decodecheck.progression.order import TeachingOrder
from decodecheck.wordlists.likely import likely

SAME, NEAR, WIDER, NARROWER, ALIKE = KINDS = (
    "same meaning", "near in meaning", "a wider word", "a kind of it", "of the same kind",
)  # fmt: skip
"""What a proposal is to the word, the nearest first."""
_WEIGHTS = {SAME: 1.0, NEAR: 0.6, WIDER: 0.5, NARROWER: 0.4, ALIKE: 0.3}
_LEAST_SURE = {SAME: 0.1, NEAR: 0.2, WIDER: 0.22, NARROWER: 0.25, ALIKE: 0.35}
"""How sure it has to be that both words are met in the sense in which they are related: the product of the shares of these senses."""
_LEAST_LIKELY = {SAME: 2.8, NEAR: 3.3, WIDER: 3.3, NARROWER: 3.8, ALIKE: 3.8}
"""A word that is rarer in books for young children (`child_zipf`) is not proposed."""
SENSES = 2
"""So many senses of a word are looked at, the commonest first; for a word that only means a kind of the same, the first."""
MOST_BESIDE = 30
"""Words of one kind, and kinds of a thing, are near each other only where there are no more of them than this: a friend and a ruler are
both persons."""
MOST_NEAR = 15
"""The same of the adjectives that are similar to one."""
UNMET = 0.3
"""What the shares of a word's senses are worth where none of several was ever met in the texts that were counted."""
NUMBER = "number"
_LIKE_KINDS = frozenset(
    ("noun.animal", "noun.artifact", "noun.food", "noun.person", "noun.plant", "verb.body", "verb.communication", "verb.consumption",
     "verb.motion")
)  # fmt: skip
"""Categories in which a kind may do for the thing, and one of a kind for another: a bun for bread, a muffin for a biscuit, but no neck for
a face."""
_UNLIKE = frozenset(("noun.person", "verb.body", "verb.communication"))
"""Of these only the first: a pal for a friend, but no porter for a drover, and no weeping for a laugh."""
UNUSUAL = 0.7
"""What the share of a word is worth as a part of speech that is not its usual one."""
_FUNCTION_CLASSES = ("pronoun", "determiner", "preposition", "conjunction")
_SAID_SO = 2.0
"""So many votes of the words around it make a word of grammar something else: I like it."""
MOST_KINDS = 40
"""A wider word that has more kinds than this says too little: object, act, person."""
_PARTICIPLES = (ING, PARTICIPLE)
LEAD = 2.0
"""What a word may be, by its form and place, counts if it is not further behind what is likeliest."""
USUAL = 5
"""So many proposals are made for a word, where nobody says how many."""
_TAGS = {NOUN: "NOUN", VERB: "VERB", ADJECTIVE: "ADJ", ADVERB: "ADV"}
_CLASSES = {NOUN: "noun", VERB: "verb", ADJECTIVE: "adjective", ADVERB: "adverb"}


@dataclass(frozen=True, slots=True)
class Proposal:
    """A word that may stand in the place of another: as it would stand there, what it is to that one (one of KINDS), as which part of
    speech, from which step it can be read, how likely a child is to meet it, and the article that has to stand before it, where that is
    another one than stands there now ("" else)."""

    word: str
    kind: str
    pos: str
    first_step: int
    child_zipf: float
    article: str = ""


@dataclass(frozen=True, slots=True)
class _Candidate:
    base: str
    kind: str
    score: float


def proposals(
    order: TeachingOrder, step: int, form: str, sense: str = "", around: Neighbours | None = None, number: int = USUAL
) -> tuple[Proposal, ...]:
    """What may stand for a form at a step, the nearest in meaning first; none where nothing is known that is fit.

    `sense` is what the check made of a word with two sounds, `around` are the words beside it, which tell its part of speech and its
    article. Raises UserError where the compiled lexicon is damaged.
    """
    return replacer(order, step).proposals(form, sense, around)[:number]


def replacer(order: TeachingOrder, step: int) -> Replacer:
    """What finds replacements by an order at a step; made when it is first asked for, and kept with the order. Raises UserError where the
    compiled lexicon is damaged."""
    found = order.remembered.get(("replace", step))
    if not isinstance(found, Replacer):
        found = order.remembered["replace", step] = Replacer(judge_at(order, step))
    return found


class Replacer:
    """Finds replacements that a judge lets pass."""

    def __init__(self, judge: Judge) -> None:
        self.judge, self.lexicon = judge, judge.lookup.lexicon
        self.meanings: Meanings = meanings()

    def proposals(self, form: str, sense: str, around: Neighbours | None) -> tuple[Proposal, ...]:
        """All proposals for a form, the best first."""
        plain = plain_spelling(form).plain
        readings = self.readings(plain, sense, around)
        bases = {reading.base for reading in inflections(plain)} | {plain}
        found: dict[str, tuple[float, Proposal]] = {}
        for reading in readings:
            known = [
                (candidate, made)
                for candidate in self._candidates(reading)
                if candidate.base not in bases
                and (made := form_of(replace(reading, base=candidate.base), self.lexicon))
            ]
            written = [_like(form, made) for _, made in known]
            for (candidate, made), word, (status, first) in zip(known, written, self.judge.statuses(written)):
                if status not in (DECODABLE, TRICKY) or made == plain or not self._fit(made):
                    continue
                often = likely(candidate.base)
                rank = log10(candidate.score) + often / 4
                if word not in found or found[word][0] < rank:
                    article = self._article(made, around)
                    found[word] = rank, Proposal(word, candidate.kind, reading.pos, first, often, article)
        ranked = sorted(found.values(), key=lambda pair: (-pair[0], pair[1].word))
        return tuple(proposal for _, proposal in ranked)

    # -- what the word is ---------------------------------------------------------------------------------------------------

    def readings(self, plain: str, sense: str = "", around: Neighbours | None = None) -> list[Inflected]:
        """What a plain word may be at its place: forms of bases that have a meaning, the likeliest first."""
        wanted = self._tags(plain, sense)
        votes = ballot().votes(plain, around.before, around.after, around.names) if around else {}
        usual = self._usual(plain)
        scored: dict[tuple[str, str, str], tuple[float, Inflected]] = {}
        for one in inflections(plain):
            senses = [s for s in self.meanings.senses(one.base) if s.pos == one.pos]
            tag = {PAST: "PAST", PARTICIPLE: "PART"}.get(one.ending, _TAGS[one.pos])
            if not senses or (wanted and tag not in wanted) or self.is_grammar(one.base):
                continue
            if (plain, one.ending) in not_endings():
                continue
            if usual in _FUNCTION_CLASSES and votes.get(tag, 0.0) < _SAID_SO:
                continue
            score = 2 * log10(1 + sum(s.tagged for s in senses)) + votes.get(tag, 0.0)
            if one.ending in _PARTICIPLES:
                # it may stand where an adjective does
                score += max(0.0, votes.get("ADJ", 0.0) - votes.get(tag, 0.0))
            score += 2 * (usual == _CLASSES[one.pos]) + (one.ending == PAST)
            # past and participle are one form of one verb: what the place says decides between them
            key = one.base, one.pos, PAST if one.ending == PARTICIPLE else one.ending
            if key not in scored or scored[key][0] < score:
                scored[key] = score, one
        best = max((score for score, _ in scored.values()), default=0.0)
        ranked = sorted(scored.values(), key=lambda pair: -pair[0])
        return [one for score, one in ranked if score >= best - LEAD]

    def _usual(self, plain: str) -> str:
        """The class in which a story mostly uses a word; "" where it is not known."""
        known = listed_evidence(self.lexicon.tables, plain)
        return word_class(plain) or (_CLASSES.get(known.category.partition(".")[0], "") if known else "")

    def _tags(self, plain: str, sense: str) -> frozenset[str]:
        """The parts of speech of the sense that the check settled on; none where any will do."""
        if not sense:
            return frozenset()
        meant = [reading.pos for reading in self.judge.lookup.readings(plain) if reading.sense == sense]
        return frozenset().union(*meant) - {"RARE"}

    def is_grammar(self, word: str) -> bool:
        """Is a word's meaning its grammar (the, him, could)?"""
        known = listed_evidence(self.lexicon.tables, word)
        return known is not None and known.category == FUNCTION

    # -- what may stand for it ----------------------------------------------------------------------------------------------

    def _candidates(self, reading: Inflected) -> list[_Candidate]:
        """Bases that mean nearly what a reading's base means, each once."""
        found: dict[str, _Candidate] = {}
        for sense in self.meanings.senses(reading.base):
            if sense.pos != reading.pos or sense.number > SENSES:
                continue
            for kind, other in self._related(sense):
                sure = self._sure(sense) * self._sure(other) * self._share(other)
                if sure < _LEAST_SURE[kind] or likely(other.word) < _LEAST_LIKELY[kind] or not self._fit(other.word):
                    continue
                known, score = found.get(other.word), _WEIGHTS[kind] * sure
                if known is None or known.score < score:
                    found[other.word] = _Candidate(other.word, kind, score)
        return list(found.values())

    def _sure(self, sense: Sense) -> float:
        """How sure it is that a word is meant in a sense, where nothing but its part of speech is known."""
        senses = [s for s in self.meanings.senses(sense.word) if s.pos == sense.pos]
        met = len(senses) == 1 or any(s.tagged for s in senses)
        return sense.share if met else sense.share * UNMET

    def _share(self, sense: Sense) -> float:
        """Which share of a word's uses are as the part of speech of a sense: a crack team is a rare thing, as cracks go."""
        tagged = Counter(dict.fromkeys({s.pos for s in self.meanings.senses(sense.word)}, 0.5))
        for one in self.meanings.senses(sense.word):
            tagged[one.pos] += one.tagged
        usual = self._usual(sense.word)
        return tagged[sense.pos] / tagged.total() * (1 if usual in ("", _CLASSES[sense.pos]) else UNUSUAL)

    def _related(self, sense: Sense) -> Iterator[tuple[str, Sense]]:
        known, category = self.meanings, self.meanings.category(sense.set)
        yield from ((SAME, other) for other in known.words(sense.set))
        similar = known.near(sense.set)
        if len(similar) <= MOST_NEAR:
            yield from ((NEAR, other) for near in similar for other in known.words(near))
        if sense.number > 1:
            return
        if sense.pos == ADJECTIVE and len(similar) == 1 and word_class(sense.word) != NUMBER:
            # similar to the same adjective: huge and vast to large
            beside = [s for s in known.near(similar[0]) if s != sense.set]
            yield from ((ALIKE, other) for near in beside for other in known.words(near))
        for wider in known.wider(sense.set):
            if len(known.narrower(wider)) <= MOST_KINDS:
                yield from ((WIDER, other) for other in known.words(wider))
        if category in _LIKE_KINDS:
            yield from ((NARROWER, other) for other in self._kinds(sense.set, sense.set))
        if category in _LIKE_KINDS - _UNLIKE:
            yield from ((ALIKE, other) for wider in known.wider(sense.set) for other in self._kinds(wider, sense.set))

    def _kinds(self, wider: int, own: int) -> Iterator[Sense]:
        """The words for kinds of a thing, where these are few, and of the category of a set."""
        known, kinds = self.meanings, self.meanings.narrower(wider)
        if len(kinds) <= MOST_BESIDE:
            for kind in kinds:
                if kind != own and known.category(kind) == known.category(own):
                    yield from known.words(kind)

    def _fit(self, word: str) -> bool:
        """Whether a word may be proposed to the author of a text for children."""
        tables = self.lexicon.tables
        number = tables.number(word.removesuffix("'s").removesuffix("'"))
        if number < 0 or tables.is_name[number] or tables.is_sound[number]:
            return False
        return is_fit(tables.word(number), self.lexicon.name) and not self.is_grammar(word)

    def _article(self, word: str, around: Neighbours | None) -> str:
        """The article that has to stand before a word, where the other one stands there."""
        before = around.before[0] if around and around.before else ""
        if before not in ("a", "an"):
            return ""
        needed = "an" if self._starts_with_vowel(word) else "a"
        return needed if needed != before else ""

    def _starts_with_vowel(self, word: str) -> bool:
        sounds = [s.sound for s in self.judge.lookup.readings(word)[0].segments if s.sound]
        return bool(sounds) and is_vowel(sounds[0][0])


def _like(form: str, word: str) -> str:
    """A word with the capitals and the apostrophe of a form."""
    if "’" in form:
        word = word.replace("'", "’")
    letters = [c for c in form if c.isalpha()]
    if len(letters) > 1 and all(c.isupper() for c in letters):
        return word.upper()
    return word[:1].upper() + word[1:] if form[:1].isupper() else word
