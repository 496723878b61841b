"""Every kind of finding: its page, its name, a case that shows it and one that does not."""

import re

import pytest

from decodecheck.checking.check import Checker
from decodecheck.checking.kinds import kinds
from decodecheck.checking.treated import treated
from decodecheck.checking.treatment import Treatment
from decodecheck.documents.readers.plain_text import read
from decodecheck.judging.judge import Judge
from decodecheck.progression.resolve import resolve

PROGRESSION = """step 1
  teach a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, qu, r, s, t, u, v, w, x, y, z
  teach ea as in leaf; sh, th, er, ck
step 2
  teach -ing, ai, T
  structure CCVC
  tricky said
doubled letters from step 2
"""
# text at step 1 that shows the kind, and one that does not
CASES = {
    "untaught-correspondence": ("a bread bin", "beam"),
    "later-tricky-word": ("he said it", "sad"),
    "untaught-ending": ("sitting", "bed bus"),
    "untaught-structure": ("stop", "sob"),
    "untaught-capital": ("Tom ran", "Sam ran"),
    "untaught-double": ("a rabbit", "a back"),
    "irregular-spelling": ("a colonel", "a cat"),
    "undecided-sense": ("We read maps", "a map"),
    "unlisted-word": ("a flumb", "a cat"),
    "unlisted-name": ("mad Zofkin", "mad dog"),
    "idle-allowance": ("#! decodecheck: allow bread\na cat", "#! decodecheck: allow bread\na bread bin"),
}


def found(text: str) -> set[str]:
    order, problems = resolve(PROGRESSION, "x")
    assert not problems
    document = read("x", text.encode())
    report = Checker(Judge(order, 1)).check(document)
    return {f.kind for f in treated(report, Treatment(allowances=document.allowances)).findings}


def test_no_kind_vanished_and_each_has_a_case() -> None:
    assert set(kinds()) == set(CASES)


@pytest.mark.parametrize("kind", sorted(CASES))
def test_case(kind: str) -> None:
    flagged, passed = CASES[kind]
    assert kind in found(flagged)
    assert kind not in found(passed)


@pytest.mark.parametrize("kind", sorted(CASES))
def test_page(kind: str) -> None:
    page = kinds()[kind].page
    headings = [m[0] for m in re.finditer(r"^(What it checks|Why it matters|Example|Instead):", page, re.MULTILINE)]
    assert headings == ["What it checks:", "Why it matters:", "Example:", "Instead:"]
    assert kinds()[kind].title.endswith(".") and kinds()[kind].severity in ("error", "warning")
    # names read after "allow": no remedy, no command
    assert not re.match(r"(no|use|avoid|prefer)-", kind)
