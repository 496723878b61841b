"""What a change of a progression does: lessons that moved, words gained and lost at each step, texts whose verdict changes."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import accumulate

from decodecheck.checking.findings._words import reasons
from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Word
from decodecheck.documents.document import Place
from decodecheck.insight.matching import counterparts, match_steps
from decodecheck.insight.naming import named
from decodecheck.judging.verdict import BLOCKED, UNSURE
from decodecheck.lexicon.common_words import common_words
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import NEVER
from decodecheck.progression.first_steps import first_steps
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.statements import SETTINGS

COMMON = 5000
"""How many of the commonest words are looked at."""


@dataclass(frozen=True, slots=True)
class Moved:
    """A lesson with its old and its new step, None where it is not taught."""

    name: str
    old: int | None
    new: int | None


@dataclass(frozen=True, slots=True)
class StepChange:
    """An old step, the new one that stands for it, and the common words that can be read by it now, or no longer."""

    old: int
    new: int
    gained: tuple[str, ...]
    lost: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WordChange:
    """A word of a text whose status changes, what stands in its way now, and where it stands."""

    word: str
    before: str
    after: str
    reason: str
    places: tuple[Place, ...] = ()


@dataclass(frozen=True, slots=True)
class TextChange:
    """A text at its declared step before and after, in the `accent` in which it is read now: how many running words are blocked, and the words that
    change."""

    path: str
    accent: str
    old_step: int
    new_step: int
    blocked_before: int
    blocked_after: int
    words: tuple[WordChange, ...]

    @property
    def broken(self) -> bool:
        """Was it clean, and is no longer?"""
        return not self.blocked_before and self.blocked_after > 0


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything that differs between two progressions. `matched` maps old steps to new ones, `stands` to where a class
    stands that has finished the old one; `renumbered` are matched steps whose number or title changed; `dropped` and `added` those without a counterpart; `settings` what stands outside steps."""

    old: TeachingOrder
    new: TeachingOrder
    matched: dict[int, int]
    stands: dict[int, int]
    renumbered: tuple[tuple[int, int], ...]
    dropped: tuple[int, ...]
    added: tuple[int, ...]
    settings: tuple[str, ...]
    moved: tuple[Moved, ...]
    steps: tuple[StepChange, ...]


def compare(old: TeachingOrder, new: TeachingOrder) -> Comparison:
    """Compare two progressions."""
    matched = match_steps(old, new)
    old_titles, titles = ({s.number: s.title for s in order.steps} for order in (old, new))
    stands = counterparts(old, new, matched)
    renumbered = [(s.number, matched[s.number]) for s in old.steps if s.number in matched]
    parts = {n for a, b in renumbered for n in range(b, stands[a] + 1)}
    return Comparison(
        old,
        new,
        matched,
        stands,
        tuple((a, b) for a, b in renumbered if a != b or old_titles[a] != titles[b]),
        tuple(s.number for s in old.steps if s.number not in matched),
        tuple(s.number for s in new.steps if s.number not in parts),
        tuple(change for setting in SETTINGS for change in setting.changes(old, new)),
        tuple(_moved(old, new, matched, stands)),
        tuple(_steps(old, new, stands)),
    )


def _moved(old: TeachingOrder, new: TeachingOrder, matched: dict[int, int], stands: dict[int, int]) -> Iterator[Moved]:
    def stays(before: int, after: int | None) -> bool:
        return after is not None and before in matched and matched[before] <= after <= stands[before]

    another = old.accent != new.accent
    if another:
        # another accent merges other sounds, so the same lesson stands for other items: lessons are compared as they are written
        written_old, written_new = ({m.label: m.step for m in order.mentions} for order in (old, new))
        for label, taught_at in written_old.items():
            if not stays(taught_at, written_new.get(label)):
                yield Moved(label, taught_at, written_new.get(label))
        yield from (Moved(label, None, step) for label, step in written_new.items() if label not in written_old)
    for mention in () if another else old.mentions:
        by_step: dict[int | None, set[Item]] = {}
        for key in mention.keys:
            by_step.setdefault(new.item_step.get(key), set()).add(key)
        for step, keys in sorted(by_step.items(), key=lambda pair: pair[0] or NEVER):
            taught = named(old, mention, frozenset(keys))
            if taught and not stays(mention.step, step):
                yield Moved(taught.statement, mention.step, step)
    for mention in () if another else new.mentions:
        taught = named(new, mention, frozenset(key for key in mention.keys if key not in old.item_step))
        if taught:
            yield Moved(taught.statement, None, mention.step)
    spelling = old.tricky_spelling | new.tricky_spelling
    for word in [*old.tricky, *(w for w in new.tricky if w not in old.tricky)]:
        before, after = old.tricky.get(word), new.tricky.get(word)
        if before is None or not stays(before, after):
            yield Moved(f"tricky {spelling[word]}", before, after)


def _steps(old: TeachingOrder, new: TeachingOrder, stands: dict[int, int]) -> Iterator[StepChange]:
    words = common_words(old.lexicon, COMMON)
    before, after = ([first_steps(order).readable(word) for word in words] for order in (old, new))
    numbers = [head.number for head in old.steps]
    there = [stands[number] for number in numbers]
    # where a class stands never falls, but where one of two joined steps was divided as well
    highest = list(accumulate(there, max))
    falls = highest != there
    gained: list[list[str]] = [[] for _ in numbers]
    lost: list[list[str]] = [[] for _ in numbers]
    for word, a, b in zip(words, before, after):
        taught, readable = bisect_left(numbers, a), bisect_left(highest, b)
        # before `taught` it could not be read; from `readable` on it can be, if at all
        for at in range(min(readable, taught), taught):
            if there[at] >= b:
                gained[at].append(word)
        for at in range(taught, len(numbers) if falls else max(taught, readable)):
            if there[at] < b:
                lost[at].append(word)
    for number, now, more, fewer in zip(numbers, there, gained, lost):
        if more or fewer:
            yield StepChange(number, now, tuple(more), tuple(fewer))


def text_change(before: TextReport, after: TextReport) -> TextChange | None:
    """What changes for one text between two reports on it; None where nothing does."""
    changed: list[tuple[str, str, Word]] = []
    for word, found in sorted(after.distinct.items()):
        earlier = before.distinct.get(word)
        was = earlier.status if earlier else found.status
        if was != found.status and {was, found.status} & {BLOCKED, UNSURE}:
            changed.append((word, was, found))
    if not changed and before.errors == after.errors:
        return None
    places = _places({word for word, _, _ in changed}, before, after)
    words = tuple(
        WordChange(word, was, found.status, _reason(before, after, word, found), tuple(places[word]))
        for word, was, found in changed
    )
    return TextChange(before.path, after.order.accent, before.step, after.step, before.errors, after.errors, words)


def _places(words: Collection[str], *reports: TextReport) -> dict[str, list[Place]]:
    """Where words stand that one of the reports tells."""
    starts: dict[str, set[int]] = {word: set() for word in words}
    plain: dict[str, str] = {}
    for report in reports:
        for start, _, entry in report.sites:
            if entry.form not in plain:
                plain[entry.form] = plain_spelling(entry.form).plain
            if plain[entry.form] in starts:
                starts[plain[entry.form]].add(start)
    document = reports[0].document
    return {word: [document.place(start) for start in sorted(found)] for word, found in starts.items()}


def _reason(before: TextReport, after: TextReport, word: str, found: Word) -> str:
    """Why a word is blocked after the change; "" where it is not."""
    if found.status != BLOCKED:
        return ""
    verdict = after.judge.judge(found.form, found.sense)
    if verdict.tricky_at is not None and verdict.tricky_at < NEVER:
        return f"a tricky word of step {verdict.tricky_at}"
    whole = word in before.order.tricky and word not in after.order.tricky
    return ("no longer a tricky word. " if whole else "") + reasons(verdict.blockers).rstrip(".")
