"""Words that an author may put in the place of a word that cannot be read yet: near in meaning, in the same form, readable at the step.

What words mean is WordNet's (`lexicon/meanings.py`), and WordNet knows nothing of the sentence: these are proposals, for a person to choose
from. A word's part of speech is what its form and its neighbours allow; a noun never stands for a verb.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from math import log10

from decodecheck.checking.context import Neighbours
from decodecheck.checking.context_rules import classes
from decodecheck.insight.part_of_speech import is_grammar, readings, usual_class
from decodecheck.insight.related_words import ALIKE, MOTION, SAYING, related
from decodecheck.judging.judge import Judge, judge_at
from decodecheck.judging.verdict import DECODABLE, TRICKY
from decodecheck.lexicon.common_words import is_fit
from decodecheck.lexicon.inflection import BASE, PARTICIPLE, PAST, Inflected, form_of, inflections
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.meanings import NOUN, VERB
from decodecheck.lexicon.store import tables
from decodecheck.phonics.sounds import is_vowel
from decodecheck.progression.order import TeachingOrder

USUAL = 5
"""So many proposals are made for a word, where nobody says how many."""
_FOR_LIKELY = 0.25
"""What a word counts that a child is ten times as likely to meet; one that is ten times as near counts 1."""
_PARTICLES = frozenset(
    ("up", "out", "off", "on", "over", "away", "down", "in", "back", "about", "around", "along", "through")
)
"""Small words that change what a verb means (give up, put on), unless it tells of motion (run off)."""
_MOST_RARER = 130
"""A form that is so much rarer than its base (hundredths of Zipf) is one that people hardly use: no beefs."""
_BARE = frozenset(("much", "little"))
"""Words that count nothing: after them a noun is as bare as after none."""
_REACH = 4
"""So many words before a noun are looked at for what counts it."""
_COUNTED = ("determiner", "possessive", "number")
_REMEMBERED = 1 << 14


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
        self._ranked: dict[tuple[str, Inflected, str, bool], list[tuple[float, str, Proposal]]] = {}

    def proposals(self, form: str, sense: str, around: Neighbours | None) -> tuple[Proposal, ...]:
        """All proposals for a form, the best first."""
        # inside a sentence somebody is called so: no Kitten for the Lamb
        called = around is not None and around.capital and bool(around.before) and form[1:].islower()
        found: dict[str, tuple[float, str, Proposal]] = {}
        for reading in self.readings(plain_spelling(form).plain, sense, around):
            if around is not None and _is_bare(reading, around):
                # where it is likely that the word is a noun that nothing may stand for, a verb is no better
                break
            for rank, word, proposal in self._for(form, reading, _category(form, reading, around), called):
                if proposal.word not in found or found[proposal.word][0] < rank:
                    found[proposal.word] = rank, word, proposal
        ranked = sorted(found.values(), key=lambda one: (-one[0], one[1]))
        return tuple(replace(proposal, article=self._article(word, around)) for _, word, proposal in ranked)

    def _for(self, form: str, reading: Inflected, category: str, called: bool) -> list[tuple[float, str, Proposal]]:
        """What may stand for a form in one reading: how good it is, the plain word, and the proposal; worked out once."""
        key = form, reading, category, called
        known = self._ranked.get(key)
        if known is None:
            known = list(self._made(*key))
            if len(self._ranked) < _REMEMBERED:
                self._ranked[key] = known
        return known

    def _made(
        self, form: str, reading: Inflected, category: str, called: bool
    ) -> Iterator[tuple[float, str, Proposal]]:
        plain = plain_spelling(form).plain
        bases = {one.base for one in inflections(plain)} | {plain}
        near = [
            r
            for r in related(reading.base, reading.pos, category)
            if r.word not in bases and not (called and r.kind == ALIKE)
        ]
        made = [self._form(replace(reading, base=r.word)) for r in near]
        pairs = [(r, _like(form, word), word) for r, word in zip(near, made) if word and word != plain]
        judged = self.judge.statuses([written for _, written, _ in pairs])
        for (r, written, word), (status, first) in zip(pairs, judged):
            if status in (DECODABLE, TRICKY):
                rank = log10(r.nearness) + _FOR_LIKELY * r.child_zipf
                yield rank, word, Proposal(written, r.kind, reading.pos, first, r.child_zipf)

    def readings(self, plain: str, sense: str = "", around: Neighbours | None = None) -> list[Inflected]:
        """What a plain word may be at its place, the likeliest first; none for a word of which no meaning is known."""
        return readings(self.judge.lookup, plain, sense, around)

    def _form(self, inflected: Inflected) -> str:
        """A form of a base, both fit for a text for children; "" where there is none."""
        name = self.lexicon.name
        made = form_of(inflected, self.lexicon) if _fit(inflected.base, name) else ""
        stem = made.removesuffix("'s").removesuffix("'")
        return made if made and _fit(stem, name) and not _is_odd(stem, inflected) else ""

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


def _category(form: str, reading: Inflected, around: Neighbours | None) -> str:
    """The one category of meanings that a verb has at its place; "" for any."""
    if reading.pos != VERB or around is None:
        return ""
    if reading.ending in (PAST, PARTICIPLE) and not around.before and not around.capital:
        # “No!” cried Omar: a sentence begins with what was said
        return SAYING
    return MOTION if around.after[:1] and around.after[0] in _PARTICLES else ""


def _is_bare(reading: Inflected, around: Neighbours) -> bool:
    """Whether a noun stands in the singular with nothing that counts it (at home, take hold, of much use, had bread): another one mostly
    cannot."""
    if reading.pos != NOUN or reading.ending != BASE or reading.possessive:
        return False
    told = classes()
    for word in around.before[:_REACH]:
        if word in _BARE:
            return True
        if word.endswith(("'s", "s'")) or any(word in told[name] for name in _COUNTED):
            return False
        if usual_class(word) not in ("adjective", "adverb", "noun"):
            break
    return True


def _is_odd(form: str, inflected: Inflected) -> bool:
    """Whether a plural or a participle is hardly used, unlike its base."""
    if (inflected.pos != NOUN and inflected.ending != PARTICIPLE) or inflected.ending == BASE:
        return False
    zipf, number = tables().zipf, tables().number
    return zipf[number(inflected.base)] - zipf[number(form)] > _MOST_RARER


@lru_cache(_REMEMBERED)
def _fit(word: str, lexicon: str) -> bool:
    """Whether a word may be proposed to the author of a text for children."""
    known, number = tables(), tables().number(word)
    if number < 0 or known.is_name[number] or known.is_sound[number]:
        return False
    return is_fit(word, lexicon) and not is_grammar(word)


def _like(form: str, word: str) -> str:
    """A word with the capitals and the apostrophe of a form."""
    if "’" in form:
        word = word.replace("'", "’")
    letters = [c for c in form if c.isalpha()]
    if len(letters) > 1 and all(c.isupper() for c in letters):
        return word.upper()
    return word[:1].upper() + word[1:] if form[:1].isupper() else word
