"""Words that an author may put in the place of a word that cannot be read yet: near in meaning, in the same form, readable at the step.

What words mean is WordNet's (`lexicon/meanings.py`), and WordNet knows nothing of the sentence: these are proposals, for a person to choose
from. A word's part of speech is what its form and its neighbours allow; a noun never stands for a verb.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import log10

from decodecheck.checking.context import Neighbours
from decodecheck.insight.part_of_speech import is_grammar, readings
from decodecheck.insight.related_words import related
from decodecheck.judging.judge import Judge, judge_at
from decodecheck.judging.verdict import DECODABLE, TRICKY
from decodecheck.lexicon.common_words import is_fit
from decodecheck.lexicon.inflection import Inflected, form_of, inflections
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.meanings import VERB
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

    def proposals(self, form: str, sense: str, around: Neighbours | None) -> tuple[Proposal, ...]:
        """All proposals for a form, the best first."""
        plain = plain_spelling(form).plain
        bases = {one.base for one in inflections(plain)} | {plain}
        found: dict[str, tuple[float, Proposal]] = {}
        for reading in self.readings(plain, sense, around):
            particle = reading.pos == VERB and around is not None and around.after[:1] and around.after[0] in _PARTICLES
            near = [r for r in related(reading.base, reading.pos, bool(particle)) if r.word not in bases]
            made = [self._form(replace(reading, base=r.word)) for r in near]
            pairs = [(r, _like(form, word), word) for r, word in zip(near, made) if word and word != plain]
            judged = self.judge.statuses([written for _, written, _ in pairs])
            for (r, written, word), (status, first) in zip(pairs, judged):
                rank = log10(r.nearness) + _FOR_LIKELY * r.child_zipf
                if status in (DECODABLE, TRICKY) and (written not in found or found[written][0] < rank):
                    article = self._article(word, around)
                    found[written] = rank, Proposal(written, r.kind, reading.pos, first, r.child_zipf, article)
        ranked = sorted(found.values(), key=lambda pair: (-pair[0], pair[1].word))
        return tuple(proposal for _, proposal in ranked)

    def readings(self, plain: str, sense: str = "", around: Neighbours | None = None) -> list[Inflected]:
        """What a plain word may be at its place, the likeliest first; none for a word of which no meaning is known."""
        return readings(self.judge.lookup, plain, sense, around)

    def _form(self, inflected: Inflected) -> str:
        """A form of a base, both fit for a text for children; "" where there is none."""
        name = self.lexicon.name
        made = form_of(inflected, self.lexicon) if _fit(inflected.base, name) else ""
        return made if made and _fit(made.removesuffix("'s").removesuffix("'"), name) else ""

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
