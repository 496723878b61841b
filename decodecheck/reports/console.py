"""The report for people: each blocked word in its line, why, when, what to do; then a summary."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from decodecheck.api import CheckedText
from decodecheck.checking.findings._words import when
from decodecheck.checking.report import Finding, TextReport
from decodecheck.checking.verdict import BLOCKED, LABELS, STATUSES, UNJUDGED, UNSURE, Blocker
from decodecheck.errors import count, cut, cut_path, excerpt_lines, shortened
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.printing import columns, safe

MOST_BLOCKERS = 12
MOST_WORDS = 8


def mark(word: str, blockers: tuple[Blocker, ...]) -> str:
    """A word with the letters of its blockers in brackets: br[ea]d, m[a]k[e]. The end of a very long one is cut off."""
    marked = {i for b in blockers for i in b.letters}
    shown, out = cut(word), []
    for i, letter in enumerate(shown):
        if i - 1 in marked and not columns(letter):
            marked.add(i)  # an accent stays with its letter
    for i, letter in enumerate(shown):
        if i in marked and i - 1 not in marked:
            out.append("[")
        out.append(letter)
        if i in marked and i + 1 not in marked:
            out.append("]")
    return "".join(out)


def render(checked: CheckedText) -> Iterator[str]:
    """The lines of one text's report."""
    report = checked.report
    variant = f' ("{checked.order.variant}")' if checked.order.variant else ""
    yield f"{_name(report)}: checked at step {report.step} of {checked.order.last}{variant}, {checked.order.name}"
    yield ""
    explained: set[tuple[str, str, str]] = set()
    for at, finding in enumerate(report.findings):
        # the same word may stand in the way for another reason elsewhere: in another sense, with a capital
        key = (finding.word.lower(), finding.kind, finding.message)
        if key in explained:
            yield f"{_head(report, finding)}, as above"
            continue
        explained.add(key)
        if at:
            yield ""
        yield from _finding(report, finding)
    if report.findings:
        yield ""
    yield from _summary(checked)


def _name(report: TextReport) -> str:
    return cut_path(safe(report.source.path))


def _head(report: TextReport, finding: Finding) -> str:
    word = mark(" ".join(finding.word.split()), finding.blockers)
    return f"{_name(report)}:{finding.line}:{finding.column}: {word} - {LABELS[finding.status]}"


def _finding(report: TextReport, finding: Finding) -> Iterator[str]:
    yield _head(report, finding)
    width = finding.end - finding.start if finding.line == finding.end_line else len(finding.word.split("\n")[0])
    yield from excerpt_lines(report.source.line(finding.line), finding.column, width)
    yield f"  {shortened(finding.message)}"
    for line in shortened(finding.remedy).split("\n"):
        yield f"  {line}"


def _summary(checked: CheckedText) -> Iterator[str]:
    report = checked.report
    running, distinct = report.counts, report.distinct_counts()
    judged = sum(running[s] for s in STATUSES if s != UNJUDGED)
    kinds = sum(distinct.values())
    yield f"{count(judged, 'word')} ({kinds} different):"
    for status in STATUSES:
        if running[status] and status != UNJUDGED:
            yield f"  {LABELS[status]:<18}{running[status]:>7}   ({distinct[status]} different)"
    if report.unjudged:
        shown = ", ".join(safe(cut(w)) for w in sorted(report.unjudged)[:MOST_WORDS])
        yield f"  not judged and not counted: {sum(report.unjudged.values())} ({shown}{', ...' if len(report.unjudged) > MOST_WORDS else ''})"
    ranked = rank_blockers(report)
    if ranked:
        yield ""
        yield "What stands in the way, what holds back most words first:"
        for blocker, blocked in ranked[:MOST_BLOCKERS]:
            words, times = sorted(blocked), blocked.total()
            name = f"{blocker.grapheme} as in {blocker.as_in}" if blocker.as_in else blocker.grapheme
            some = ", ".join(_spelt(report, w) for w in words[:MOST_WORDS]) + (
                ", ..." if len(words) > MOST_WORDS else ""
            )
            often = f", {times} times" if times > len(words) else ""
            yield f"  {name:<22} {count(len(words), 'word')}{often}, {when(blocker.taught_at)}: {some}"
        if len(ranked) > MOST_BLOCKERS:
            yield f"  and {len(ranked) - MOST_BLOCKERS} more"
    yield ""
    yield from _readiness(checked)
    yield ""


def _readiness(checked: CheckedText) -> Iterator[str]:
    """The first step at which everything can be read, and the words that hold it back."""
    report = checked.report
    ready = report.ready_step()
    held = report.holding_back()
    if not held:
        yield "There is no word here to judge."
        return
    if ready is not None:
        last = [w for w, s in held if s == ready]
        before = held[len(last)][1] if len(last) < len(held) else 0
        yield f"The text can be read from step {ready} on." if ready else "The text can be read at every step."
        if before < ready and len(last) <= MOST_WORDS and before:
            yield f"  Without {_list(report, last)} it would be step {before}."
        return
    unknown = [
        w
        for w, v in report.distinct.items()
        if v.status == UNSURE and report.judge.judge(v.form, v.sense).kind == "unlisted-word"
    ]
    not_known = frozenset(unknown)
    never = [w for w, s in held if s > checked.order.last and w not in not_known]
    if never:
        yield f"{count(len(never), 'word').capitalize()} can be read at no step of this progression: {_list(report, never)}."
    if unknown:
        yield f"{count(len(unknown), 'word').capitalize()} that decodecheck does not know: {_list(report, sorted(unknown))}."
    rest = [s for w, s in held if s <= checked.order.last]
    if rest:
        yield f"  Without {'them' if len(never) + len(unknown) > 1 else 'it'}, the text can be read from step {max(rest)} on."


def _spelt(report: TextReport, word: str) -> str:
    """A word as a summary names it: names keep their capital."""
    form = report.distinct[word].form.replace("’", "'")
    if not report.judge.is_name(form):
        return cut(word)
    return cut(form.capitalize() if form.isupper() and len(form) > 1 else form)


def _list(report: TextReport, words: list[str]) -> str:
    words = [_spelt(report, w) for w in words]
    if len(words) > MOST_WORDS:
        return ", ".join(words[:MOST_WORDS]) + f" and {len(words) - MOST_WORDS} more"
    return ", ".join(words[:-1]) + " and " + words[-1] if len(words) > 1 else words[0]


def rank_blockers(report: TextReport) -> list[tuple[Blocker, Counter[str]]]:
    """What blocks words, with the words it blocks and how often; what blocks most distinct words comes first."""
    words: dict[str, Counter[str]] = defaultdict(Counter)
    sample: dict[str, Blocker] = {}
    for (form, sense, status), times in sorted(report.occurrences.items()):
        if status != BLOCKED:
            continue
        for blocker in report.judge.judge(form, sense).blockers:
            key = (
                f"{blocker.grapheme}|{blocker.as_in}|{''.join(blocker.sounds) if blocker.cause == 'irregular' else ''}"
            )
            sample.setdefault(key, blocker)
            if blocker.taught_at is not None and sample[key].cause == "tricky-later":
                sample[key] = blocker
            words[key][plain_spelling(form).plain] += times
    ranked = sorted(words, key=lambda k: (-len(words[k]), -words[k].total(), k))
    return [(sample[k], words[k]) for k in ranked]


def closing(checked: list[CheckedText], errors: int) -> Iterator[str]:
    """The lines after the last text."""
    if len(checked) + errors < 2:
        return
    if not checked:
        yield f"{count(errors, 'text')} could not be checked."
        return
    blocked = [c for c in checked if c.report.errors]
    unsure = [c for c in checked if not c.report.errors and c.report.counts[UNSURE]]
    clean = len(checked) - len(blocked) - len(unsure)
    yield (
        f"{count(len(checked), 'text')}: {clean} fine, {len(blocked)} with words that cannot be read yet, {len(unsure)} with words to check by eye"
        + (f"; {errors} could not be checked." if errors else ".")
    )
