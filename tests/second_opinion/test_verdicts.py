"""Every verdict worked out twice: random words under random progressions, the program against the second opinion.

Outside the suite, `python -m tests.second_opinion.test_verdicts FROM TO WORDS` prints every disagreement.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator

import pytest

from decodecheck.judging.judge import Judge
from tests.second_opinion import words
from tests.second_opinion.draws import drawn, forms
from tests.second_opinion.opinion import Opinion, first_step, status
from tests.second_opinion.plan import Plan, read

NO_SENTENCE = ("allowed", "unjudged")
HISSES = ("s", "x", "z", "sh", "ch", "ge", "ce", "se", "ze")
KNOWN = {
    "abused": "the verb and the noun differ, and the second opinion takes either",
    "alleged": "as an adjective it has a reading of its own, which the second opinion takes for a form",
    "assuredly": "the -ed of assured is a syllable before -ly only",
    "combating": "its stress is not that of combat as listed",
    "decreasing": "as abused",
    "drawers": "furniture is one word, and not said as draw and -er",
    "gradually": "it has more variants listed than gradual has, and follows that",
    "jagged": "as alleged",
    "jewellery": "jeweller and -y have a syllable more",
    "legged": "as alleged",
    "predicated": "as abused",
    "raggedy": "as alleged",
    "scaffolding": "its o is weak, and that of scaffold, as listed, is not",
    "snorkeling": "the e of snorkel is sounded, that of snorkeling, as listed, is not",
    "sundays": "Sunday counts as a name; the program reads sun and days",
    "shing": "no word; the second opinion compares sounds roughly",
}
"""Words that the second opinion takes apart wrongly, and why."""


def left_out(plan: Plan, form: str) -> bool:
    """Is this a form of which SWITCHES.md says nothing, or that the second opinion cannot take apart?"""
    plain = words.plain(form)
    if any(part.removesuffix("'s") in KNOWN for part in plain.split("-")):
        return True
    if plain.endswith("'s") and "'s" not in plan.endings:
        # no letter says the vowel of the 's of Max's
        return plain[:-2].endswith(HISSES)
    if plain.endswith("'d") and "'d" not in plan.endings:
        return True  # nor that of it'd
    # the sense of half a word with a hyphen is decided by nothing
    return "-" in plain and any(len({r.sense for r in words.readings(plan.accent, p)}) > 1 for p in plain.split("-"))


def disagreements(seed: int, number: int) -> Iterator[str]:
    """What the program says otherwise: the form, its first step and statuses, and what they should be."""
    order, text = drawn(seed)
    plan = read(text)
    opinion = Opinion(plan)
    steps = sorted({1, (plan.last + 1) // 2, plan.last})
    judges = [Judge(order, step) for step in steps]
    for form in forms(random.Random(seed), number, plan.pinned):
        ways = [] if left_out(plan, form) else opinion.readable(form)
        verdicts = [judge.judge(form) for judge in judges]
        if not ways or verdicts[0].status in NO_SENTENCE:
            continue
        found = verdicts[-1].first_step, *(v.status for v in verdicts)
        wanted = [(first_step(way), *(status(way, step) for step in steps)) for way in ways]
        if found not in wanted:
            blockers = [(b.item, b.taught_at) for b in judges[0].judge(form).blockers]
            yield f"{seed}:{form} ({plan.accent}) at steps {steps}: {found}, not {wanted[0]}; {blockers}"


@pytest.mark.parametrize("seed", range(40))
def test_a_second_opinion_says_the_same(seed: int) -> None:
    assert list(disagreements(seed, 150)) == []


def test_most_verdicts_are_compared() -> None:
    # a second opinion that left everything out would agree with everything
    compared, readable, several = 0, 0, 0
    for seed in range(8):
        _, text = drawn(seed)
        plan = read(text)
        opinion = Opinion(plan)
        for form in forms(random.Random(seed), 150, plan.pinned):
            ways = [] if left_out(plan, form) else opinion.readable(form)
            compared += bool(ways)
            several += len(ways) > 1
            readable += any(first_step(way) <= plan.last for way in ways)
    assert compared > 1000 and readable > 200 and several < 200


if __name__ == "__main__":
    first, after, number = map(int, sys.argv[1:4])
    for seed in range(first, after):
        for line in disagreements(seed, number):
            print(line, flush=True)
