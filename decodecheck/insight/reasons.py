"""Why the words of a text cannot be read yet: each distinct word once, under the reason that falls away last; and what would help most."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import NamedTuple

from decodecheck.checking.findings._words import is_rare, item_text
from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Entry
from decodecheck.insight.help import Need
from decodecheck.judging.verdict import (
    BLOCKED,
    CAPITAL,
    DOUBLED,
    ENDING,
    EXCEPTED,
    IRREGULAR,
    STRUCTURE,
    Blocker,
    Verdict,
)
from decodecheck.lexicon.forms import UNSEEN
from decodecheck.lexicon.items import GPC, Item
from decodecheck.lexicon.store import NEVER
from decodecheck.phonics.inventory import inventory
from decodecheck.phonics.shape_names import in_words

MOST_MARKED = 1000
"""Distinct forms; of more, none is told with the letters that are in the way."""
MOST_CHANGES = 3
TRICKY_WORD = "tricky "
EVERYDAY = 12
"""The highest cost in the inventory of a correspondence that is taught for the sake of many words."""
LOOKED_AT = 14
"""So many single changes are tried in every combination: those that are in the way of most running words."""


class Told(NamedTuple):
    """A distinct word that is told: how it is written, how often it stands there, what is in its way (of a text with very many
    words without the letters), the tricky word that it waits for and its step; whether it is blocked, not known, a name."""

    form: str
    times: int
    blockers: tuple[Blocker, ...]
    tricky_word: str = ""
    tricky_at: int | None = None
    blocked: bool = True
    unlisted: bool = False
    is_name: bool = False
    first_step: int = 0
    """From which step on it can be read; NEVER where it cannot."""


@dataclass(frozen=True, slots=True)
class Reason:
    """What is in the way of some words: how it is named, from which step on it is not (NEVER: from none), and the words."""

    name: str
    step: int
    words: tuple[Told, ...]

    @property
    def times(self) -> int:
        """How many running words it is in the way of."""
        return sum(word.times for word in self.words)


@dataclass(frozen=True, slots=True)
class Help:
    """A few changes that clear most running words of a text: each as a progression would write it, and how many they clear."""

    changes: tuple[str, ...]
    cleared: int


@dataclass(frozen=True, slots=True)
class Reasons:
    """The words of a text that are told: names that may be allowed, blocked words by reason, words that are not known, and words
    with several sounds of which only some can be read. `help` is what would help most, None where nothing helps more than one word."""

    names: tuple[Told, ...]
    reasons: tuple[Reason, ...]
    unknown: tuple[Told, ...]
    undecided: tuple[Told, ...]
    help: Help | None = None


def reasons(report: TextReport) -> Reasons:
    """The distinct words of a text that cannot be read for sure, by reason."""
    names: list[Told] = []
    unknown: list[Told] = []
    undecided: list[Told] = []
    grouped: dict[tuple[int, str], list[Told]] = {}
    for told in _distinct(report):
        if told.is_name:
            names.append(told)
        elif told.blocked:
            grouped.setdefault(_last(told), []).append(told)
        else:
            (unknown if told.unlisted else undecided).append(told)
    found = (
        Reason(name, step, tuple(sorted(words, key=lambda w: (-w.times, w.form.lower()))))
        for (step, name), words in grouped.items()
    )
    ordered = sorted(found, key=lambda r: (r.step, -r.times, r.name))
    alphabet = (tuple(sorted(words, key=lambda w: w.form.lower())) for words in (names, unknown, undecided))
    names_, unknown_, undecided_ = alphabet
    return Reasons(names_, tuple(ordered), unknown_, undecided_, _most_help(w for r in ordered for w in r.words))


def _distinct(report: TextReport) -> list[Told]:
    """Each distinct word that is told: a name once, another word once for each set of things in its way, capitals not minded."""
    occurrences = report.open
    many, judge = len(occurrences) > MOST_MARKED, report.judge
    short: Sequence[tuple[Blocker, ...] | None] = [None] * len(occurrences)
    if many:
        short = judge.hindrances([o.form if not o.sense else "" for o in occurrences])
    times: Counter[tuple[str, bool, tuple[Item, ...]]] = Counter()
    first: dict[tuple[str, bool, tuple[Item, ...]], tuple[str, Verdict | None, tuple[Blocker, ...]]] = {}
    ready: dict[tuple[str, bool, tuple[Item, ...]], int] = {}
    known: dict[int, tuple[Item, ...]] = {}
    for o, hindrance in zip(occurrences, short):
        form, verdict, wanted = o.form, None, None
        name = not form.islower() and form != "I" and (judge.is_name(form) or o.plain in report.names_here)
        if name and many:
            hindrance = ()
        elif hindrance is not None:
            wanted = known.get(id(hindrance))
            if wanted is None:
                wanted = known[id(hindrance)] = _items(hindrance)
        else:
            form = form if form.isascii() else re.sub(f"[{UNSEEN}]", "", form)
            verdict = report.verdict(Entry(form, False, o.sense))
            hindrance = verdict.blockers
            wanted = _items(hindrance)
        key = o.plain, name, wanted if wanted is not None and not name else ()
        times[key] += o.times
        ready[key] = max(o.first_step, ready.get(key, 0))
        if key not in first:
            first[key] = form, verdict, hindrance
    return [
        _told(_spelt(form, name=key[1]), times[key], verdict, found, key[1])._replace(first_step=ready[key])
        for key, (form, verdict, found) in first.items()
    ]


def _items(hindrance: tuple[Blocker, ...]) -> tuple[Item, ...]:
    return tuple(dict.fromkeys([b.item for b in hindrance]))


def _told(form: str, times: int, verdict: Verdict | None, hindrance: tuple[Blocker, ...], name: bool) -> Told:
    if verdict is None:
        return Told(form, times, hindrance, is_name=name)
    known = verdict.tricky_word, verdict.tricky_at
    return Told(form, times, hindrance, *known, verdict.status == BLOCKED, verdict.unlisted, name)


def spelt(report: TextReport, form: str) -> str:
    """A word as a summary names it: in small letters, but for a name."""
    straight = form.replace("’", "'")
    return _spelt(form, name=report.judge.is_name(straight))


def _spelt(form: str, *, name: bool) -> str:
    straight = form.replace("’", "'")
    if not name:
        return straight if straight == "I" else straight.lower()
    return straight.capitalize() if straight.isupper() and len(straight) > 1 else straight


def _last(told: Told) -> tuple[int, str]:
    """What of a blocked word's reasons falls away last: (step, its name); several at one step are named together."""
    if told.tricky_word:
        return told.tricky_at or NEVER, f"tricky {told.tricky_word}"
    steps = [NEVER if b.cause == EXCEPTED else b.taught_at or NEVER for b in told.blockers]
    last = max(steps, default=NEVER)
    name = " + ".join(dict.fromkeys([name_of(b) for b, step in zip(told.blockers, steps) if step == last]))
    if told.first_step > last:
        # of its two sounds, the one that comes first is told; the text does not say which is meant
        return told.first_step, f"{name}, and the word's other sound"
    return last, name


def name_of(blocker: Blocker) -> str:
    """What is in the way, as people name it: ea as in head; the ending -ing; two consonants at the start (CCVC, as in stop)."""
    if blocker.cause == EXCEPTED:
        return f"{item_text(blocker)}, left out for this group"
    if blocker.cause == ENDING:
        return f"the ending {blocker.grapheme}"
    if blocker.cause == STRUCTURE:
        return in_words(blocker.grapheme)
    if blocker.cause == CAPITAL:
        return f"the capital {blocker.grapheme}"
    if blocker.cause == DOUBLED:
        return f"doubled {blocker.grapheme}"
    if blocker.cause == IRREGULAR:
        return "a spelling of their own"
    place = blocker.elsewhere[0]
    return item_text(blocker) + (f", not {place}" if place else "")


def _most_help(blocked: Iterable[Told]) -> Help | None:
    """The few lessons and tricky words that, taught by the step of the check, would clear most running words; None where each would
    clear no more than one.

    Every combination of up to three of the changes that are in the way of most running words is tried.
    """
    wanted: Counter[str] = Counter()
    waiting: Counter[frozenset[str]] = Counter()
    words = list(blocked)
    for told, needs in zip(words, _of_each(words)):
        waiting[needs] += told.times
        for need in needs:
            wanted[need] += told.times
    candidates = sorted(wanted, key=lambda change: (-wanted[change], change))[:LOOKED_AT]
    bits = {change: 1 << at for at, change in enumerate(candidates)}
    cleared_by: Counter[int] = Counter()
    for needs, times in waiting.items():
        if needs <= bits.keys():
            cleared_by[sum(bits[need] for need in needs)] += times
    best: tuple[int, tuple[str, ...]] = (0, ())
    for number in range(1, MOST_CHANGES + 1):
        for chosen in combinations(candidates, number):
            left_out = ~sum(bits[change] for change in chosen)
            cleared = sum(times for mask, times in cleared_by.items() if not mask & left_out)
            if cleared > best[0]:
                best = cleared, chosen
    # as many changes as words help nobody
    return Help(best[1], best[0]) if best[0] > len(best[1]) else None


def needs(report: TextReport) -> list[Need]:
    """What each distinct word of a text that cannot be read would need: lessons, or to be taught whole. Names are left out: they are allowed
    rather than taught."""
    words = [told for told in _distinct(report) if told.blocked and not told.is_name]
    found = []
    for told, lessons in zip(words, _of_each(words)):
        taught = frozenset(lesson for lesson in lessons if not lesson.startswith(TRICKY_WORD))
        whole = next((lesson for lesson in lessons if lesson.startswith(TRICKY_WORD)), f"{TRICKY_WORD}{told.form}")
        found.append(Need(told.times, taught, whole))
    return found


def _of_each(words: Sequence[Told]) -> list[frozenset[str]]:
    """What would have to be taught for each of some words. One that alone needs an uncommon correspondence (the a of the word a, the ai of captain) is
    better taught whole, and so is one that is nothing but its grapheme."""
    found = [_needs(told) for told in words]
    often = Counter(need for needs in found for need in needs)
    return [
        frozenset((f"{TRICKY_WORD}{told.form}",))
        if any(
            (_is_uncommon(b) or b.grapheme == told.form.lower()) and often[_statement(b)] == 1 for b in told.blockers
        )
        else needs
        for told, needs in zip(words, found)
    ]


def _is_uncommon(blocker: Blocker) -> bool:
    known = inventory().get(*blocker.item.correspondence) if blocker.item.kind == GPC else None
    return known is not None and known.cost > EVERYDAY


def _needs(told: Told) -> frozenset[str]:
    """What would have to be taught for a word, each as a progression would write it."""
    if told.tricky_word:
        return frozenset((f"{TRICKY_WORD}{told.tricky_word}",))
    if any(b.cause == IRREGULAR or is_rare(b) for b in told.blockers):
        return frozenset((f"{TRICKY_WORD}{told.form}",))
    return frozenset([_statement(b) for b in told.blockers])


def _statement(blocker: Blocker) -> str:
    if blocker.cause == STRUCTURE:
        return f"structure {blocker.grapheme}"
    return f"teach {item_text(blocker)}"
