"""Which step of one progression is which of another: by what they teach, by title, by number; the order of steps is kept."""

from __future__ import annotations

from decodecheck.progression.order import StepHead, TeachingOrder

SAME_TITLE = 0.3
SAME_NUMBER = 0.55
"""More than half of a step's lessons: two steps that have changed places keep their numbers, and their lessons have moved."""
Lessons = dict[int, set[str]]
"""What each step teaches: items without their place in words, and tricky words."""


def match_steps(old: TeachingOrder, new: TeachingOrder) -> dict[int, int]:
    """Old step to new step, for every old step that has a counterpart; later steps never have an earlier one.

    Of all such matchings the one is taken in which the most of what the old steps teach is found in their counterparts; a
    common title or number counts as well. So a step may be renumbered, renamed, or joined to another.
    """
    taught_old, taught_new = lessons(old), lessons(new)
    scores = [[_score(a, b, taught_old[a.number], taught_new[b.number]) for b in new.steps] for a in old.steps]
    pairs = _best(scores, joining=True)
    found = {old.steps[i].number: new.steps[j].number for i, j in pairs}
    counterparts = list(found.values())
    if any(counterparts.count(b) > 1 and not taught_old[a] & taught_new[b] for a, b in found.items()):
        # what is joined has to be found there; a common number is not enough
        found = {old.steps[i].number: new.steps[j].number for i, j in _best(scores, joining=False)}
    return found


def _best(scores: list[list[float]], *, joining: bool) -> list[tuple[int, int]]:
    """Pairs (row, column) in order, columns never falling, with the highest sum; with `joining` rows may share a column."""
    rows, columns = len(scores), len(scores[0]) if scores else 0
    best = [[0.0] * (columns + 1) for _ in range(rows + 1)]
    for i in range(1, rows + 1):
        for j in range(1, columns + 1):
            score = scores[i - 1][j - 1]
            taken = best[i - 1][j if joining else j - 1] + score if score else 0.0
            best[i][j] = max(best[i - 1][j], best[i][j - 1], taken)
    pairs = []
    i, j = rows, columns
    while i and j:
        score = scores[i - 1][j - 1]
        before = j if joining else j - 1
        if best[i][j] == best[i][j - 1]:
            j -= 1
        elif score and best[i][j] == best[i - 1][before] + score:
            pairs.append((i - 1, j - 1))
            i, j = i - 1, before
        else:
            i -= 1
    return pairs[::-1]


def _score(a: StepHead, b: StepHead, taught_a: set[str], taught_b: set[str]) -> float:
    shared = len(taught_a & taught_b) / max(1, len(taught_a))
    titled = a.title != "" and a.title.lower() == b.title.lower()
    return shared + SAME_TITLE * titled + SAME_NUMBER * (a.number == b.number)


def lessons(order: TeachingOrder) -> Lessons:
    """What each step of a progression teaches."""
    found: Lessons = {s.number: set() for s in order.steps}
    for mention in order.mentions:
        # a correspondence at three places is one lesson
        found.setdefault(mention.step, set()).update(key.rsplit("|", 1)[0] for key in mention.keys)
    for word, step in order.tricky.items():
        found.setdefault(step, set()).add(f"tricky|{word}")
    return found


def counterpart(old: TeachingOrder, new: TeachingOrder, matched: dict[int, int], step: int) -> int:
    """The new step at which a class stands that has finished an old one.

    Its match; if the old step was divided, the last new step that teaches mostly what was taught in it. A step without a match
    is taken for the nearest one before it that has one, else for the first.
    """
    earlier = [s.number for s in old.steps if s.number <= step and s.number in matched]
    if not earlier:
        return new.steps[0].number
    found = matched[max(earlier)]
    if max(earlier) != step:
        return found
    taught_old, taught_new = lessons(old), lessons(new)
    taken = set(matched.values())
    for head in new.steps:
        if head.number <= found:
            continue
        own = taught_new[head.number]
        if head.number in taken or len(own & taught_old[step]) <= len(own) / 2:
            break
        found = head.number
    return found
