"""Valid progressions with one thing spoilt: every answer is a list of problems, and it points at the spoilt line.

500 mutations are drawn at random; of the two small files, one of which includes the other, every mutation is tried.
"""

from __future__ import annotations

import random
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from decodecheck.errors import Problem, UserError
from decodecheck.progression.resolve import resolve

ROOT = Path(__file__).parent
SOURCES = (
    ROOT.parents[1] / "corpora_demo" / "harbour-lane.progression",
    ROOT / "mutated" / "small.progression",
    ROOT / "mutated" / "first.progression",
)
CHECKED_AS = {"first.progression": "small.progression"}
"""What is resolved where a file is spoilt, if it is not the file itself: the file that includes it."""
NAMES = tuple(source.name for source in SOURCES)
TEXTS = {source.name: source.read_text(encoding="utf-8") for source in SOURCES}
KINDS = tuple(f"{what} {of}" for what in ("delete", "double", "swap") for of in ("character", "line"))
SEED = 20
MUTATIONS = 500
AT_THE_LINE = 0.95


@dataclass(frozen=True)
class Mutation:
    """`text` is the file `name` with one thing changed; `line` is the line it touched, 0 where it touched several."""

    name: str
    kind: str
    text: str
    line: int


Answers = list[tuple[Mutation, list[Problem]]]


def mutation(name: str, kind: str, i: int) -> Mutation:
    """The character or line number `i` deleted, doubled or swapped with the next."""
    text = TEXTS[name]
    if kind.endswith("line"):
        lines = text.splitlines(keepends=True)
        new = {"delete line": [], "double line": [lines[i], lines[i]], "swap line": lines[i : i + 2][::-1]}[kind]
        lines[i : i + 1 + (kind == "swap line")] = new
        return Mutation(name, kind, "".join(lines), 0 if kind == "swap line" else i + 1)
    a, b = text[i], text[i + 1]
    new_text = {"delete character": "", "double character": a + a, "swap character": b + a}[kind]
    width = 1 + (kind == "swap character")
    several = "\n" in text[i : i + width]
    return Mutation(name, kind, text[:i] + new_text + text[i + width :], 0 if several else text.count("\n", 0, i) + 1)


def size(name: str, kind: str) -> int:
    """How many mutations of a kind a file has."""
    return len(TEXTS[name].splitlines() if kind.endswith("line") else TEXTS[name]) - 1


def drawn(seed: int = SEED, number: int = MUTATIONS) -> Iterator[Mutation]:
    chance = random.Random(seed)
    for i in range(number):
        name, kind = NAMES[i % len(NAMES)], chance.choice(KINDS)
        yield mutation(name, kind, chance.randrange(size(name, kind)))


def every(name: str) -> Iterator[Mutation]:
    """Each mutation that changes one line of a file."""
    for kind in KINDS:
        for i in range(size(name, kind)):
            found = mutation(name, kind, i)
            if found.line and found.text != TEXTS[name]:
                yield found


@pytest.fixture(scope="module")
def school(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("school")
    for source in SOURCES:
        shutil.copyfile(source, folder / source.name)
    return folder


def answer(school: Path, spoilt: Mutation) -> list[Problem]:
    """What resolve says. Any exception other than UserError is left to fail the test."""
    checked = CHECKED_AS.get(spoilt.name, spoilt.name)
    place = school / spoilt.name
    try:
        place.write_text(spoilt.text, encoding="utf-8", newline="")
        return resolve(spoilt.text if checked == spoilt.name else TEXTS[checked], str(school / checked))[1]
    except UserError as error:
        return list(error.problems)
    finally:
        place.write_text(TEXTS[spoilt.name], encoding="utf-8", newline="")


def misplaced(spoilt: Mutation, problem: Problem) -> bool:
    """Whether a problem names a place that its file does not have."""
    name = Path(problem.path).name
    lines = (spoilt.text if name == spoilt.name else TEXTS[name]).split("\n")
    if problem.line == 0:
        return problem.column != 0
    if not 1 <= problem.line <= len(lines):
        return True
    line = lines[problem.line - 1]
    return not 1 <= problem.column <= max(1, len(line)) or problem.excerpt != line


def share_there(answers: Answers) -> tuple[int, float]:
    """Of all mutations of one line that are answered with an error: how many, and the share with the first error there."""
    faulty = [(m, [p for p in problems if not p.note]) for m, problems in answers if m.line]
    faulty = [(m, problems) for m, problems in faulty if problems]
    away = [
        (m, problems[0])
        for m, problems in faulty
        if Path(problems[0].path).name != m.name or problems[0].line not in (m.line, m.line + 1)
    ]
    for m, problem in away:
        print(f"{m.name}: {m.kind} in line {m.line}, first error: {problem.text()}")
    return len(faulty), 1 - len(away) / len(faulty)


@pytest.fixture(scope="module")
def random_answers(school: Path) -> Answers:
    return [(m, answer(school, m)) for m in drawn()]


# The source of all: what is promised of messages - an unreadable file is answered with places in it.
def test_the_files_are_valid(school: Path) -> None:
    for name, text in TEXTS.items():
        assert answer(school, Mutation(name, "none", text, 0)) == []


def test_every_place_is_in_the_file(random_answers: Answers) -> None:
    assert len(random_answers) == MUTATIONS
    assert [(m, p) for m, problems in random_answers for p in problems if misplaced(m, p)] == []


def test_the_first_error_is_where_the_change_is(random_answers: Answers, capsys: pytest.CaptureFixture[str]) -> None:
    faulty, share = share_there(random_answers)
    with capsys.disabled():
        print(f"\nmutations: {MUTATIONS}, of one line and faulty: {faulty}, first error there: {share:.1%}")
    assert faulty > MUTATIONS / 4
    assert share >= AT_THE_LINE


@pytest.mark.parametrize("name", ["small.progression", "first.progression"])
def test_every_mutation_of_one_line(school: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    answers = [(m, answer(school, m)) for m in every(name)]
    assert [(m, p) for m, problems in answers for p in problems if misplaced(m, p)] == []
    faulty, share = share_there(answers)
    with capsys.disabled():
        print(f"\n{name}: {len(answers)} mutations of one line, faulty: {faulty}, first error there: {share:.1%}")
    assert share >= AT_THE_LINE
