"""What may stand for each blocked word of a text, by the place it stands at."""

from __future__ import annotations

from dataclasses import dataclass

from decodecheck.checking.context import Neighbours, neighbours
from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Entry
from decodecheck.documents.document import Place
from decodecheck.insight.part_of_speech import is_grammar
from decodecheck.insight.replace import USUAL, Proposal, Replacer, replacer
from decodecheck.judging.verdict import BLOCKED
from decodecheck.lexicon.lookup import plain_spelling

A_NAME, GRAMMAR, UNKNOWN, NONE_FITS = REASONS = (
    "a name: another one is yours to choose",
    "a word of grammar: no other means the same",
    "nothing is known of what it means",
    "no word that is near enough in meaning can be read at this step",
)
"""Why nothing is proposed for a word."""


@dataclass(frozen=True, slots=True)
class Replaceable:
    """A blocked word with what may stand for it: as it stands first, the sense that its place decided ("" for none), the step from which it
    can be read (NEVER: from none), its places, proposals; `reason` says why there are none ("" where there are)."""

    word: str
    sense: str
    first_step: int
    places: tuple[Place, ...]
    proposals: tuple[Proposal, ...]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Replacements:
    """The blocked words of a text in the order in which they first occur. Where a word's places ask for different words, it stands more
    than once."""

    path: str
    order: str
    step: int
    words: tuple[Replaceable, ...]


def replacements(report: TextReport, number: int = USUAL, only: str = "") -> Replacements:
    """What may stand for each blocked word of the text of a report, or for `only` one, in whatever capitals; at most `number` proposals each."""
    known = replacer(report.order, report.step)
    wanted = plain_spelling(only).plain
    text, place = report.document.text, report.document.place
    found: dict[tuple[object, ...], tuple[Entry, tuple[Proposal, ...], str, list[Place]]] = {}
    for start, end, entry in report.sites:
        plain = plain_spelling(entry.form).plain
        if (wanted and plain != wanted) or report.verdict(entry).status != BLOCKED:
            continue
        proposed, reason = _at(known, entry, plain, neighbours(text, start, end), number)
        # Shouted and shouted are one word, which is told as it stands first
        alike = plain, entry.sense, reason, tuple((p.word.lower(), p.article) for p in proposed)
        found.setdefault(alike, (entry, proposed, reason, []))[3].append(place(start))
    words = (
        Replaceable(entry.form, entry.sense, report.verdict(entry).first_step, tuple(places), proposed, reason)
        for entry, proposed, reason, places in found.values()
    )
    return Replacements(report.path, report.order.name, report.step, tuple(words))


def _at(known: Replacer, entry: Entry, plain: str, around: Neighbours, number: int) -> tuple[tuple[Proposal, ...], str]:
    """The proposals for a form at a place, and why there are none."""
    if entry.name or known.judge.is_name(entry.form):
        return (), A_NAME
    proposed = known.proposals(entry.form, entry.sense, around)[:number]
    if proposed:
        return proposed, ""
    if known.readings(plain, entry.sense, around):
        return (), NONE_FITS
    return (), GRAMMAR if is_grammar(plain) else UNKNOWN
