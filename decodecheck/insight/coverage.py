"""What a text gives practice in: for each lesson so far the decodable words that hold it, how often, where in the word and in how much of the
text, beside how many such words the language offers; the tricky words it holds; what of its step it does not hold; how long its sentences are.

There is no agreed number of words that a lesson needs: these are numbers, and no marks.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field

from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Entry
from decodecheck.documents.document import Place
from decodecheck.documents.sentences import first_words
from decodecheck.insight.lesson_finder import PLACES, LessonFinder, lesson_finder
from decodecheck.insight.reasons import spelt
from decodecheck.judging.verdict import ALLOWED, BLOCKED, DECODABLE, TRICKY, UNSURE
from decodecheck.lexicon.lookup import plain_spelling

PARTS = 10
"""A text is looked at in so many parts with as many words each, a shorter one in as many as it has words."""
NAME = "name"


@dataclass(frozen=True, slots=True)
class Held:
    """How a text holds one lesson: as a progression names it, its kind and step; the distinct decodable words with it, those first that
    occur most; how often it occurs in them at the start of a word, inside, at the end, and of a structure as a whole; in how many
    parts of the text; and how many likely words of the lexicon that can be decoded at the step hold it."""

    name: str
    kind: str
    step: int
    words: tuple[str, ...]
    start: int
    middle: int
    end: int
    whole: int
    parts: int
    offered: int

    @property
    def times(self) -> int:
        """How often it occurs."""
        return self.start + self.middle + self.end + self.whole


@dataclass(frozen=True, slots=True)
class Sentences:
    """How many words each sentence of a text has, in order, and where the longest begins."""

    lengths: tuple[int, ...]
    longest_at: Place

    @property
    def mean(self) -> float:
        """Words per sentence."""
        return sum(self.lengths) / len(self.lengths)


@dataclass(frozen=True)
class Coverage:
    """What a text gives practice in at a step.

    `running` are its words that are judged, `statuses` how many of them are what, each counted once: decodable, tricky, a name (or otherwise
    allowed), blocked, unsure. `parts` says in how many parts it was looked at. `lessons` are all so far, in the order of teaching. `graphemes` is how many the decodable words
    have, `apart` those that no lesson names by themselves (weakened vowels, doubled letters), most frequent first. `tricky` are the distinct tricky words of
    the text, most frequent first, each with its number (one that can be decoded by now counts as decodable), `blocked` those that are not yet
    decodable, `unsure` those that are to be checked by eye, in the same way; `tricky_new` are those that the step
    teaches, `tricky_unmet` those of them that the text does not hold. `sentences` is None for a word list.
    """

    path: str
    order: str
    step: int
    running: int
    statuses: Counter[str]
    parts: int
    lessons: tuple[Held, ...]
    graphemes: int
    apart: tuple[tuple[str, int], ...]
    tricky: tuple[tuple[str, int], ...]
    blocked: tuple[tuple[str, int], ...]
    unsure: tuple[tuple[str, int], ...]
    tricky_new: tuple[str, ...]
    tricky_unmet: tuple[str, ...]
    sentences: Sentences | None

    @property
    def new(self) -> list[Held]:
        """The lessons of the step itself."""
        return [held for held in self.lessons if held.step == self.step]

    @property
    def lacking(self) -> list[str]:
        """What the step teaches and the text does not hold, as a progression names it."""
        return [h.name for h in self.new if not h.words] + [f"tricky {word}" for word in self.tricky_unmet]

    @property
    def unmet_before(self) -> list[Held]:
        """The lessons before the step that the text does not hold."""
        return [held for held in self.lessons if held.step < self.step and not held.words]


@dataclass
class _Seen:
    """What of a lesson has been met so far."""

    words: dict[str, None] = field(default_factory=dict)
    places: Counter[str] = field(default_factory=Counter)
    parts: set[int] = field(default_factory=set)


def coverage(report: TextReport) -> Coverage:
    """What the text of a report gives practice in at its step. Raises ValueError for a report without every word."""
    if not report.every_word:
        raise ValueError("coverage needs a report with every word")
    finder = lesson_finder(report.order, report.step)
    running = len(report.which)
    parts = min(PARTS, running)
    kinds = [_kind(report, entry) for entry in report.entries]
    statuses: Counter[str] = Counter()
    times: Counter[int] = Counter(report.which)
    places: dict[int, set[int]] = defaultdict(set)
    for at, number in enumerate(report.which):
        places[number].add(at * parts // running)
    seen = [_Seen() for _ in finder.lessons]
    often: Counter[str] = Counter()
    tricky: Counter[str] = Counter()
    left: dict[str, Counter[str]] = {BLOCKED: Counter(), UNSURE: Counter()}
    apart: Counter[str] = Counter()
    graphemes = 0
    for number, (entry, kind) in enumerate(zip(report.entries, kinds)):
        number_of = times[number]
        statuses[kind] += number_of
        if kind == TRICKY:
            word = plain_spelling(entry.form).plain
            tricky[report.order.tricky_spelling.get(word, word)] += number_of
        if kind in left:
            left[kind][spelt(report, entry.form)] += number_of
        if kind != DECODABLE:
            continue
        word = spelt(report, entry.form)
        often[word] += number_of
        readings = report.verdict(entry).readings
        if not readings:
            continue
        # of a word whose sense the text leaves open, what it holds in every sense
        common = Counter(finder.places(readings[0]))
        for reading in readings[1:]:
            common &= Counter(finder.places(reading))
        for (lesson, place), here in common.items():
            seen[lesson].words[word] = None
            seen[lesson].places[place] += number_of * here
            seen[lesson].parts |= places[number]
        graphemes += number_of * sum(s.grapheme not in "'-" for s in readings[0].segments)
        for grapheme in finder.left_over(readings[0]):
            apart[grapheme] += number_of
    order = report.order
    new = sorted(word for word, at in order.tricky.items() if at == report.step)
    present = {plain_spelling(entry.form).plain for entry in report.entries}
    return Coverage(
        report.path,
        report.order.name,
        report.step,
        running,
        statuses,
        parts,
        _held(finder, seen, often),
        graphemes,
        _ranked(apart),
        _ranked(tricky),
        _ranked(left[BLOCKED]),
        _ranked(left[UNSURE]),
        tuple(order.tricky_spelling.get(word, word) for word in new),
        tuple(order.tricky_spelling.get(word, word) for word in new if word not in present),
        _sentences(report),
    )


def _kind(report: TextReport, entry: Entry) -> str:
    """What a form counts as: its status at its place, or that it is a name, whatever its letters."""
    status = report.verdict(entry).status
    if status == ALLOWED or entry.name or (status in (DECODABLE, TRICKY) and _is_name(report, entry.form)):
        return NAME
    return status if status in (DECODABLE, TRICKY, BLOCKED) else UNSURE


def _is_name(report: TextReport, form: str) -> bool:
    return form != "I" and report.judge.is_name(form)


def _held(finder: LessonFinder, seen: list[_Seen], often: Counter[str]) -> tuple[Held, ...]:
    found = []
    for lesson, met, offered in zip(finder.lessons, seen, finder.offered()):
        words = tuple(sorted(met.words, key=lambda word: (-often[word], word.lower(), word)))
        start, middle, end, whole = (met.places[place] for place in PLACES)
        mention = lesson.mention
        found.append(
            Held(
                lesson.statement, mention.kind, mention.step, words, start, middle, end, whole, len(met.parts), offered
            )
        )
    return tuple(found)


def _ranked(times: Counter[str]) -> tuple[tuple[str, int], ...]:
    return tuple(sorted(times.items(), key=lambda pair: (-pair[1], pair[0].lower(), pair[0])))


def _sentences(report: TextReport) -> Sentences | None:
    if report.document.kept != "text" or not report.which:
        return None
    starts: list[int] = []
    lengths: list[int] = []
    for start, first in zip(report.starts, first_words(report.document.text, zip(report.starts, report.ends))):
        if first:
            starts.append(start)
            lengths.append(0)
        lengths[-1] += 1
    longest = lengths.index(max(lengths))
    return Sentences(tuple(lengths), report.document.place(starts[longest]))
