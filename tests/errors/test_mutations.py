"""Valid progressions with one thing spoilt at random: every answer is a list of problems, and it points at the spoilt line."""

from __future__ import annotations

import random
from dataclasses import dataclass
from pathlib import Path

import pytest

from decodecheck.errors import Problem, UserError
from decodecheck.progression.resolve import resolve

ROOT = Path(__file__).parent
FILES = (ROOT.parents[1] / "corpora_demo" / "harbour-lane.progression", ROOT / "mutated" / "small.progression")
SEED = 20
MUTATIONS = 500
AT_THE_LINE = 0.95


@dataclass(frozen=True)
class Mutation:
    """`text` is `path` with one thing changed; `line` is the line it touched, 0 where it touched several."""

    path: Path
    kind: str
    text: str
    line: int


def mutate(path: Path, chance: random.Random) -> Mutation:
    """One character or one line deleted, doubled or swapped with the next."""
    text = path.read_text(encoding="utf-8")
    kind = f"{chance.choice(('delete', 'double', 'swap'))} {chance.choice(('character', 'line'))}"
    if kind.endswith("line"):
        lines = text.splitlines(keepends=True)
        i = chance.randrange(len(lines) - 1)
        new = {"delete line": [], "double line": [lines[i], lines[i]], "swap line": [lines[i + 1], lines[i]]}[kind]
        lines[i : i + 1 + (kind == "swap line")] = new
        return Mutation(path, kind, "".join(lines), 0 if kind == "swap line" else i + 1)
    i = chance.randrange(len(text) - 1)
    a, b = text[i], text[i + 1]
    new_text = {"delete character": "", "double character": a + a, "swap character": b + a}[kind]
    width = 1 + (kind == "swap character")
    several = "\n" in text[i : i + width]
    return Mutation(path, kind, text[:i] + new_text + text[i + width :], 0 if several else text.count("\n", 0, i) + 1)


def mutations(seed: int = SEED, number: int = MUTATIONS) -> list[Mutation]:
    chance = random.Random(seed)
    return [mutate(FILES[i % len(FILES)], chance) for i in range(number)]


def answer(mutation: Mutation) -> list[Problem]:
    """What resolve says. Any exception other than UserError is left to fail the test."""
    try:
        return resolve(mutation.text, str(mutation.path))[1]
    except UserError as error:
        return list(error.problems)


def misplaced(mutation: Mutation, problem: Problem) -> bool:
    """Whether a problem names a place that its file does not have."""
    text = mutation.text if problem.path == str(mutation.path) else Path(problem.path).read_text(encoding="utf-8")
    lines = text.split("\n")
    if problem.line == 0:
        return problem.column != 0
    if not 1 <= problem.line <= len(lines):
        return True
    line = lines[problem.line - 1]
    return not 1 <= problem.column <= max(1, len(line)) or problem.excerpt != line


@pytest.fixture(scope="module")
def answers() -> list[tuple[Mutation, list[Problem]]]:
    return [(m, answer(m)) for m in mutations()]


# The source of all three: what is promised of messages - an unreadable file is answered with places in it.
def test_the_files_are_valid() -> None:
    for path in FILES:
        assert answer(Mutation(path, "none", path.read_text(encoding="utf-8"), 0)) == []


def test_every_place_is_in_the_file(answers: list[tuple[Mutation, list[Problem]]]) -> None:
    assert len(answers) == MUTATIONS
    assert [(m, p) for m, problems in answers for p in problems if misplaced(m, p)] == []


def test_the_first_error_is_where_the_change_is(
    answers: list[tuple[Mutation, list[Problem]]], capsys: pytest.CaptureFixture[str]
) -> None:
    faulty = [(m, [p for p in problems if not p.note]) for m, problems in answers if m.line]
    faulty = [(m, problems) for m, problems in faulty if problems]
    away = [
        (m, problems[0])
        for m, problems in faulty
        if problems[0].path != str(m.path) or problems[0].line not in (m.line, m.line + 1)
    ]
    share = 1 - len(away) / len(faulty)
    with capsys.disabled():
        print(f"\nmutations: {MUTATIONS}, of one line and faulty: {len(faulty)}, first error there: {share:.1%}")
    for m, problem in away:
        print(f"{m.kind} in line {m.line}, first error: {problem.text()}")
    assert len(faulty) > MUTATIONS / 4
    assert share >= AT_THE_LINE
