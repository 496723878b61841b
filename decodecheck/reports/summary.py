"""What is said of a text as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from decodecheck.checking.report import TextReport
from decodecheck.errors import count, cut, cut_path
from decodecheck.insight.reasons import spelt
from decodecheck.judging.verdict import BLOCKED, LABELS, STATUSES, TRICKY, UNJUDGED, UNSURE
from decodecheck.printing import safe

MOST_WORDS = 8


def totals(report: TextReport, readers: Sequence[str]) -> Iterator[str]:
    """How many words cannot be read yet, from which step on all can, and what else there is: lines, the first with the path."""
    running, distinct = report.counts, report.distinct_counts()
    judged = sum(running[s] for s in STATUSES if s != UNJUDGED)
    name = cut_path(safe(report.path))
    if not judged:
        yield f"{name}: there is no word here to judge"
    elif running[BLOCKED]:
        yield f"{name}: {running[BLOCKED]} of {count(judged, 'word')} {LABELS[BLOCKED]} ({distinct[BLOCKED]} different)"
    elif running[UNSURE]:
        yield f"{name}: {running[UNSURE]} of {count(judged, 'word')} to check by eye, all others can be read"
    else:
        yield f"{name}: all {count(judged, 'word')} can be read"
    variant = f' ("{report.order.variant}")' if report.order.variant else ""
    yield f"  Checked at step {report.step} of {report.order.last}{variant}, {report.order.name}."
    if judged:
        yield from (f"  {line}" for line in _readiness(report))
    if report.accepted:
        yield f"  {in_the_baseline(len(report.accepted))}"
    if readers:
        yield f"  Groups that can read it: {', '.join(readers)}."
    others = [
        f"{_how_many(running[s], s)} ({distinct[s]} different)"
        for s in STATUSES
        if running[s] and s not in (BLOCKED, UNJUDGED)
    ]
    if others:
        yield f"  {'The others' if running[BLOCKED] else 'They are'}: {', '.join(others)}."
    if report.unjudged:
        shown = ", ".join(safe(cut(w)) for w in sorted(report.unjudged)[:MOST_WORDS])
        more = ", ..." if len(report.unjudged) > MOST_WORDS else ""
        yield f"  Not judged and not counted: {sum(report.unjudged.values())} ({shown}{more})."


def in_the_baseline(number: int) -> str:
    """That so many findings are not told."""
    return f"{count(number, 'finding')} {'is' if number == 1 else 'are'} in the baseline and not told here."


def _how_many(number: int, status: str) -> str:
    if status == TRICKY:
        return count(number, LABELS[status])
    return f"{number} {'to ' if status == UNSURE else ''}{LABELS[status]}"


def _readiness(report: TextReport) -> Iterator[str]:
    """The first step at which everything can be read, and the words that hold it back."""
    ready = report.ready_step()
    held, end = report.holding_back(), report.order.last
    if ready is not None:
        last = [w for w, s in held if s == ready]
        before = held[len(last)][1] if len(last) < len(held) else 0
        yield f"The text can be read from step {ready} on." if ready else "The text can be read at every step."
        if before < ready and len(last) <= MOST_WORDS and before:
            yield f"Without {_list(report, last)} it would be step {before}."
        return
    unknown = [w for w, v in report.distinct.items() if v.status == UNSURE and report.verdict_on(v).unlisted]
    not_known = frozenset(unknown)
    never = [w for w, s in held if s > end and w not in not_known]
    if never:
        yield f"{count(len(never), 'word').capitalize()} can be read at no step of this progression: {_list(report, never)}."
    if unknown:
        yield f"{count(len(unknown), 'word').capitalize()} that decodecheck does not know: {_list(report, sorted(unknown))}."
    rest = [s for w, s in held if s <= end]
    if rest:
        yield f"Without {'them' if len(never) + len(unknown) > 1 else 'it'}, the text can be read from step {max(rest)} on."


def _list(report: TextReport, words: list[str]) -> str:
    named = [cut(spelt(report, report.distinct[w].form)) for w in words]
    if len(named) > MOST_WORDS:
        return ", ".join(named[:MOST_WORDS]) + f" and {len(named) - MOST_WORDS} more"
    return ", ".join(named[:-1]) + " and " + named[-1] if len(named) > 1 else named[0]
