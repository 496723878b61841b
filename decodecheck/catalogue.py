"""What a folder of texts and word lists holds: a row for each, and how one catalogue differs from another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, fields
from functools import partial
from pathlib import Path

from decodecheck.bounds import real
from decodecheck.checking.report import TextReport
from decodecheck.documents.titles import title_of
from decodecheck.errors import cut
from decodecheck.insight.met import lessons_met
from decodecheck.insight.reasons import spelt
from decodecheck.judging.verdict import STATUSES, TRICKY, UNJUDGED
from decodecheck.lists.report import ListReport
from decodecheck.lists.word_list import TARGET
from decodecheck.run import Failure, Report, guarded
from decodecheck.session import Session, passed_over

TEXT, WORD_LIST = "text", "word list"
MOST_WORDS = 8
"""Words that hold a text back which are named."""
MOST_LESSONS = 3


@dataclass(frozen=True, slots=True)
class Row:
    """One text or word list.

    `path` counts from the folder that is catalogued. `step` is the one that is declared (None where none is), `step_expression` what a group of it
    knows besides; `first_step` is the first at which every word can be read (None: at no step), `held_back_by` those words, at most MOST_WORDS of them, that cannot be read
    at the step, the last to be taught first, and `held_back` how many they are. `targets` are those of a list, or the lessons of its step that a text gives most practice in.
    """

    path: str
    kind: str
    title: str
    running_words: int
    different_words: int
    progression: str
    step: int | None
    step_expression: str
    first_step: int | None
    held_back: int
    held_back_by: tuple[str, ...]
    targets: tuple[str, ...]
    tricky_words: tuple[str, ...]


COLUMNS = tuple(f.name for f in fields(Row))


@dataclass
class Catalogue:
    """The rows of a folder, by path, and what could not be checked."""

    rows: list[Row] = field(default_factory=list)
    failures: list[Failure] = field(default_factory=list)


def catalogue(session: Session, folder: str, without: Sequence[str] = ()) -> Catalogue:
    """The catalogue of a folder; files `without` which it is made, such as an older catalogue, are left out."""
    made = Catalogue()
    found = session.found([folder], made.failures)
    left_out = {real(path) for path in without}
    for path in found.texts:
        if real(path) in left_out:
            continue
        row = guarded(path, partial(_row, session, folder, path))
        if not isinstance(row, Failure):
            made.rows.append(row)
        elif not passed_over(found, row):
            made.failures.append(row)
    made.rows.sort(key=lambda row: row.path)
    return made


def _row(session: Session, folder: str, path: str) -> Row:
    report = session.check(path)
    parts = report.parts if isinstance(report, ListReport) else (report,)
    held = [*dict.fromkeys(word for part in parts for word in _held_back(part))]
    plain = {word for part in parts for word in part.distinct}
    declared = session.step is not None or session.group is not None or session.wanted(path, session.config(Path(path)))
    tricky = {
        part.order.tricky_spelling.get(word, word)
        for part in parts
        for word, found in part.distinct.items()
        if found.status == TRICKY
    }
    if isinstance(report, ListReport):
        title, targets = (
            next((each.title for each in (report.document.word_list,) if each), ""),
            _targets(session, report),
        )
    else:
        title = title_of(path, report.document)
        targets = [name for name, _ in lessons_met(report)[:MOST_LESSONS]] if declared else []
    return Row(
        _inside(folder, path),
        WORD_LIST if isinstance(report, ListReport) else TEXT,
        title,
        sum(report.counts[status] for status in STATUSES if status != UNJUDGED),
        len(plain),
        report.order.name,
        report.step if declared else None,
        report.order.variant,
        report.ready_step(),
        len(held),
        tuple(held[:MOST_WORDS]),
        tuple(targets),
        tuple(sorted(tricky, key=lambda word: (word.lower(), word))),
    )


def _inside(folder: str, path: str) -> str:
    """A path from the folder on, with slashes, so that a catalogue is the same wherever it is made."""
    return Path(path).relative_to(folder).as_posix() if Path(path).is_relative_to(folder) else Path(path).as_posix()


def _held_back(report: TextReport) -> Iterator[str]:
    for word, step in report.holding_back():
        if step > report.step:
            yield cut(spelt(report, report.distinct[word].form))


def _targets(session: Session, report: Report) -> list[str]:
    """The targets of a list's entries, and that of all which have none."""
    entries = getattr(report.document, "entries", ())
    own = [entry.cells[TARGET].text if TARGET in entry.cells else "" for entry in entries]
    rule = session.list_rule(report.path) if "" in own else None
    return [*dict.fromkeys(text or (rule.target if rule else "") for text in own if text or (rule and rule.target))]


def differences(old: Sequence[Row], new: Sequence[Row]) -> Iterator[str]:
    """What has changed from one catalogue to another, a sentence for each path, in order."""
    before, after = ({row.path: row for row in rows} for rows in (old, new))
    for path in sorted({**before, **after}):
        if path not in after:
            yield f"{path}: is no longer there"
        elif path not in before:
            yield f"{path}: is not in it"
        elif before[path] != after[path]:
            changed = (n for n in COLUMNS if getattr(before[path], n) != getattr(after[path], n))
            said = (
                f"{n.replace('_', ' ')} {_said(getattr(before[path], n))} -> {_said(getattr(after[path], n))}"
                for n in changed
            )
            yield f"{path}: {'; '.join(said)}"


def _said(value: object) -> str:
    if isinstance(value, tuple):
        return ", ".join(map(str, value)) or "none"
    return "none" if value in (None, "") else str(value)
