"""A sheet for a dictation: what the adult reads out and marks, what the child writes on, and cards to cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from decodecheck.judging import verdict as verdict_
from decodecheck.judging.verdict import ALLOWED, BLOCKED, TRICKY, Verdict
from decodecheck.judging.written_accents import is_without
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import NEVER, Reading
from decodecheck.phonics.sounds import project
from decodecheck.printing import as_json
from decodecheck.progression.order import TeachingOrder
from decodecheck.reports import paper
from decodecheck.reports.page import Blanks, Block, Dictated, Dictation, Frames, Page, Paragraph, Sheet, WordCards
from decodecheck.reports.rows import as_csv
from decodecheck.reports.wordlist import MOST_ALIKE
from decodecheck.wordlists.columns import MARKS
from decodecheck.wordlists.described import FoundWord
from decodecheck.wordlists.effort import HARD
from decodecheck.wordlists.left_out import KINDS
from decodecheck.wordlists.shown import divided, shown_segments
from decodecheck.wordlists.spelling_choice import Choice
from decodecheck.wordlists.taught_spellings import taught_spellings

DICTATION, FRAMES, CARDS = "dictation", "frames", "cards"
PARTS = (DICTATION, FRAMES, CARDS)
TITLES = {DICTATION: "Words to dictate", FRAMES: "Words to write", CARDS: "Word cards"}
MOST = 200
"""Words on a sheet."""
OPEN = 0.7
"""Where the right spelling is less likely than this, the others that have been taught are named."""
MOST_OTHERS = 3
PREDICTED = "predicted"
NAMES = "names"
DOUBTFUL = ("unsure", "capitals")
TOLD = ("unfit", "other-country", "unsure", "heteronyms", "joins", "abbreviations", "capitals")
"""Kinds of words (`left_out.KINDS`) of which an adult is told when they are dictated."""


@dataclass(frozen=True)
class WordSheet:
    """The words of a sheet in order, for a step of a teaching order. `title` is the person's own; "" for none.

    `verdicts` are those on words that are not decodable there, or perhaps not.
    """

    order: TeachingOrder
    step: int
    words: tuple[FoundWord, ...]
    title: str = ""
    verdicts: Mapping[str, Verdict] = field(default_factory=dict)

    @cached_property
    def taught(self) -> dict[tuple[str, ...], tuple[str, ...]]:
        """The graphemes that have been taught for each sound."""
        return taught_spellings(self.order, self.step)


def of_list(order: TeachingOrder, step: int, words: Sequence[FoundWord], title: str = "") -> WordSheet:
    """The sheet of a person's own words, which may hold some that cannot be decoded at the step."""
    # slow to load, and a sheet of words that were found does without it; so with the next
    from decodecheck.judging.judge import judge_at

    judge = judge_at(order, step)
    doubtful = [
        w
        for w in words
        if w.first_step > step or w.kind in DOUBTFUL or w.reading.origin == PREDICTED or not is_without(w.word)
    ]
    return WordSheet(order, step, tuple(words), title, {w.word: judge.judge(w.word) for w in doubtful})


def notes(sheet: WordSheet) -> Iterator[tuple[str, str]]:
    """The words that a person is to be told of before the sheet is used, each with a sentence or two."""
    from decodecheck.checking.findings._words import reasons

    at = f"at step {sheet.step}"
    for word, verdict in sheet.verdicts.items():
        match verdict.status:
            case verdict_.BLOCKED:
                yield word, f"{word} cannot be decoded {at}. {reasons(verdict.blockers)}"
            case verdict_.TRICKY:
                yield word, f"{word} is a tricky word {at}; it cannot be decoded."
            case verdict_.UNSURE if verdict.readings:
                yield word, f"{word} is said in two ways, and only one of them can be read {at}."
            case verdict_.UNSURE if not is_without(word):
                yield (
                    word,
                    f"{word} is not in the lexicon with these accents; it was divided as {plain_spelling(word).plain}.",
                )
            case verdict_.UNSURE:
                yield word, f"{word} is not in the lexicon; it was divided by its spelling alone."


def page(sheet: WordSheet, parts: Sequence[str] = PARTS, on: str = "a4") -> Page:
    """The page with some of PARTS, each of which begins a sheet of paper; `on` is one of `paper.PAPERS`."""
    chosen = [part for part in PARTS if part in parts]
    blocks: list[Block] = []
    for number, part in enumerate(chosen):
        if number:
            blocks.append(Sheet(_title(sheet, part), _standing(sheet)))
        blocks += _PART_BLOCKS[part](sheet)
    return Page(_title(sheet, chosen[0]), _standing(sheet), tuple(blocks), "sheet", on)


def _title(sheet: WordSheet, part: str) -> str:
    return f"{sheet.title}: {TITLES[part].lower()}" if sheet.title else TITLES[part]


def _standing(sheet: WordSheet) -> str:
    """For whom a sheet is: the order of teaching, the step with its title, the group."""
    title = next((s.title for s in sheet.order.steps if s.number == sheet.step), "")
    at = f"step {sheet.step} of {sheet.order.last}" + (f", “{title}”" if title else "")
    if sheet.order.variant:
        at += f" ({sheet.order.variant})"
    return f"{sheet.order.name}, {at}"


# -- the parts ------------------------------------------------------------------------------------------------------------


def _dictation(sheet: WordSheet) -> Iterator[Block]:
    yield Blanks(("Date", "Group"))
    words = tuple(Dictated(w.word, marking_points(w), w.sounds, "; ".join(watch(sheet, w))) for w in sheet.words)
    dictation = Dictation(words)
    yield dictation
    told = f"{paper.points(dictation)}, one for each grapheme."
    if any(w.sounds_like for w in sheet.words):
        told += " A word that sounds like another needs a sentence when it is dictated."
    single = [f"{g} ({word})" for g, word in _one_box(sheet).items()]
    if single:
        told += f" One grapheme each: {', '.join(single)}."
    split = next((word for word in sheet.words if any("-" in g for g in _graphemes(word))), None)
    if split:
        told += f" {_split_box(split)}"
    yield Paragraph(f"{told} Where you teach another division of a word, mark it as you teach it.")


def _one_box(sheet: WordSheet) -> dict[str, str]:
    """Graphemes that an adult might look for in two boxes, each with a word: split digraphs, and those with two sounds."""
    found: dict[str, str] = {}
    for word in sheet.words:
        for s in shown_segments(word.reading):
            # the n of didn't is one letter, in whatever way it is said
            several = len(s.sound) > 1 and (len(s.grapheme) > 1 or "SCHWA" not in s.sound)
            if "-" in s.grapheme or (several and not s.irregular):
                found.setdefault(s.grapheme, word.word)
    return found


def _graphemes(word: FoundWord) -> tuple[str, ...]:
    return tuple(s.grapheme for s in word.reading.segments if s.grapheme not in MARKS)


def _split_box(word: FoundWord) -> str:
    """Where the letters of a split digraph go in a frame (common practice, no source)."""
    graphemes = _graphemes(word)
    at = next(n for n, grapheme in enumerate(graphemes) if "-" in grapheme)
    first, last = graphemes[at].split("-")
    return (
        f"A split digraph has one box in a frame: of {graphemes[at]} in {word.word}, {first} goes there, and {last} "
        f"into the next box, behind {graphemes[at + 1]}."
    )


def _frames(sheet: WordSheet) -> Iterator[Block]:
    yield Blanks(("Name", "Date"))
    yield Paragraph("One grapheme in each box, then the whole word on the line.")
    yield Frames(tuple(w.graphemes for w in sheet.words))


def _cards(sheet: WordSheet) -> Iterator[Block]:
    yield Blanks(("Date", "Group"))
    yield WordCards(tuple(w.word for w in sheet.words))


_PART_BLOCKS = {DICTATION: _dictation, FRAMES: _frames, CARDS: _cards}


def marking_points(word: FoundWord) -> tuple[str, ...]:
    """The graphemes of a word, each worth a point; an apostrophe or a hyphen is none, and stands with the grapheme after it, else
    with the one before: d i d n 't, d o g s'."""
    found: list[str] = []
    waiting = ""
    for segment in word.reading.segments:
        if segment.grapheme in MARKS:
            waiting += segment.grapheme
        else:
            found.append(waiting + segment.grapheme)
            waiting = ""
    if waiting and found:
        found[-1] += waiting
    if found and word.word[:1].isupper():
        found[0] = found[0][:1].upper() + found[0][1:]
    return tuple(found)


# -- what to watch --------------------------------------------------------------------------------------------------------


def watch(sheet: WordSheet, word: FoundWord) -> list[str]:
    """What an adult is to watch in a word, each in a few words."""
    found = []
    if word.sounds_like:
        found.append(f"sounds like {', '.join(word.sounds_like[:MOST_ALIKE])}: say a sentence")
    verdict = sheet.verdicts.get(word.word)
    if verdict and verdict.status in (BLOCKED, TRICKY):
        found.append(_not_decodable(verdict))
    if word.kind != NAMES:
        found += _spellings(sheet, word)
    found += [
        f"{s.grapheme} is an irregular spelling" if s.sound else f"{s.grapheme} is silent"
        for s in shown_segments(word.reading)
        if not s.sound or (s.irregular and not word.effort.choices)
    ]
    if word.kind in TOLD and not (verdict and verdict.status == ALLOWED):
        found.append(KINDS[word.kind][1])
    if word.reading.origin == PREDICTED:
        found.append("not in the lexicon: divided by its spelling alone, so check it")
    elif verdict is not None and verdict.unlisted and not is_without(word.word):
        found.append("not in the lexicon with these accents: divided without them, so check it")
    return found


def _not_decodable(verdict: Verdict) -> str:
    if verdict.status == TRICKY:
        return "a tricky word"
    if verdict.first_step == NEVER:
        return "can be decoded at no step of this order"
    return f"cannot be decoded before step {verdict.first_step}"


def _spellings(sheet: WordSheet, word: FoundWord) -> Iterator[str]:
    """Graphemes that are rare for their sound, and those that others which have been taught stand against."""
    for choice, heard in zip(word.effort.choices, _heard(word.reading, sheet.order.accent)):
        if choice.likelihood < HARD and choice.usual != choice.grapheme:
            yield f"{choice.grapheme}: {choice.usual} is likelier"
        elif choice.likelihood < OPEN and (others := _others(sheet, choice, heard)):
            yield f"{choice.grapheme}: {others} {'are' if ', ' in others else 'is'} taught, too"


def _others(sheet: WordSheet, choice: Choice, heard: tuple[str, ...]) -> str:
    return ", ".join([g for g in sheet.taught.get(heard, ()) if g != choice.grapheme][:MOST_OTHERS])


def _heard(reading: Reading, accent: str) -> Iterator[tuple[str, ...]]:
    """What the graphemes of a reading say that have a sound, in the order in which choices among spellings are told."""
    for unit in reading.units:
        for grapheme, sound, linked, _ in unit.forms:
            said = project(grapheme, sound, linked, accent)
            if said and grapheme not in MARKS:
                yield project(grapheme, sound, False, accent)


# -- for programs ---------------------------------------------------------------------------------------------------------


def as_document(sheet: WordSheet) -> str:
    """The sheet as a line of JSON (schema 1)."""
    words: list[dict[str, Any]] = [
        {
            "word": w.word,
            "segmentation": [s.grapheme for s in shown_segments(w.reading)],
            "sounds": [
                list(project(s.grapheme, s.sound, s.linked, sheet.order.accent)) for s in shown_segments(w.reading)
            ],
            "grapheme_count": w.graphemes,
            "sound_count": w.sounds,
            "first_step": None if w.first_step == NEVER else w.first_step,
            "origin": w.reading.origin,
            "sounds_like": list(w.sounds_like),
            "watch": watch(sheet, w),
        }
        for w in sheet.words
    ]
    order = sheet.order
    whole = {"schema": 1, "title": sheet.title or None, "progression": order.name, "accent": order.accent}
    return as_json({**whole, "step": sheet.step, "words": words}) + "\n"


def as_table(sheet: WordSheet) -> str:
    """The sheet as CSV."""
    head = ("word", "segmentation", "graphemes", "sounds", "step", "sounds_like", "watch")
    rows = [
        (
            w.word,
            divided(w.reading),
            w.graphemes,
            w.sounds,
            "" if w.first_step == NEVER else w.first_step,
            " ".join(w.sounds_like),
            "; ".join(watch(sheet, w)),
        )
        for w in sheet.words
    ]
    return as_csv(head, rows)
