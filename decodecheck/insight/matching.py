"""Which step of one progression is which of another: by what they teach, then by title, then by number."""

from __future__ import annotations

from decodecheck.progression.order import StepHead, TeachingOrder

SAME_TITLE = 0.3
SAME_NUMBER = 0.05
"""Enough to settle a tie."""


def match_steps(old: TeachingOrder, new: TeachingOrder) -> dict[int, int]:
    """Old step to new step, for every old step that has a match. A step may have been renumbered, retitled, moved.

    The pair that shares most of what it teaches (shared over all items and tricky words of the two) is matched first; a
    common title counts as well. Steps that share nothing are matched by their number, if both are left over.
    """
    old_lessons, new_lessons = _lessons(old), _lessons(new)
    scores = []
    for a in old.steps:
        for b in new.steps:
            score = _score(a, b, old_lessons[a.number], new_lessons[b.number])
            if score >= SAME_NUMBER:
                scores.append((-score, a.number, b.number))
    found: dict[int, int] = {}
    taken: set[int] = set()
    for _, a_number, b_number in sorted(scores):
        if a_number not in found and b_number not in taken:
            found[a_number] = b_number
            taken.add(b_number)
    return found


def _score(a: StepHead, b: StepHead, taught_a: set[str], taught_b: set[str]) -> float:
    shared = len(taught_a & taught_b) / max(1, len(taught_a | taught_b))
    titled = a.title != "" and a.title.lower() == b.title.lower()
    return shared + SAME_TITLE * titled + SAME_NUMBER * (a.number == b.number)


def _lessons(order: TeachingOrder) -> dict[int, set[str]]:
    found: dict[int, set[str]] = {s.number: set() for s in order.steps}
    for mention in order.mentions:
        # a correspondence at three places is one lesson
        found.setdefault(mention.step, set()).update(key.rsplit("|", 1)[0] for key in mention.keys)
    for word, step in order.tricky.items():
        found.setdefault(step, set()).add(f"tricky|{word}")
    return found


def counterpart(old: TeachingOrder, new: TeachingOrder, matched: dict[int, int], step: int) -> int:
    """The new step that stands for an old one: its match, else that of the nearest step before it, else the first."""
    earlier = [s.number for s in old.steps if s.number <= step and s.number in matched]
    return matched[max(earlier)] if earlier else new.steps[0].number
