"""Laws that every verdict keeps, over random texts and random progressions."""

from __future__ import annotations

import random
import re
import unicodedata
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import BLOCKED, CAPITAL, IRREGULAR, UNSURE
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.lexicon.store import NEVER
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import load, resolve
from decodecheck.progression.step_expression import Wanted, choose_step
from decodecheck.source import SourceText, decode
from decodecheck.tables import read_table
from tests.data.folder import DATA
from tests.second_opinion.draws import common, drawn, forms

SEED = st.integers(0, 10_000)
TRIALS = settings(max_examples=15, deadline=None)
PROGRESSIONS = 24
"""Random progressions that are tried; drawing one takes longer than a check."""
LATER = {"decodable": 0, "tricky": 0, "allowed": 0, "unjudged": 0, "unsure": 1, "blocked": 2}


@cache
def sentences() -> tuple[str, ...]:
    """Sentences rich in cues, each with a word of several senses."""
    return tuple(row["sentence"] for row in read_table(DATA / "heteronym_sentences.tsv"))


@cache
def progression(seed: int) -> tuple[TeachingOrder, str]:
    """One of the random progressions."""
    return drawn(seed)


def text_of(rng: random.Random, number: int = 40) -> str:
    """A text of random words in sentences, some of them whole sentences in which the words around decide a sense."""
    found = []
    for _ in range(number // 8):
        if rng.random() < 0.4:
            found.append(rng.choice(sentences()))
            continue
        words = forms(rng, 8, ("zog",))
        found.append(" ".join([words[0].capitalize(), *words[1:]]) + rng.choice(".!?"))
    return "\n".join(found)


def check(order: TeachingOrder, step: int, text: str) -> TextReport:
    """The report on a text at a step, every word kept."""
    return Checker(Judge(order, step)).check(SourceText("x", text), every_word=True)


def said(report: TextReport) -> list[tuple[str, str, int]]:
    """Every word with its status and first step."""
    return [(at.word, at.verdict.status, at.verdict.first_step) for at in report.words]


def changed(order: TeachingOrder, text: str) -> TeachingOrder:
    """Another progression, in the accent of the first; not tried where it says something twice. `teach th as in this` may stand
    before `teach th`, which teaches more, but not after it."""
    found, problems = resolve(text, "drawn.progression", order.accent)
    wrong = [p for p in problems if not p.note]
    assume(not any("is taught twice" in p.what for p in wrong))
    assert not wrong, [p.text() for p in wrong]
    return found


def same_verdicts(one: TeachingOrder, other: TeachingOrder, rng: random.Random) -> None:
    """Two progressions say the same of a random text at every step."""
    text = text_of(rng)
    assert [s.number for s in one.steps] == [s.number for s in other.steps]
    for step in {1, (one.last + 1) // 2, one.last}:
        assert said(check(one, step, text)) == said(check(other, step, text))


@TRIALS
@given(SEED)
def test_the_first_step_does_not_depend_on_the_step_of_the_check(seed: int) -> None:
    order, _ = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    text = text_of(rng)
    reports = [check(order, s.number, text) for s in order.steps]
    steps = [[(at.word, at.verdict.first_step) for at in r.words if at.verdict.status != "allowed"] for r in reports]
    assert all(found == steps[0] for found in steps)
    assert len({report.ready_step() for report in reports}) == 1
    assert len({tuple(report.holding_back()) for report in reports}) == 1


@TRIALS
@given(SEED)
def test_a_text_can_be_read_from_its_ready_step_on_and_not_before(seed: int) -> None:
    order, _ = progression(seed % PROGRESSIONS)
    text = text_of(random.Random(seed), 16)
    report = check(order, order.last, text)
    ready = report.ready_step()
    if ready is None:
        assert report.errors or report.counts[UNSURE]
        return
    now = check(order, max(1, ready), text)
    assert not now.errors and not now.counts[UNSURE]
    if ready > 1:
        before = check(order, ready - 1, text)
        assert before.errors or before.counts[UNSURE]


@TRIALS
@given(SEED)
def test_without_what_holds_it_back_a_text_can_be_read(seed: int) -> None:
    order, _ = progression(seed % PROGRESSIONS)
    text = " ".join(forms(random.Random(seed), 25)) + "."
    report = check(order, order.last, text)
    holding = report.holding_back()
    steps = sorted({step for _, step in holding if step != NEVER})
    for step in steps[-2:]:
        late = {word for word, first in holding if first > step}
        kept = " ".join(w for w in text.rstrip(".").split() if plain_spelling(w).plain not in late)
        rest = check(order, step, kept)
        assert not rest.errors, (step, [w for w, s, _ in said(rest) if s == BLOCKED])


@TRIALS
@given(SEED)
def test_the_order_of_statements_in_a_step_is_nothing(seed: int) -> None:
    order, text = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    head, *steps = re.split(r"(?m)^(?=step )", text)
    mixed = [head]
    for step in steps:
        first, *rest = step.rstrip("\n").split("\n")
        inside = [line for line in rest if line.startswith("  ")]
        outside = [line for line in rest if not line.startswith("  ")]
        rng.shuffle(inside)
        mixed.append("\n".join([first, *inside, *outside]) + "\n")
    same_verdicts(order, changed(order, "".join(mixed)), rng)


@TRIALS
@given(SEED)
def test_several_lines_may_be_one_statement(seed: int) -> None:
    order, text = progression(seed % PROGRESSIONS)
    joined = re.sub(r"\n  (teach|tricky|structure|together) (?=.*\n  \1 )", r"\n  \1 ", text)
    while True:
        shorter = re.sub(r"(?m)^  (teach|tricky|structure|together) (.*)\n  \1 ", r"  \1 \2, ", joined)
        if shorter == joined:
            break
        joined = shorter
    assert joined.count("\n") < text.count("\n")
    same_verdicts(order, changed(order, joined), random.Random(seed))


@TRIALS
@given(SEED)
def test_a_step_may_stand_in_two_files(seed: int) -> None:
    order, text = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    number = rng.choice(order.steps).number
    body = re.search(rf"(?ms)^step {number}\n(.*?)(?=^\S|\Z)", text)
    assert body
    lines = body[1].rstrip("\n").split("\n") if body[1].strip() else []
    half = len(lines) // 2
    with TemporaryDirectory() as folder:
        # the included file comes first, as the first half of the step does
        Path(folder, "part.progression").write_text("\n".join([f"step {number}", *lines[:half]]) + "\n", "utf-8")
        rest = text.replace(body[0], "\n".join([f"step {number}", *lines[half:]]) + "\n")
        whole = Path(folder, "whole.progression")
        whole.write_text('include "part.progression"\n' + rest, "utf-8")
        found, problems = resolve(whole.read_text("utf-8"), str(whole))
        wrong = [p for p in problems if not p.note]
        assume(not any("is taught twice" in p.what for p in wrong))
        assert not wrong
        same_verdicts(order, found, rng)


@TRIALS
@given(SEED)
def test_a_step_divided_in_two_ends_where_it_ended(seed: int) -> None:
    order, text = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    number = rng.choice(order.steps).number

    def later(match: re.Match[str]) -> str:
        return match[1] + str(int(match[2]) + (int(match[2]) > number))

    lines = re.sub(r"(?m)^(step |.*from step )(\d+)$", later, text).split("\n")
    at = lines.index(f"step {number}")
    size = next((i for i, line in enumerate(lines[at + 1 :]) if not line.startswith("  ")), 0)
    lines.insert(at + 1 + rng.randint(0, size), f"step {number + 1}")
    other = changed(order, "\n".join(lines))
    words = text_of(rng)
    for step in {1, number, order.last}:
        one = said(check(order, step, words))
        two = said(check(other, step + (step >= number), words))
        assert [(w, s) for w, s, _ in one] == [(w, s) for w, s, _ in two]


@TRIALS
@given(SEED)
def test_an_include_is_its_text(seed: int) -> None:
    order, text = progression(seed % PROGRESSIONS)
    with TemporaryDirectory() as folder:
        Path(folder, "inner.progression").write_text(text, "utf-8")
        outer = Path(folder, "outer.progression")
        outer.write_text('progression "Harbour Lane"\ninclude "inner.progression"\n', "utf-8")
        same_verdicts(order, load(str(outer)), random.Random(seed))


@TRIALS
@given(SEED, st.sampled_from(("crlf", "cr", "bom", "nfd", "curly")))
def test_how_a_text_is_written_down_is_nothing(seed: int, way: str) -> None:
    order, _ = progression(seed % PROGRESSIONS)
    text = text_of(random.Random(seed)).replace("donkeys", "caf\u00e9 donkeys") + "\nThe caf\u00e9 isn't Omar's."
    written = {
        "crlf": text.replace("\n", "\r\n"), "cr": text.replace("\n", "\r"), "bom": "\ufeff" + text,
        "nfd": unicodedata.normalize("NFD", text), "curly": text.replace("'", "\u2019"),
    }[way]  # fmt: skip
    step = random.Random(seed).choice(order.steps).number
    one, other = check(order, step, text), check(order, step, decode(written.encode(), "x"))
    assert [(s, f) for _, s, f in said(one)] == [(s, f) for _, s, f in said(other)]
    assert one.counts == other.counts and one.ready_step() == other.ready_step()


@TRIALS
@given(SEED, st.sampled_from(("crlf", "curly", "bom")))
def test_how_a_progression_is_written_down_is_nothing(seed: int, way: str) -> None:
    order, text = progression(seed % PROGRESSIONS)
    data = text.replace("'", "\u2019") if way == "curly" else text
    data = data.replace("\n", "\r\n") if way == "crlf" else data
    with TemporaryDirectory() as folder:
        file = Path(folder, "drawn.progression")
        file.write_bytes((b"\xef\xbb\xbf" if way == "bom" else b"") + data.encode())
        same_verdicts(order, load(str(file)), random.Random(seed))


def _moved(text: str, line: str, step: int) -> str:
    """A progression in which one line stands at another step."""
    without = text.replace(f"{line}\n", "", 1)
    return without.replace(f"step {step}\n", f"step {step}\n{line}\n", 1)


@TRIALS
@given(SEED)
def test_also_is_the_progression_with_the_line_moved(seed: int) -> None:
    order, text = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    step, line, _ = _a_lesson(rng, text, later=True)
    if not line:
        return
    standing = choose_step(order, Wanted(f"{step} also {line.strip()}"))
    moved = changed(order, _moved(text, line, step))
    words = text_of(rng)
    assert said(check(standing.order, standing.step, words)) == said(check(moved, step, words))


@TRIALS
@given(SEED)
def test_except_is_what_was_known_before_less_the_lesson(seed: int) -> None:
    order, text = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    step, line, at = _a_lesson(rng, text, later=False)
    if not line:
        return
    # what is left out is still mentioned: it stands at a step that never comes
    last = order.last + 1
    moved = changed(order, _moved(text + f"step {last}\n", line, last))
    standing = choose_step(order, Wanted(f"{step} except {line.strip()}"))
    excepted = standing.order.excepted
    if any(when != at or moved.step_of(item) == at for item, when in excepted.items()):
        return  # in this accent another line teaches the same (o and o as in off): that line would have to move as well
    words = text_of(rng)
    one, other = check(standing.order, standing.step, words), check(moved, step, words)
    assert [(w, s) for w, s, _ in said(one)] == [(w, s) for w, s, _ in said(other)], (line, at)


def _a_lesson(rng: random.Random, text: str, *, later: bool) -> tuple[int, str, int]:
    """A step, and a line that stands at a later step, or at this or an earlier one; no line where there is none."""
    at, lessons, steps = 0, [], []
    for line in text.split("\n"):
        if line.startswith("step "):
            at = int(line.split()[1])
            steps.append(at)
        elif line.startswith(("  teach", "  tricky", "  structure", "  together")) and text.count(f"{line}\n") == 1:
            lessons.append((at, line))
    step = rng.choice(steps)
    fit = [(s, line) for s, line in lessons if (s > step) == later]
    if not fit:
        return step, "", 0
    chosen, line = rng.choice(fit)
    return step, line, chosen


@TRIALS
@given(SEED)
def test_lag_is_an_earlier_step(seed: int) -> None:
    order, _ = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    numbers = [s.number for s in order.steps]
    at = rng.randrange(len(numbers))
    behind = rng.randint(0, at)
    standing = choose_step(order, Wanted(f"{numbers[at]} lag {behind}"))
    words = text_of(rng)
    expected = said(check(order, numbers[at - behind], words))
    assert said(check(standing.order, standing.step, words)) == expected


@TRIALS
@given(SEED)
def test_a_later_step_blocks_nothing(seed: int) -> None:
    order, _ = progression(seed % PROGRESSIONS)
    text = text_of(random.Random(seed))
    ranks = [[LATER[s] for _, s, _ in said(check(order, step.number, text))] for step in order.steps]
    assert all(a >= b for one, other in pairwise(ranks) for a, b in zip(one, other, strict=True))


@TRIALS
@given(SEED)
def test_the_blockers_are_what_is_missing(seed: int) -> None:
    order, _ = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    step = rng.choice(order.steps).number
    judge = Judge(order, step)
    for form in forms(rng, 30):
        verdict = judge.judge(form)
        if verdict.status != BLOCKED:
            continue
        assert verdict.blockers or verdict.tricky_at, form
        if verdict.first_step != NEVER and verdict.tricky_at is None:
            taught = [b.taught_at for b in verdict.blockers]
            assert all(t is not None and t > step for t in taught), form
            # of a word with two sounds, the things in the way are those of one; it waits for both
            several = len({r.sense for r in verdict.readings}) > 1
            last = max(t or 0 for t in taught)
            assert last <= verdict.first_step if several else last == verdict.first_step, form


@TRIALS
@given(SEED)
def test_teaching_the_blockers_clears_the_word(seed: int) -> None:
    order, _ = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    step = rng.choice(order.steps).number
    judge = Judge(order, step)
    for form in forms(rng, 30):
        verdict = judge.judge(form)
        causes = {b.cause for b in verdict.blockers}
        if verdict.status != BLOCKED or not causes or causes & {IRREGULAR, CAPITAL}:
            continue
        # only the blockers are new: what the progression mentions, and so what holds words back, stays as it was
        items = {**order.item_step, **{b.item: step for b in verdict.blockers}}
        taught = replace(order, item_step=items, variant=form, _unit_step={})
        assert Judge(taught, step).judge(form).status in ("decodable", "tricky", UNSURE), (form, verdict.blockers)


@TRIALS
@given(SEED)
def test_what_stands_beside_a_text_is_nothing(seed: int) -> None:
    order, _ = progression(seed % PROGRESSIONS)
    rng = random.Random(seed)
    step = rng.choice(order.steps).number
    texts = [text_of(rng) for _ in range(3)]
    checker = Checker(Judge(order, step))
    together = [said(checker.check(SourceText("x", text), every_word=True)) for text in texts]
    again = [said(checker.check(SourceText("x", text), every_word=True)) for text in reversed(texts)]
    assert together == [said(check(order, step, text)) for text in texts] == again[::-1]
    blank = check(order, step, "\n\n".join(texts))
    assert said(blank) == [one for text in together for one in text]


@TRIALS
@given(SEED)
def test_large_letters_differ_by_their_capitals_alone(seed: int) -> None:
    order, text = progression(seed % PROGRESSIONS)
    plain = changed(order, re.sub(r"(?m)^(capitals from.*|  teach [A-Z])\n", "", text))
    rng = random.Random(seed)
    step = rng.choice(order.steps).number
    judge = Judge(plain, step)
    for form in (w for w in rng.sample(common(), 40) if len(w) > 3 and "'" not in w):
        small, large = judge.judge(form), judge.judge(form.upper())
        if small.unlisted:
            continue  # unknown letters in capitals are taken for an abbreviation
        assert (small.status, small.first_step) == (large.status, large.first_step), form
        held = Judge(order, step).judge(form.upper())
        if held.status == BLOCKED and small.status != BLOCKED:
            assert {b.cause for b in held.blockers} == {CAPITAL}, form
