"""Reports on single words: what `explain` prints, for people and for programs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from decodecheck.checking.findings._words import describe
from decodecheck.errors import cut
from decodecheck.judging.blockers import capitals_step
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import ALLOWED, DECODABLE, Verdict
from decodecheck.judging.written_accents import is_without
from decodecheck.lexicon.child_words import Evidence, estimate, evidence_of, parts
from decodecheck.lexicon.frequency import zipf_frequency
from decodecheck.lexicon.items import GPC
from decodecheck.lexicon.lookup import Found, Lookup, plain_spelling
from decodecheck.lexicon.store import NEVER, Reading, tables
from decodecheck.phonics.align import VOWEL_LETTERS
from decodecheck.phonics.notes import false_digraphs, other_segmentations
from decodecheck.phonics.sounds import has_vowel, is_vowel, project
from decodecheck.progression.meanings import key_word
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.pinned import pin_text
from decodecheck.wordlists.shown import divided, shown_segments, sound_count, structure


@dataclass(frozen=True)
class Explained:
    """One word with everything known of it; `verdict` only where a progression is given."""

    word: str
    accent: str
    found: Found
    verdict: Verdict | None


class Explainer:
    """Explains words in an accent, against a teaching order if there is one."""

    def __init__(self, accent: str, order: TeachingOrder | None) -> None:
        self.accent = accent
        self.order = order
        self.lookup = Lookup(accent, order.pinned if order else None)
        self.judge = Judge(order, order.last) if order else None

    def explain(self, word: str) -> Explained:
        """Everything known of a word as it is given."""
        spelling = plain_spelling(word)
        found = self.lookup.find(spelling)
        if not found.readings and "-" in spelling.plain:
            found = self.lookup.joined(spelling)
        if not found.readings:
            found = self.lookup.predicted(spelling)
        found = replace(found, readings=tuple(self._told_apart(found.readings)))
        return Explained(word, self.accent, found, self.judge.judge(word) if self.judge else None)

    def _told_apart(self, readings: Iterable[Reading]) -> list[Reading]:
        """Readings without those that the accent says like an earlier one: Scottish has one *salt*, southern British two."""
        kept: dict[tuple[object, ...], Reading] = {}
        for r in readings:
            said = tuple((s.grapheme, project(s.grapheme, s.sound, s.linked, self.accent)) for s in r.segments)
            kept.setdefault((r.sense, said), r)
        return list(kept.values())


def ipa(reading: Reading, accent: str) -> str:
    """A reading in IPA, without slashes or stress."""
    return "".join(sound for s in reading.segments for sound in project(s.grapheme, s.sound, s.linked, accent))


def document(e: Explained) -> dict[str, Any]:
    """One word as JSON (schema 1)."""
    readings = []
    for reading in e.found.readings:
        graphemes = [
            {
                "grapheme": s.grapheme,
                "letters": sorted(e.found.origin[i] for i in s.letters),
                "sounds": list(project(s.grapheme, s.sound, s.linked, e.accent)),
            }
            for s in shown_segments(reading)
        ]
        readings.append(
            {
                "ipa": ipa(reading, e.accent),
                "sense": reading.sense or None,
                "pos": ",".join(sorted(reading.pos - {"RARE"})) or None,
                "graphemes": graphemes,
                "grapheme_count": len(graphemes),
                "sound_count": sum(len(g["sounds"]) for g in graphemes),
                "structure": structure(reading),
                "also_accepted": other_segmentations(reading.segments),
            }
        )
    first = e.verdict.first_step if e.verdict else NEVER
    evidence = _evidence(e)
    return {
        "word": e.word,
        "accent": e.accent,
        "origin": e.found.readings[0].origin if e.found.readings else None,
        "first_step": None if first == NEVER else first,
        "zipf": zipf_frequency(e.found.word),
        "child_zipf": estimate(evidence) / 100 if evidence else None,
        "readings": readings,
    }


_ORIGINS = {
    "listed": "in the lexicon",
    "derived": "derived from words in the lexicon",
    "override": "in the lexicon, set by hand",
    "predicted": "not in the lexicon; predicted from the spelling alone, so check it",
    "yours": "pinned in your progression",
}


def lines(e: Explained, order: TeachingOrder | None) -> Iterator[str]:
    """One word for people."""
    if not e.found.readings:
        yield f"{cut(e.word)}: {_unread(e.word)}"
        yield ""
        return
    word = e.word if e.found.word == plain_spelling(e.word).plain else f"{e.word} (read as {e.found.word})"
    yield f"{word}: {_origin(e)}, {e.accent}"
    for reading in e.found.readings:
        yield from _reading(reading, e.accent)
    yield f"  how common: {_how_common(zipf_frequency(e.found.word))}"
    yield from _for_children(_evidence(e))
    if e.verdict and order:
        yield from _when(e, order)
    yield ""


def _origin(e: Explained) -> str:
    """Where the readings of a word come from, in words."""
    reading = e.found.readings[0]
    # a progression may speak of the word, and then knows its accents
    by_order = e.verdict is not None and not e.verdict.unlisted
    if by_order or reading.origin == "predicted" or is_without(e.word) or _is_name(e):
        return _ORIGINS[reading.origin]
    return f"not in the lexicon with these accents; read as {e.found.word}, so check it"


def _is_name(e: Explained) -> bool:
    """Whether a word is written as a name, and is known as one only: names take accents as they please."""
    number = tables().number(e.found.word)
    return e.word[:1].isupper() and number >= 0 and bool(tables().is_name[number])


def _unread(word: str) -> str:
    """Why nothing is known of a word."""
    letters = [c for c in plain_spelling(word).plain if c.isalpha()]
    if not letters:
        return "no word."
    vowel = "" if VOWEL_LETTERS.intersection(letters) else ", which has no vowel"
    return f"not in the lexicon, and no reading can be predicted from its spelling{vowel}."


def _how_common(zipf: float | None, where: str = " of general English") -> str:
    """A Zipf frequency in plain words, to two figures."""
    if zipf is None:
        return "no figure; not in the list of words that were counted"
    among = float(f"{10 ** (9 - zipf):.1e}")
    return f"about 1 in {among:,.0f} words{where}"


def _evidence(e: Explained) -> Evidence | None:
    """What tells how common a word is in books for young children; None where nothing does."""
    return evidence_of(e.found.word, e.found.readings[0]) if e.found.readings else None


def _for_children(evidence: Evidence | None) -> Iterator[str]:
    """The estimate of how common a word is in books for young children, with its parts."""
    if evidence is None:
        return
    yield f"  in books for young children: {_how_common(estimate(evidence) / 100, '')}, estimated:"
    for part in parts(evidence):
        yield f"    {part.adds:+5.2f}  {part.name}: {part.what}"
    yield f"    {estimate(evidence) / 100:5.2f}  in all (Zipf)"


def _reading(reading: Reading, accent: str) -> Iterator[str]:
    segments = shown_segments(reading)
    sense = f" ({reading.sense})" if reading.sense else ""
    yield f"  {divided(reading)}   /{ipa(reading, accent)}/{sense}"
    sounds = sound_count(reading, accent)
    # an irregular spelling may hide several syllables (Mr); the pattern of its letters says nothing then
    beats = sum(sum(map(is_vowel, s.sound)) if s.irregular else has_vowel(s.sound) for s in segments)
    shape = f"{structure(reading)}, " if beats == sum(has_vowel(s.sound) for s in segments) else ""
    yield f"    {_count(len(segments), 'grapheme')}, {_count(sounds, 'sound')}, {shape}{_count(beats, 'syllable')}"
    own = dict(respelt(reading))
    for s in segments:
        said = "".join(project(s.grapheme, s.sound, s.linked, accent))
        example = own.get(s.letters) or key_word(s.grapheme, s.sound, accent)
        text = f"/{said}/" if said else "silent"
        yield f"    {s.grapheme:<5} {text:<7}" + (f" as in {example}" if example else " an irregular spelling")
    others = other_segmentations(reading.segments)
    if others:
        yield "    also accepted: " + "; ".join(others)
    for one, other in false_digraphs(reading.segments):
        yield f"    {one} and {other} are two graphemes here, not {one}{other}"


def respelt(reading: Reading) -> Iterator[tuple[tuple[int, ...], str]]:
    """Segments that are read as they are in the word's base: the a of making, as in make; by letters, with the base."""
    at = 0
    for number, unit in enumerate(reading.units):
        segments = reading.segments[at : at + len(unit.forms)]
        at += len(unit.forms)
        base = next((part.word for part in reading.parts if part.first <= number <= part.last), "")
        named = {i.correspondence for alternative in unit.alternatives for i in alternative if i.kind == GPC}
        if base and len(segments) == 1 and (segments[0].grapheme, segments[0].sound) not in named:
            yield segments[0].letters, base


def _when(e: Explained, order: TeachingOrder) -> Iterator[str]:
    verdict = e.verdict
    assert verdict is not None
    if verdict.unlisted:
        yield f"  to pin it in a progression: {pin_text(e.word, e.found.readings[0], e.accent)}"
        return
    if verdict.status == ALLOWED:
        yield f"  allowed in {order.name}"
        return
    senses = list(_by_sense(e, order))
    if senses:
        yield f"  in {order.name}, by its sense:"
        yield from senses
    elif verdict.first_step == NEVER:
        yield f"  never readable in {order.name}:"
    if verdict.first_step == NEVER:
        for text in dict.fromkeys(map(describe, verdict.blockers)):
            yield f"    {text}"
    if senses or verdict.first_step == NEVER:
        return
    parts = []
    if verdict.tricky_at is not None:
        whole = e.found.word in order.tricky and order.tricky[e.found.word] == verdict.tricky_at
        parts.append(
            f"a tricky word of step {verdict.tricky_at}"
            if whole
            else f"known by tricky words from step {verdict.tricky_at} on"
        )
    if verdict.status == DECODABLE:
        letters = max((order.reading_step(r) for r in verdict.readings), default=verdict.first_step)
        first = max(letters, capitals_step(e.word, order), order.steps[0].number if order.steps else 0)
        parts.append(f"decodable from step {first} on{_by_variant(e, order)}")
    yield f"  {', '.join(parts)} in {order.name}"


def _by_sense(e: Explained, order: TeachingOrder) -> Iterator[str]:
    """From which step a word can be read in each of its senses, where these differ."""
    senses: dict[str, list[Reading]] = {}
    for reading in e.found.readings:
        senses.setdefault(reading.sense, []).append(reading)
    steps = {sense: min(map(order.reading_step, readings)) for sense, readings in senses.items()}
    if e.found.word in order.tricky or len(set(steps.values())) < 2:
        return
    start = max(capitals_step(e.word, order), order.steps[0].number if order.steps else 0)
    for sense, step in steps.items():
        when = f"decodable from step {max(step, start)} on" if step != NEVER else "never readable"
        yield f"    /{ipa(min(senses[sense], key=order.reading_step), e.accent)}/ ({sense}): {when}"


def _by_variant(e: Explained, order: TeachingOrder) -> str:
    """Which pronunciation makes a word decodable, where that is not the one that is listed first (again, often)."""
    assert e.verdict is not None
    # of words with a hyphen, the verdict has the readings of their parts
    for reading in e.verdict.readings if "-" not in e.word else ():
        usual = next((r for r in e.found.readings if r.sense == reading.sense), reading)
        if order.reading_step(usual) > order.reading_step(reading):
            return f", said /{ipa(reading, e.accent)}/,"
    return ""


def _count(n: int, noun: str) -> str:
    return f"{n} {noun}{'' if n == 1 else 's'}"
