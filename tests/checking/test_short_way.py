"""The short way to a status (a vector over the lexicon) against the long way, under orders that each have something special."""

import pytest

from decodecheck.judging.judge import Judge
from decodecheck.lexicon.common_words import common_words
from decodecheck.progression.order import TeachingOrder
from decodecheck.progression.resolve import resolve

SHORT = "teach a, b, c, d, e, f, g, h, i, l, m, n, o, p, r, s, t, u"
LATER = "teach k, w, y, j, v, qu, x, z, sh, th, ch, ng, ck, ee, ea as in leaf, ow as in town, a-e, i-e, oo as in moon, ar, or, er"
# what is special; forms that show it, each with its status at step 2, judged by hand
ORDERS = {
    "nothing": ("", {"cat": "decodable", "Cat": "decodable", "keen": "blocked", "bread": "blocked"}),
    "pinned": (
        "word bread = b + r + ea /iː/ + d\nword cat = c + a /eɪ/ + t\nword Dan = d + a + n",
        # the school's own readings hold, whatever the lexicon says
        {"bread": "blocked", "cat": "blocked", "Cat": "blocked", "Dan": "decodable"},
    ),
    "capitals": ("capitals from step 3", {"dad": "decodable", "Dad": "blocked", "DAD": "blocked"}),
    "one capital": ("step 4\n  teach D", {"Dad": "blocked", "Mum": "decodable", "dad": "decodable"}),
    "names": ("allow names Jack, Will", {"Jack": "allowed", "Jack's": "allowed", "JACK": "allowed", "jack": "blocked"}),
    "sounds": ("allow sounds moo, hiss", {"moo": "allowed", "Moo": "allowed", "hiss": "allowed", "moon": "blocked"}),
    "doubled": ("doubled letters from step 3", {"mess": "blocked", "egg": "blocked", "men": "decodable"}),
    "exact": ("weakened vowels exact", {"lemon": "blocked", "lent": "decodable"}),
    "weakened": ("", {"lemon": "decodable"}),
    "tricky": (
        "step 3\n  tricky was, because\nstep 2\n  tricky some, out",
        {"was": "blocked", "some": "tricky", "someone": "blocked", "outside": "blocked", "out": "tricky"},
    ),
    "ending": ("step 3\n  teach -s, -ing", {"cats": "blocked", "bus": "decodable", "running": "blocked"}),
    "structure": ("step 3\n  structure CCVC", {"stop": "blocked", "sop": "decodable"}),
    "american": ("accent general-american", {"bath": "blocked", "cat": "decodable"}),
}


def order(special: str) -> TeachingOrder:
    lines = [line for line in special.splitlines() if line]
    head = [line for line in lines if line.startswith("accent")]
    steps: dict[str, list[str]] = {"step 1": [], "step 2": [f"  {SHORT}"], "step 3": [f"  {LATER}"], "step 4": []}
    outside = []
    at = ""
    for line in lines:
        if line.startswith("step"):
            at = line
        elif line.startswith("  "):
            steps[at].append(line)
        elif line not in head:
            outside.append(line)
    text = "\n".join([*head, *(part for s, rest in steps.items() for part in (s, *rest)), *outside]) + "\n"
    found, problems = resolve(text, "x")
    assert not [p for p in problems if not p.note], [p.text() for p in problems]
    return found


@pytest.mark.parametrize("name", ORDERS)
def test_forms_that_show_what_is_special(name: str) -> None:
    special, forms = ORDERS[name]
    judge = Judge(order(special), 2)
    assert {form: judge.status(form)[0] for form in forms} == forms
    assert {form: judge.judge(form).status for form in forms} == forms


@pytest.mark.parametrize("name", ORDERS)
def test_both_ways_say_the_same(name: str) -> None:
    special, forms = ORDERS[name]
    teaching = order(special)
    words = [*common_words(teaching.lexicon, 400)[::2], "lemon", "rabbit", "MIX", "mix", "someone", "I'm", "jumped"]
    spelt = [*forms, *(f for w in words for f in (w, w.capitalize(), w.upper()))]
    for step in (2, 3):
        short, long = Judge(teaching, step), Judge(teaching, step)
        for form in spelt:
            verdict = long.judge(form)
            assert short.status(form) == (verdict.status, verdict.first_step), form
