"""What the page tells of one word: how it divides, what its graphemes say and when they are taught, what to do, what can be settled."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from decodecheck.checking.context import neighbours
from decodecheck.checking.findings._words import name_of, sound_word
from decodecheck.checking.kinds import Judged
from decodecheck.checking.report import TextReport
from decodecheck.checking.senses import Senses
from decodecheck.checking.values import Entry
from decodecheck.documents.document import Document
from decodecheck.errors import Problem, UserError, cut
from decodecheck.insight.reasons import spelt
from decodecheck.insight.replace import proposals
from decodecheck.judging.blockers import capitals_step, taught_elsewhere
from decodecheck.judging.guess import guess
from decodecheck.judging.verdict import ALLOWED, BLOCKED, LABELS, UNSURE, Verdict
from decodecheck.lexicon.items import GPC, Item
from decodecheck.lexicon.lookup import Lookup, plain_spelling
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.lexicon.units import Unit
from decodecheck.phonics.align import Segment
from decodecheck.phonics.notes import other_segmentations
from decodecheck.phonics.shape_names import in_words
from decodecheck.phonics.sounds import project
from decodecheck.progression.meanings import key_word
from decodecheck.progression.order import TeachingOrder
from decodecheck.reports.marked_lines import Letters, marked_word
from decodecheck.reports.words import ipa, respelt
from decodecheck.web.asked import Asked
from decodecheck.web.desk import Desk, time_of
from decodecheck.wordlists.shown import structure

LONGEST_WORD = 100
NO_WORD = "no-word"
"""The code of the problem that there is no word at a place."""


@dataclass(frozen=True, slots=True)
class Grapheme:
    """A grapheme of a word: what it says, a word in which it says that, when that is taught, whether it is still to come."""

    letters: str
    says: str
    as_in: str
    when: str
    to_come: bool


@dataclass(frozen=True, slots=True)
class Division:
    """A reading of a word: its sounds, its sense, its graphemes; other divisions that are accepted; what else it asks for."""

    ipa: str
    sense: str
    graphemes: tuple[Grapheme, ...]
    others: tuple[str, ...]
    also_needs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Offer:
    """A word that can be put in the place of one that is not yet decodable, what is to be said of it, and the article that then has to stand
    before it ("" for the one that stands there)."""

    word: str
    why: str
    article: str


@dataclass(frozen=True, slots=True)
class Sense:
    """A sense to choose, and whether it is the one that holds here."""

    label: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Card:
    """What is told of a word. `start` and `end` are where it stands in the text (-1: nowhere), `number` which time it stands there."""

    word: str
    plain: str
    start: int
    end: int
    number: int
    letters: tuple[Letters, ...]
    status: str
    label: str
    first: str
    message: str
    remedy: tuple[str, ...]
    divisions: tuple[Division, ...]
    guessed: bool
    senses: tuple[Sense, ...]
    settled: bool
    name: str
    sound: str
    pin: str
    offers: tuple[Offer, ...] = ()


def card(desk: Desk, asked: Asked, start: int) -> Card:
    """The card of the word at an offset of the text. Raises UserError where there is none."""
    passage = desk.passage(asked, start)
    report = passage.report
    for first, last, entry in report.sites:
        if passage.start + first <= start < passage.start + last:
            whole = asked.text[passage.start + first : passage.start + last]
            made = _card(asked, report, entry, whole, passage.start + first, passage.start + last)
            return replace(made, offers=tuple(_offers(report, entry, first, last)))
    raise UserError(Problem("the text", "There is no word to explain at this place.", "Touch a word.", code=NO_WORD))


def _offers(report: TextReport, entry: Entry, start: int, end: int) -> Iterator[Offer]:
    """Words near in meaning that may stand for a blocked word at its place."""
    if report.verdict(entry).status != BLOCKED or entry.name or report.judge.is_name(entry.form):
        return
    around = neighbours(report.document.text, start, end)
    opening = report.order.steps[0].number if report.order.steps else 0
    for one in proposals(report.order, report.step, entry.form, entry.sense, around):
        article = f"; it needs “{one.article}” before it" if one.article else ""
        yield Offer(one.word, f"{one.kind}; step {max(one.first_step, opening)}{article}", one.article)


def card_of(desk: Desk, asked: Asked, word: str) -> Card:
    """The card of a word by itself. Raises UserError for what is none."""
    word = " ".join(word.split())[:LONGEST_WORD]
    checker = desk.checker(desk.standing(asked))
    report = checker.check(Document("the word", word), every_word=True)
    for start, end, entry in report.sites:
        return _card(asked, report, entry, word[start:end], -1, -1)
    raise UserError(Problem("the word", f"“{cut(word)}” is no word that is judged.", "Write a word.", code=NO_WORD))


def _card(asked: Asked, report: TextReport, entry: Entry, word: str, start: int, end: int) -> Card:
    order, verdict = report.order, report.verdict(entry)
    told = report.told(entry)
    plain = plain_spelling(entry.form).plain
    readings: Sequence[Reading] = verdict.readings
    lookup = Lookup(order.accent, order.pinned)
    guessed = False
    if not readings:
        found = lookup.find(plain_spelling(entry.form))
        if not found.readings:
            found = lookup.predicted(plain_spelling(entry.form))
            guessed = bool(found.readings)
        readings = found.readings[:1]
    choices = Senses(lookup).choices(entry.form)
    number = time_of(asked.text, plain, start) if start >= 0 else 0
    kind = Judged(entry.form, entry.form, entry.name, verdict, report.step, order.accent)
    needs_pin = verdict.unlisted or (entry.name and verdict.status == BLOCKED)
    return Card(
        word=" ".join(word.split()),
        plain=plain,
        start=start,
        end=end,
        number=number,
        letters=marked_word(entry.form, verdict.blockers if verdict.status == BLOCKED else ()),
        status=verdict.status,
        label=LABELS[verdict.status],
        first=_first(report, entry, verdict),
        message=told.message if told else "",
        remedy=tuple(told.remedy.split("\n")) if told else (),
        divisions=tuple(_division(order, report.step, entry.form, r) for r in readings),
        guessed=guessed,
        senses=tuple(Sense(c.label, c.label == entry.sense) for c in choices) if start >= 0 else (),
        settled=any(s.word == plain and s.number in (0, number) for s in asked.settled),
        name=name_of(kind) if verdict.status in (BLOCKED, UNSURE) else "",
        sound=sound_word(kind) if verdict.status in (BLOCKED, UNSURE) else "",
        pin=_pin(entry.form, order.accent) if needs_pin else "",
    )


def _pin(form: str, accent: str) -> str:
    """The graphemes of the likeliest reading of an unknown word: `z + o + g`; "" where its letters allow none."""
    return guess(form, accent).partition(" = ")[2]


def _first(report: TextReport, entry: Entry, verdict: Verdict) -> str:
    """From which step on a word can be read."""
    order = report.order
    if verdict.status == ALLOWED:
        return "It is allowed here: nobody has to sound it out."
    if verdict.unlisted:
        # the message says so
        return ""
    name = spelt(report, entry.form)
    tricky = f"“{name}” is a tricky word of step {verdict.tricky_at}. " if verdict.tricky_at is not None else ""
    if verdict.first_step == NEVER:
        return f"{tricky}It can be read at no step of this order."
    opening = order.steps[0].number if order.steps else 0
    return f"{tricky}It can be read from step {max(verdict.first_step, opening)} on."


def _division(order: TeachingOrder, step: int, form: str, reading: Reading) -> Division:
    needs: list[tuple[str, str]] = []
    graphemes: list[Grapheme] = []
    at = 0
    own = dict(respelt(reading))
    for unit in reading.units:
        taught = order.unit_step(unit)
        segments = reading.segments[at : at + len(unit.forms)]
        at += len(unit.forms)
        if not segments and taught:
            needs.append((in_words(structure(reading)), _when(taught)))
        for s in segments:
            if s.grapheme in ("'", "-"):
                continue
            said = "".join(project(s.grapheme, s.sound, s.linked, order.accent))
            example = own.get(s.letters) or key_word(s.grapheme, s.sound, order.accent)
            item = _item_of(s, unit) if taught > step else None
            when, late = (_taught(order, item), order.step_of(item) > step) if item else (_when(taught), taught > step)
            graphemes.append(Grapheme(s.grapheme, f"/{said}/" if said else "silent", example, when, late))
    capital = capitals_step(form, order)
    if capital:
        needs.append(("its capital letter", _when(capital)))
    return Division(
        ipa(reading, order.accent), reading.sense, tuple(graphemes), tuple(other_segmentations(reading.segments)), tuple(needs)
    )  # fmt: skip


def _item_of(segment: Segment, unit: Unit) -> Item | None:
    """What one grapheme of a unit with several asks for by itself (the l of cold, which `old` can be taught with); None where that is not known."""
    if len(unit.forms) < 2:
        return None
    own = (item for item in unit.alternatives[0] if item.kind == GPC)
    return next((item for item in own if item.correspondence == (segment.grapheme, segment.sound)), None)


def _taught(order: TeachingOrder, item: Item) -> str:
    """When a correspondence is taught; where it is taught at another place in words alone, that."""
    step = order.step_of(item)
    place, there = taught_elsewhere(order, item, step)
    return f"only {place} (step {there})" if step == NEVER and place else _when(step)


def _when(step: int) -> str:
    return "never taught here" if step == NEVER else f"step {step}" if step else "from the start"


def sense_lines(card: Card) -> Iterator[str]:
    """What a form holds for each sense that can be chosen."""
    for sense in card.senses:
        yield f"{card.plain}|{card.number}|{sense.label}"
