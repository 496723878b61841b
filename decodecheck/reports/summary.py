"""What is said of a text as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from decodecheck.checking.report import TextReport
from decodecheck.checking.reported import Reported
from decodecheck.errors import count, cut, cut_path
from decodecheck.insight.reasons import spelt
from decodecheck.judging.verdict import ALLOWED, BLOCKED, LABELS, STATUSES, TRICKY, UNJUDGED, UNSURE
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
    yield from (f"  {line}" for line in passing(report))
    if judged:
        yield from (f"  {line}" for line in _readiness(report))
    if report.accepted:
        yield f"  {in_the_baseline(len(report.accepted))}"
    if readers:
        yield f"  Groups that can read it: {', '.join(readers)}."
    yield from (f"  {line}" for line in others(report))


def others(report: TextReport) -> Iterator[str]:
    """What the words are that can be read, and which were not judged: sentences."""
    running, distinct = report.counts, report.distinct_counts()
    found: list[str] = []
    for status in STATUSES:
        if status == ALLOWED:
            found += _allowed(report)
        elif running[status] and status not in (BLOCKED, UNJUDGED):
            found.append(f"{_how_many(running[status], status)} ({distinct[status]} different)")
    if found:
        yield f"{'The others' if running[BLOCKED] else 'They are'}: {', '.join(found)}."
    if report.unjudged:
        shown = ", ".join(safe(cut(w)) for w in sorted(report.unjudged)[:MOST_WORDS])
        more = ", ..." if len(report.unjudged) > MOST_WORDS else ""
        yield f"Not judged and not counted: {sum(report.unjudged.values())} ({shown}{more})."


def in_the_baseline(number: int) -> str:
    """That so many findings are not told."""
    return f"{count(number, 'finding')} {'is' if number == 1 else 'are'} in the baseline and not told here."


def _allowed(report: TextReport) -> list[str]:
    """How many words the progression allows, and how many somebody allows in this text."""
    by_hand = report.allowed_here
    named = {o.plain: o.times for o in report.occurrences if o.status == ALLOWED}
    usual = report.counts[ALLOWED] - sum(by_hand.values())
    different = sum(word not in by_hand for word in named)
    return [
        *([f"{usual} {LABELS[ALLOWED]} ({different} different)"] if usual else []),
        *([f"{sum(by_hand.values())} allowed here ({len(by_hand)} different)"] if by_hand else []),
    ]


def passing(report: Reported) -> Iterator[str]:
    """What the project's `allow_blocked` makes of a report."""
    most = report.treatment.allow_blocked
    if report.errors and most:
        words = f"up to {count(most, 'word')} that cannot be read yet"
        said = f"{words} pass here" if report.let_through else f"{words} would pass here"
        yield f"{said[0].upper()}{said[1:]} (allow_blocked){'' if report.let_through else '; there are more'}."


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
