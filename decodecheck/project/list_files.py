"""Word lists as a project has them: what a configuration asks of them, and putting right what can be mended safely."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from decodecheck.errors import Problem, UserError
from decodecheck.lists.examined import Asked
from decodecheck.lists.mend import mend
from decodecheck.lists.reading import ListFile
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.step_expression import Standing
from decodecheck.project.config import Config
from decodecheck.project.patterns import PathPattern
from decodecheck.project.rules import ListRule
from decodecheck.project.write import write_safely
from decodecheck.source import shown
from decodecheck.wordlists.targets import target

ANY_LIST = ListRule("**", None, PathPattern("**"))
"""What holds for a list that no table speaks of."""


@dataclass(frozen=True, slots=True)
class Lists:
    """How word lists are treated: whether every file is one (`all`), whether their words are to go from easy to hard to spell, whether
    what can be mended safely is put right in them (`fix`), and what every word is to hold ("" for nothing)."""

    all: bool = False
    ordered: bool = False
    fix: bool = False
    target: str = ""


AS_THEY_ARE = Lists()
"""Nothing is asked of lists but what their tables say."""


def asked_of(order: TeachingOrder, rule: ListRule, config: Config | None, *, ordered: bool, given: str = "") -> Asked:
    """What is asked of a list by its table, or by the command: `ordered`, and a target that is `given`. Raises UserError for a target that
    cannot be meant."""
    wanted = target(order, given, "--target") if given else None
    if rule.target and config and not given:
        try:
            wanted = target(order, rule.target, "target")
        except UserError as error:
            raise UserError(*(config.problem(rule.line, p.what, p.todo, rule.target) for p in error.problems)) from None
    return Asked(wanted, rule.ordered or ordered)


def mend_in_place(path: str, file: ListFile, standing: Standing, asked: Asked) -> tuple[bool, list[str]]:
    """Put right in its file what can be mended safely in a list; whether the file was changed, and what there is to tell.

    Raises UserError where it cannot be written.
    """
    mended = mend(file, standing, asked)
    told = [f"{shown(path)}: {note}" for note in mended.left]
    if mended.data is None:
        return False, told
    if path == "-":
        raise UserError(Problem("--fix", "Standard input cannot be mended.", "Name a file, or leave --fix out."))
    write_safely(Path(path), mended.data)
    return True, [*told, f"{shown(path)}: {mended.told()}."]
