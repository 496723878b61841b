"""What is done with the texts of a folder besides checking them: in each accent, under two progressions, their words counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from decodecheck.bounds import real
from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.checking.treated import treated
from decodecheck.errors import Problem, UserError
from decodecheck.insight.compare import Comparison, TextChange, compare, text_change
from decodecheck.insight.coverage import Coverage, coverage
from decodecheck.insight.fit import Fitted, fit
from decodecheck.insight.help import best_changes
from decodecheck.insight.reasons import needs, spelt
from decodecheck.insight.replacing import Replacements, replacements
from decodecheck.judging.judge import judge_at
from decodecheck.judging.verdict import ALLOWED, BLOCKED, UNSURE
from decodecheck.phonics.sounds import ACCENTS
from decodecheck.progression.many import first_of
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve
from decodecheck.progression.step_expression import choose_step, renumbered
from decodecheck.project.git import State
from decodecheck.run import Failure, guarded
from decodecheck.session import Session, passed_over
from decodecheck.source import NO_SUCH_FILE, SourceText, decode, read_text, shown


@dataclass
class Compared:
    """A comparison of two progressions, and of the texts of a folder: those whose verdict changes, what could not be checked,
    how many were compared."""

    comparison: Comparison
    changes: list[TextChange] = field(default_factory=list)
    failures: list[Failure] = field(default_factory=list)
    compared: int = 0
    elsewhere: int = 0
    """Texts of the folder that follow another progression, and were left out."""


@dataclass
class Counted:
    """How often words occur in the texts of a folder, and what could not be counted."""

    words: Counter[str] = field(default_factory=Counter)
    failures: list[Failure] = field(default_factory=list)


MOST_CHANGES = 5
ByAccent = dict[str, dict[str, str]]
"""Status by accent of distinct words."""


def by_accent(session: Session, paths: Sequence[str]) -> Iterator[tuple[str, ByAccent] | Failure]:
    """For each text under the paths, in order, the words whose status is not the same in all accents; failures for what cannot be
    read.

    The progression is read as if it named each accent in turn.
    """
    failures: list[Failure] = []
    found = session.found(paths, failures)
    yield from failures
    orders = _InAccents()
    for path in found.texts:
        statuses = guarded(path, partial(_by_accent, session, path, orders))
        if isinstance(statuses, Failure) and passed_over(found, statuses):
            continue
        yield statuses if isinstance(statuses, Failure) else (path, statuses)


def _by_accent(session: Session, path: str, orders: _InAccents) -> ByAccent:
    document = session.document(path)
    standing, config = session.settings(path, document.own_step)
    wanted = session.wanted(path, config, document.own_step)
    found: ByAccent = {}
    for accent in ACCENTS:
        there = session.standing_in(orders.get(standing.order, accent), wanted)
        for word, verdict in session.checker(there, None).check(document).distinct.items():
            found.setdefault(word, {})[accent] = verdict.status
    return {w: s for w, s in sorted(found.items()) if len(s) == len(ACCENTS) and len(set(s.values())) > 1}


def _in_accent(order: TeachingOrder, accent: str) -> TeachingOrder:
    """A progression, with what it includes, read as if it named an accent. Raises UserError where it cannot be."""

    def read(file: str) -> SourceText:
        lines = order.sources.get(file)
        return read_text(file) if lines is None else SourceText(shown(file), "\n".join(lines))

    other, problems = resolve("\n".join(order.sources[order.path]), order.path, accent, read=read)
    if any(not p.note for p in problems):
        raise UserError(*(p for p in problems if not p.note))
    return other


class _InAccents:
    """Progressions read as if they named an accent, each once."""

    def __init__(self) -> None:
        self._known: dict[tuple[int, str], TeachingOrder] = {}

    def get(self, order: TeachingOrder, accent: str | None) -> TeachingOrder:
        """The order in an accent; None is its own. Raises UserError where it cannot be read so."""
        if accent is None or accent == order.accent:
            return order
        key = id(order), accent
        if key not in self._known:
            self._known[key] = _in_accent(order, accent)
        return self._known[key]


def compare_texts(
    session: Session, old: str, new: str, folder: str | None = None, since: State | None = None
) -> Compared:
    """What a change of a progression does to its steps, and to the texts of a folder at their declared steps.

    With `since`, the old progression is what the file `old` and all that it includes were at a state in git. Raises UserError for a
    progression that is wrong.
    """
    before, after = _order_at(since, old) if since else session.order(old), session.order(new)
    for order in (before, after):
        choose_step(order, None)
    result = Compared(compare(before, after))
    if folder is None:
        return result
    found = session.found([folder], result.failures)
    governed = _governed(session, list(found.texts), (old, new), result, strictly=since is not None)
    orders = _InAccents()
    for path in governed:
        change = guarded(path, partial(_text_change, session, path, result.comparison, orders))
        if isinstance(change, Failure):
            result.failures += [] if passed_over(found, change) else [change]
            continue
        result.compared += 1
        if change:
            result.changes.append(change)
    return result


def _order_at(state: State, path: str) -> TeachingOrder:
    """A progression as it was at a state in git, with what it included then. Raises UserError with every mistake that it had."""

    def read(file: str) -> SourceText:
        data = state.content(file)
        if data is None:
            what = f"There was no such file at {state.ref}."
            raise UserError(Problem(shown(file), what, "Name another state, or compare two files.", code=NO_SUCH_FILE))
        return SourceText(shown(file), decode(data, shown(file)))

    order, problems = resolve(read(path).text, shown(path), read=read)
    wrong = [p for p in problems if not p.note]
    if wrong:
        raise UserError(*(replace(p, path=f"{p.path} at {state.ref}") for p in first_of(wrong)))
    return order


def _governed(
    session: Session, texts: Sequence[str], progressions: Sequence[str], result: Compared, *, strictly: bool
) -> Sequence[str]:
    """The texts whose configuration names one of two progressions or none; unless `strictly`, all of them where none would be left, and
    those that have no configuration."""
    mine = {real(path) for path in progressions if path != "-"}
    found = []
    for path in texts:
        config = guarded(path, partial(session.config, Path(path)))
        named = config.progression if config and not isinstance(config, Failure) else None
        if real(named) in mine if named is not None else config or not strictly:
            found.append(path)
    result.elsewhere = len(texts) - len(found) if found or strictly else 0
    return found if found or strictly else texts


def _text_change(session: Session, path: str, c: Comparison, orders: _InAccents) -> TextChange | None:
    # first of all: a table that is no list needs no step
    document = session.document(path)
    config = session.config(Path(path))
    document = session.document(path)
    wanted = session.wanted(path, config, document.own_step)
    moved = wanted and renumbered(c.old, wanted, c.stands.__getitem__)
    old, new = (orders.get(order, config.accent if config else None) for order in (c.old, c.new))
    then, now = session.standing_in(old, wanted), session.standing_in(new, moved)
    settled = config.sense_of(Path(path)) if config else None
    pipeline = config.pipeline if config else None
    treatment = session.treatment(config, path, document)
    reports = [treated(session.checker(s, pipeline).check(document, settled=settled), treatment) for s in (then, now)]
    return text_change(*reports)


def fits(session: Session, paths: Sequence[str], *, groups: bool = True) -> Iterator[Fitted | Failure]:
    """How each text under the paths fits the steps of its order, and, with `groups`, which words each group of its configuration cannot read (each is
    a check of its own); failures for what cannot be read. Word lists fit by their words."""
    failures: list[Failure] = []
    found = session.found(paths, failures)
    yield from failures
    for path in found.texts:
        fitted = guarded(path, partial(_fitted, session, path, groups))
        if not isinstance(fitted, Failure) or not passed_over(found, fitted):
            yield fitted


def _fitted(session: Session, path: str, by_group: bool) -> Fitted:
    # a table that is no word list needs no step
    document = session.document(path)
    standing, config = session.settings(path, document.own_step)
    settled = config.sense_of(Path(path)) if config and path != "-" else None
    pipeline = config.pipeline if config else None
    report = session.checker(standing, pipeline).check(document, settled=settled)
    groups = {}
    for name, wanted in config.groups.items() if config and by_group else ():
        there = session.standing(standing.order.path, wanted)
        words = session.checker(there, pipeline).check(document, settled=settled)
        left = [(w.first_step, spelt(words, w.form)) for w in words.distinct.values() if w.status in (BLOCKED, UNSURE)]
        groups[name] = tuple(word for _, word in sorted(left, key=lambda pair: (-pair[0], pair[1].lower())))
    help = tuple(best_changes(needs(report), MOST_CHANGES))
    return Fitted(fit(report), report.order.name, report.order.last, help, groups)


def coverages(session: Session, paths: Sequence[str]) -> Iterator[Coverage | Failure]:
    """What each text under the paths gives practice in, in the order in which they are found; failures for what cannot be read. Of word lists, their
    words."""
    failures: list[Failure] = []
    found = session.found(paths, failures)
    yield from failures
    for path in found.texts:
        covered = guarded(path, partial(_covered, session, path))
        if not isinstance(covered, Failure) or not passed_over(found, covered):
            yield covered


def _covered(session: Session, path: str) -> Coverage:
    # a table that is no word list needs no step
    document = session.document(path)
    standing, config = session.settings(path, document.own_step)
    settled = config.sense_of(Path(path)) if config and path != "-" else None
    checker = session.checker(standing, config.pipeline if config else None)
    report = checker.check(document, every_word=True, settled=settled)
    return coverage(treated(report, session.treatment(config, path, document, is_list=session.is_list(path))))


def replaceable(
    session: Session, paths: Sequence[str], number: int, only: str = ""
) -> Iterator[Replacements | Failure]:
    """What may stand for the blocked words of each text under the paths, or for `only` one word; failures for what cannot be read, word
    lists among them: a list is for its sounds, and not for what it tells."""
    failures: list[Failure] = []
    found = session.found(paths, failures)
    yield from failures
    for path in found.texts:
        if len(found.texts) > 1 and session.is_list(path):
            continue
        made = guarded(path, partial(_replaceable, session, path, number, only))
        if not isinstance(made, Failure) or not passed_over(found, made):
            yield made


def _replaceable(session: Session, path: str, number: int, only: str) -> Replacements:
    return replacements(session.check_story(path), number, only)


def word_counts(session: Session, folder: str, order: TeachingOrder) -> Counted:
    """How often each word that is judged occurs in the texts of a folder, by plain spelling; names left out."""
    result = Counted()
    judge = judge_at(order, order.last)
    checker = Checker(judge)
    found = session.found([folder], result.failures)
    for path in found.texts:
        report = guarded(path, partial(_report, session, checker, path))
        if isinstance(report, Failure):
            result.failures += [] if passed_over(found, report) else [report]
            continue
        for word, times in report.running.items():
            known = report.distinct[word]
            if known.status not in (ALLOWED, UNSURE) and not judge.is_name(known.form):
                result.words[word] += times
    return result


def _report(session: Session, checker: Checker, path: str) -> TextReport:
    return checker.check(session.document(path))
