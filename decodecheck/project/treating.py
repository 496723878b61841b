"""What a configuration makes of the findings on a file: which are told, how grave they are, what passes."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from pathlib import Path

from decodecheck.checking.kinds import WARNING
from decodecheck.checking.treatment import Treatment
from decodecheck.documents.allowance import Allowance
from decodecheck.documents.document import Document
from decodecheck.errors import Problem, UserError
from decodecheck.project.config import Config
from decodecheck.project.fitting import HIDDEN, gates
from decodecheck.project.kind_names import kind_names, nearest_kind
from decodecheck.project.rules import NO_GATE
from decodecheck.project.word_rules import AllowRule

Allowed = tuple[AllowRule, str]
"""A table [[allow]] with one of its words."""


def allowed_by(config: Config, path: Path) -> list[Allowed]:
    """What the [[allow]] tables allow in a file."""
    relative = config.relative(path) if config.allow else None
    fitting = [rule for rule in config.allow if relative is not None and rule.paths.match(relative)]
    return [(rule, word) for rule in fitting for word in rule.words]


def treatment_of(
    config: Config | None,
    path: Path | None,
    allowed: Sequence[Allowed],
    warn: Collection[str] = (),
    *,
    is_list: bool = False,
    document: Document | None = None,
    idle_told: bool = True,
) -> Treatment:
    """How the findings on a file are treated: by its configuration (None where it has none) and by itself. `allowed` is what [[allow]] allows
    in it, `warn` are kinds that are warnings whatever stands there.

    Raises UserError where the text itself allows a kind of finding that there is not.
    """
    own, general = gates(config, path, is_list=is_list) if config and path else (NO_GATE, NO_GATE)
    if config and not path:
        general = config.gate
    in_text = document.allowances if document else ()
    if document:
        refuse_unknown_kinds(document.path, in_text)
    by_table = (Allowance(word, rule.kind, rule.reason) for rule, word in allowed)
    severities = {**(config.severities if config else {}), **dict.fromkeys(warn, WARNING)}
    strict = general.strict if own.strict is None else own.strict
    allow_blocked = general.allow_blocked if own.allow_blocked is None else own.allow_blocked
    return Treatment(severities, bool(strict), allow_blocked or 0, (*by_table, *in_text), idle_told)


def refuse_unknown_kinds(path: str, allowances: Iterable[Allowance]) -> None:
    """Raises UserError where an allowance of a text names no kind of finding."""
    wrong = [a for a in allowances if a.kind and a.kind not in kind_names()]
    problems = []
    for a in wrong:
        what = f"There is no kind of finding called {a.kind!r}."
        at = a.excerpt.find(f"[{a.kind}", a.place.column - 1) + 1
        where = path if a.place.line else f"{path}, {a.place.words()}"
        column = at + 1 if at > 0 else a.place.column if a.place.line else 0
        problems.append(
            Problem(where, what, nearest_kind(a.kind), a.place.line, column, a.excerpt, len(a.kind) if at > 0 else 1)
        )
    if problems:
        raise UserError(*problems)


def idle_allow(config: Config, seen: Iterable[str], used: Collection[Allowed], *, words: bool) -> Iterator[Problem]:
    """The [[allow]] tables that fit none of the files of the folders that were searched; with `words`, also the words that nothing was told
    of in the files that they fit."""
    names = [config.named(Path(path)) for path in seen]
    for rule in config.allow:
        if HIDDEN.search(rule.pattern):
            continue
        if not config.fit(rule, names):
            what = f"No file fits the pattern {rule.pattern!r}, so this allows nothing."
            yield config.problem(rule.at, what, "Mend `files`, or take the [[allow]] table out.", rule.pattern)
            continue
        for word in rule.words if words else ():
            if (rule, word) not in used:
                what = f"Nothing is told of “{word}” in the files of this table, so this allows nothing."
                yield config.problem(rule.at, what, "Take the word out.", word)
