"""What the tables of a decodecheck.toml mean for texts, and what in them means nothing."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from decodecheck.bounds import outside
from decodecheck.documents.document import Document, Place
from decodecheck.documents.words import STRETCH, cut
from decodecheck.errors import Problem, UserError, nearest
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.progression.step_expression import Wanted
from decodecheck.project.config import Config
from decodecheck.project.rules import Gate, ListRule, TextRule
from decodecheck.project.word_rules import Settled
from decodecheck.source import shown

HIDDEN = re.compile(r"(^|/)\.(?!\.?(/|$))")
"""A part of a path that begins with a full stop: what folders hold under such names is not looked at."""
WILD = re.compile(r"[*?]|\{step\}")


def step_for(config: Config, path: Path) -> Wanted | None:
    """The step of a text: of the rule that fits, else the general one; None where there are no rules and none is given.

    Raises UserError where two rules fit, and where there are rules, but neither one that fits nor a general step.
    """
    relative = config.relative(path)
    rule = step_rule(config, path)
    match = rule.paths.match(relative) if rule and relative is not None else None
    if rule is None or relative is None or match is None:
        if config.rules and config.step is None:
            raise UserError(_fits_none(config, path))
        return config.step
    if rule.step:
        return rule.step
    if not match.step:
        return config.step
    named = shown(str(path))
    at = named.rfind(relative[match.at :])
    return Wanted(match.step, named, 0, max(0, at) + 1, named)


def step_rule(config: Config, path: Path) -> TextRule | None:
    """The table that gives a file its step; None where none fits it. Raises UserError where two do."""
    relative = config.relative(path)
    for rules in (
        tuple(rule for rule in config.lists if rule.step or "{step}" in rule.pattern),
        # a list without a step of its own has that of a text
        config.rules,
    ):
        fitting = [rule for rule in rules if relative is not None and rule.paths.match(relative)]
        if len(fitting) > 1:
            raise UserError(_fits_twice(config, path, fitting))
        if fitting:
            return fitting[0]
    return None


def group_of(config: Config | None, wanted: Wanted) -> Wanted:
    """The step of the group that a text says it is for. Raises UserError, at the place in the text, where there is no such group."""
    groups = config.groups if config else {}
    if wanted.group in groups:
        return groups[wanted.group]
    if config is None or not groups:
        where = f"{config.name} names no groups" if config else "there is no decodecheck.toml to look it up in"
        what, todo = f"This text is for a group, but {where}.", "Name its step instead, or write a table [groups]."
    else:
        close = nearest(wanted.group, list(groups), most=1)
        what = f"There is no group called {wanted.group!r} in {config.name}."
        todo = (f"Did you mean {close[0]}? " if close else "") + f"Its groups are: {', '.join(groups)}."
    raise UserError(wanted.problem(what, todo, width=len(wanted.group)))


def gates(config: Config, path: Path, *, is_list: bool) -> tuple[Gate, Gate]:
    """What a file may hold and pass: as the table of its kind says, and as the top of the configuration says."""
    rules: tuple[TextRule, ...] = config.lists if is_list else config.rules
    relative = config.relative(path)
    rule = next((rule for rule in rules if relative is not None and rule.paths.match(relative)), None)
    return (rule.gate if rule else Gate()), config.gate


def list_rule(config: Config, path: Path) -> ListRule | None:
    """What a [[lists]] table says of a file; None where none fits it. Raises UserError where two do."""
    relative = config.relative(path)
    fitting = [rule for rule in config.lists if relative is not None and rule.paths.match(relative)]
    if len(fitting) > 1:
        raise UserError(_fits_twice(config, path, fitting, "lists"))
    return fitting[0] if fitting else None


def _fits_none(config: Config, path: Path) -> Problem:
    """What is said of a text that no [[texts]] table fits."""
    what = (
        f"No step is given for this text: no [[texts]] table of {config.name} fits it, and there is no general `step`."
    )
    close = nearest(config.named(path), [rule.pattern for rule in config.rules], most=1)
    near = f" The nearest is {close[0]!r}." if close else ""
    return Problem(shown(str(path)), what, f"Add a [[texts]] table for it, mend a pattern, or use --step.{near}")


def _fits_twice(config: Config, path: Path, rules: Sequence[TextRule], name: str = "texts") -> Problem:
    """What is said of a file that two tables fit."""
    first, second = (f"{rule.pattern!r}" + (f" (line {rule.line})" if rule.line else "") for rule in rules[:2])
    noun = "list" if name == "lists" else "text"
    what = f"Two [[{name}]] tables of {config.name} fit this {noun}: {first} and {second}."
    so = "one of them holds" if name == "lists" else "one step is given"
    return Problem(shown(str(path)), what, f"Change one of the patterns, so that {so}.")


def progression_of(config: Config) -> str | None:
    """The progression that a configuration names, as a path from here. Raises UserError where it may not be read, or is not there."""
    named = config.progression
    if named is None:
        return None
    line = next((n for n, text in enumerate(config.lines, 1) if re.match(r"\s*[\"']?progression\b", text)), 0)
    try:
        out, there = outside(named, config.path.parent), os.path.lexists(named)
    except ValueError:
        out, there = False, False
    written = re.search(r"=\s*[\"'](.*?)[\"']", config.lines[line - 1]) if line else None
    text = written[1] if written else ""
    if out:
        what = "This progression lies outside of the project."
        raise UserError(config.problem(line, what, "Put it into the project, or name it with --progression.", text))
    if not there:
        what = f"There is no such file: {named}."
        raise UserError(config.problem(line, what, "A path in this file counts from the folder of the file.", text))
    return named


def idle_patterns(config: Config, seen: Iterable[str]) -> Iterator[Problem]:
    """The patterns of [[texts]] and [[settled]] that fit none of the files of the folders that were searched."""
    names = [config.named(Path(path)) for path in seen]
    for name, rule in [*(("texts", r) for r in config.rules), *(("lists", r) for r in config.lists)]:
        if not HIDDEN.search(rule.pattern) and not config.fit(rule, names):
            what = f"No file fits the pattern {rule.pattern!r}."
            todo = f"Mend the pattern, or take its [[{name}]] table out. It counts from the folder of this file."
            yield config.problem(rule.line, what, todo, rule.pattern)
    for settled in config.settled:
        if not HIDDEN.search(settled.pattern) and not config.fit(settled, names):
            what = f"There is no file {settled.pattern!r}, so this settles nothing."
            yield config.problem(settled.at, what, "Mend `files`, or take the [[settled]] table out.", settled.pattern)


def holds(document: Document, settled: Settled) -> bool:
    """Whether a text has the word of a [[settled]] table, at the place that the table names."""
    plain = plain_spelling(settled.word).plain
    anywhere = settled.place == Place()
    for match in STRETCH.finditer(document.text):
        # most stretches are not worth cutting
        if plain[:1] not in match[0].lower() and match[0].isascii():
            continue
        for piece in cut(match[0]):
            found = piece.kind == "word" and plain_spelling(match[0][piece.start : piece.end]).plain == plain
            if found and (anywhere or document.place(match.start() + piece.start).within(settled.place)):
                return True
    return False


def senseless(config: Config, settled: Settled, senses: Callable[[str], list[str]]) -> Problem | None:
    """What is wrong with the sense of a [[settled]] table; `senses` gives those of a word that differ in sound."""
    known = senses(settled.word)
    if settled.sense in known:
        return None
    if not known:
        what = f"`{settled.word}` has no senses that sound differently, so there is nothing to settle."
        return config.problem(settled.at, what, "Take this [[settled]] table out.", settled.word)
    what = f"`{settled.sense}` is no sense of `{settled.word}`."
    return config.problem(settled.at, what, f"Its senses are: {', '.join(known)}.", settled.sense)


def wordless(config: Config, settled: Settled) -> Problem:
    """What is said of a [[settled]] table whose word is not there."""
    place = settled.place.words()
    where = f"{place} of {settled.pattern}" if place else settled.pattern
    what = f"The word `{settled.word}` is not in {where}, so this settles nothing."
    if WILD.search(settled.pattern):
        what = f"No text that fits {settled.pattern!r} has the word `{settled.word}`" + (
            f" in {place}, so this settles nothing." if place else ", so this settles nothing."
        )
    return config.problem(settled.at, what, "Mend `word` or `line`, or take the [[settled]] table out.", settled.word)
