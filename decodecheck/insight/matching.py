"""Which step of one progression is which of another: by what they teach, by title, by number; the order of steps is kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from decodecheck.lexicon.items import TRICKY
from decodecheck.progression.order import StepHead, TeachingOrder

SAME_TITLE = 0.3
SAME_NUMBER = 0.55
"""More than half of a step's lessons: two steps that have changed places keep their numbers, and their lessons have moved."""
MOST_TITLED = 60
"""Steps of one title that are all looked at."""
Lesson = tuple[str, ...]
Lessons = dict[int, set[Lesson]]
"""What each step teaches: items without their place in words, and tricky words."""


def match_steps(old: TeachingOrder, new: TeachingOrder) -> dict[int, int]:
    """Old step to new step, for every old step that has a counterpart; later steps never have an earlier one.

    Of all such matchings the one is taken in which the most of what the old steps teach is found in their counterparts; a
    common title or number counts as well. So a step may be renumbered, renamed, or joined to another.
    """
    taught_old, taught_new = lessons(old), lessons(new)
    scores = _scores(old.steps, new.steps, taught_old, taught_new)
    pairs = _best(scores, len(new.steps), joining=True)
    found = {old.steps[i].number: new.steps[j].number for i, j in pairs}
    times = Counter(found.values())
    if any(times[b] > 1 and not taught_old[a] & taught_new[b] for a, b in found.items()):
        # what is joined has to be found there; a common number is not enough
        pairs = _best(scores, len(new.steps), joining=False)
        found = {old.steps[i].number: new.steps[j].number for i, j in pairs}
    return found


def _scores(
    old: Sequence[StepHead], new: Sequence[StepHead], taught_old: Lessons, taught_new: Lessons
) -> list[dict[int, float]]:
    """For each old step, the new ones that have anything in common with it, with their scores; most pairs have nothing."""
    by_lesson: dict[Lesson, list[int]] = {}
    by_title: dict[str, list[int]] = {}
    by_number = {head.number: j for j, head in enumerate(new)}
    for j, head in enumerate(new):
        for lesson in taught_new[head.number]:
            by_lesson.setdefault(lesson, []).append(j)
        if head.title:
            by_title.setdefault(head.title.lower(), []).append(j)
    found = []
    for i, head in enumerate(old):
        near = {j for lesson in taught_old[head.number] for j in by_lesson.get(lesson, ())}
        titled = by_title.get(head.title.lower(), [])
        # one title for very many steps tells none of them from another
        near.update(titled if len(titled) <= MOST_TITLED else titled[max(0, i - 1) : i + 2])
        if head.number in by_number:
            near.add(by_number[head.number])
        found.append(
            {j: _score(head, new[j], taught_old[head.number], taught_new[new[j].number]) for j in sorted(near)}
        )
    return found


@dataclass(frozen=True, slots=True)
class _Pair:
    """The end of a row of pairs: their scores together, row and column of the last one, and the pair before."""

    total: float
    row: int
    column: int
    before: _Pair | None


def _better(a: _Pair | None, b: _Pair | None) -> _Pair | None:
    """The one with the higher total; of equals, that of the earlier column, then that of the later row."""
    if a is None or b is None:
        return a or b
    return a if (a.total, -a.column, a.row) > (b.total, -b.column, b.row) else b


def _best(scores: Sequence[dict[int, float]], columns: int, *, joining: bool) -> list[tuple[int, int]]:
    """Pairs (row, column) in order, columns never falling, with the highest sum; with `joining` rows may share a column.

    The best row of pairs up to each column is kept in a tree of prefixes (Fenwick 1994), so that the time grows with the number
    of scores and not with that of all pairs of steps.
    """
    tree: list[_Pair | None] = [None] * (columns + 1)

    def up_to(column: int) -> _Pair | None:
        found = None
        while column > 0:
            found = _better(found, tree[column])
            column -= column & -column
        return found

    for row, own in enumerate(scores):
        new = []
        for column, score in own.items():
            if score:
                before = up_to(column + 1 if joining else column)
                new.append(_Pair((before.total if before else 0.0) + score, row, column, before))
        for pair in new:
            at = pair.column + 1
            while at <= columns:
                tree[at] = _better(tree[at], pair)
                at += at & -at
    pairs = []
    last = up_to(columns)
    while last:
        pairs.append((last.row, last.column))
        last = last.before
    return pairs[::-1]


def _score(a: StepHead, b: StepHead, taught_a: set[Lesson], taught_b: set[Lesson]) -> float:
    shared = len(taught_a & taught_b) / max(1, len(taught_a))
    titled = a.title != "" and a.title.lower() == b.title.lower()
    return shared + SAME_TITLE * titled + SAME_NUMBER * (a.number == b.number)


def lessons(order: TeachingOrder) -> Lessons:
    """What each step of a progression teaches."""
    found: Lessons = {s.number: set() for s in order.steps}
    for mention in order.mentions:
        # a correspondence at three places is one lesson
        found.setdefault(mention.step, set()).update(key.stem for key in mention.keys)
    for word, step in order.tricky.items():
        found.setdefault(step, set()).add((TRICKY, word))
    return found


def counterparts(old: TeachingOrder, new: TeachingOrder, matched: dict[int, int]) -> dict[int, int]:
    """For each old step, the new one at which a class stands that has finished it.

    Its match; if the old step was divided, the last new step that teaches mostly what was taught in it. A step without a match
    is taken for the nearest one before it that has one, else for the first.
    """
    taught_old, taught_new = lessons(old), lessons(new)
    taken = set(matched.values())
    place = {head.number: at for at, head in enumerate(new.steps)}
    result = {}
    now = new.steps[0].number
    for step in (head.number for head in old.steps):
        if step in matched:
            now = matched[step]
        found = now
        at = place[now] + 1
        while step in matched and at < len(new.steps):
            own = taught_new[new.steps[at].number]
            if new.steps[at].number in taken or len(own & taught_old[step]) <= len(own) / 2:
                break
            found = new.steps[at].number
            at += 1
        result[step] = found
    return result
