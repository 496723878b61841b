"""Why the words of a text cannot be read yet: each distinct word once, under the reason that falls away last; and what would help most."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from decodecheck.checking.findings._words import is_rare, item_text
from decodecheck.checking.report import Entry, TextReport
from decodecheck.judging.verdict import (
    BLOCKED,
    CAPITAL,
    DOUBLED,
    ENDING,
    IRREGULAR,
    STRUCTURE,
    UNSURE,
    Blocker,
    Verdict,
)
from decodecheck.lexicon.forms import UNSEEN
from decodecheck.lexicon.items import Item
from decodecheck.lexicon.store import NEVER
from decodecheck.phonics.shape_names import in_words

MOST_CHANGES = 3
LOOKED_AT = 14
"""So many single changes are tried in every combination: those that are in the way of most running words."""


@dataclass(frozen=True, slots=True)
class Told:
    """A distinct word that is told: how it is written, its verdict, and how often it stands there."""

    form: str
    verdict: Verdict
    times: int


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
class Reasons:
    """The words of a text that are told: names that may be allowed, blocked words by reason, words that are not known, and words
    with several sounds of which only some can be read."""

    names: tuple[Told, ...]
    reasons: tuple[Reason, ...]
    unknown: tuple[Told, ...]
    undecided: tuple[Told, ...]


@dataclass(frozen=True, slots=True)
class Help:
    """A few changes that clear most running words of a text: each as a progression would write it, and how many they clear."""

    changes: tuple[str, ...]
    cleared: int


def reasons(report: TextReport) -> Reasons:
    """The distinct words of a text that cannot be read for sure, by reason."""
    names: list[Told] = []
    unknown: list[Told] = []
    undecided: list[Told] = []
    grouped: dict[tuple[int, str], list[Told]] = {}
    for told in _distinct(report):
        if report.judge.is_name(told.form) and told.form != "I":
            names.append(told)
        elif told.verdict.status == BLOCKED:
            grouped.setdefault(_last(told.verdict), []).append(told)
        else:
            (unknown if told.verdict.unlisted else undecided).append(told)
    found = (
        Reason(name, step, tuple(sorted(words, key=lambda w: (-w.times, w.form.lower()))))
        for (step, name), words in grouped.items()
    )
    ordered = sorted(found, key=lambda r: (r.step, -r.times, r.name))
    alphabet = (tuple(sorted(words, key=lambda w: w.form.lower())) for words in (names, unknown, undecided))
    names_, unknown_, undecided_ = alphabet
    return Reasons(names_, tuple(ordered), unknown_, undecided_)


def _distinct(report: TextReport) -> Iterator[Told]:
    """Each distinct word that is told, once for each set of things in its way; capitals are not minded where they change nothing."""
    times: Counter[tuple[str, tuple[Item, ...]]] = Counter()
    first: dict[tuple[str, tuple[Item, ...]], tuple[str, Verdict]] = {}
    for o in report.occurrences:
        if o.status in (BLOCKED, UNSURE):
            form = o.form if o.form.isascii() else re.sub(f"[{UNSEEN}]", "", o.form)
            verdict = report.verdict(Entry(form, False, o.sense))
            key = o.plain, tuple(b.item for b in verdict.blockers)
            times[key] += o.times
            first.setdefault(key, (form, verdict))
    for key, (form, verdict) in first.items():
        yield Told(spelt(report, form), verdict, times[key])


def spelt(report: TextReport, form: str) -> str:
    """A word as a summary names it: in small letters, but for a name."""
    straight = form.replace("’", "'")
    if not report.judge.is_name(straight):
        return straight if straight == "I" else straight.lower()
    return straight.capitalize() if straight.isupper() and len(straight) > 1 else straight


def _last(verdict: Verdict) -> tuple[int, str]:
    """What of a blocked word's reasons falls away last: (step, its name); several at one step are named together."""
    if verdict.tricky_word:
        return verdict.tricky_at or NEVER, f"tricky {verdict.tricky_word}"
    steps = [b.taught_at or NEVER for b in verdict.blockers]
    last = max(steps, default=NEVER)
    return last, " + ".join(dict.fromkeys(name_of(b) for b, step in zip(verdict.blockers, steps) if step == last))


def name_of(blocker: Blocker) -> str:
    """What is in the way, as people name it: ea as in head; the ending -ing; two consonants at the start (CCVC, as in stop)."""
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
    return item_text(blocker)


def most_help(report: TextReport) -> Help | None:
    """The few lessons and tricky words that, taught by the step of the check, would clear most running words; None where each would
    clear no more than one.

    Every combination of up to three of the changes that are in the way of most running words is tried.
    """
    waiting: Counter[frozenset[str]] = Counter()
    """Running words by what would have to be taught, or by the one tricky word that would do instead."""
    wanted: Counter[str] = Counter()
    for told in _distinct(report):
        if told.verdict.status != BLOCKED or report.judge.is_name(told.form):
            continue
        needs = _needs(told)
        waiting[needs] += told.times
        for need in needs:
            wanted[need] += told.times
    candidates = [change for change, _ in wanted.most_common(LOOKED_AT)]
    best: tuple[int, int, tuple[str, ...]] = (0, 0, ())
    for number in range(1, MOST_CHANGES + 1):
        for chosen in combinations(candidates, number):
            cleared = sum(times for needs, times in waiting.items() if needs.issubset(chosen))
            if cleared > best[0]:
                best = cleared, number, chosen
    # as many changes as words help nobody
    return Help(best[2], best[0]) if best[0] > best[1] else None


def _needs(told: Told) -> frozenset[str]:
    """What would have to be taught for a word, each as a progression would write it."""
    if told.verdict.tricky_word:
        return frozenset((f"tricky {told.verdict.tricky_word}",))
    if any(b.cause == IRREGULAR or is_rare(b) for b in told.verdict.blockers):
        return frozenset((f"tricky {told.form}",))
    return frozenset(_statement(b) for b in told.verdict.blockers)


def _statement(blocker: Blocker) -> str:
    if blocker.cause == STRUCTURE:
        return f"structure {blocker.grapheme}"
    return f"teach {item_text(blocker)}"
