"""What a project makes of findings: allowed words, severities, what passes. Held against the plain report, finding by finding."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.checking.check import Checker
from decodecheck.checking.kinds import ERROR, OFF, WARNING
from decodecheck.checking.report import TextReport
from decodecheck.checking.treated import treated
from decodecheck.checking.treatment import PLAIN, Treatment
from decodecheck.documents.allowance import Allowance
from decodecheck.documents.document import Document
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import ALLOWED, BLOCKED, STATUSES, UNSURE
from decodecheck.progression.resolve import resolve

ORDER, _ = resolve(
    """step 1
  teach a, b, c, d, e, f, g, h, i, k, l, m, n, o, p, r, s, t, u, v, w, x, y, z; ea as in leaf, th, sh, er, ck
  tricky the, a
step 2
  teach -ing
allow names Tilda
""",
    "x",
)
CHECKER = Checker(Judge(ORDER, 1))
# bread blocked, read of two senses, flumb unknown, Tilda allowed, Zofkin an unknown name
WORDS = [
    "bread",
    "Bread",
    "bread's",
    "cat",
    "flumb",
    "read",
    "Zofkin",
    "Zofkin's",
    "Tilda",
    "sitting",
    "bread-bin",
    "the",
    "wind",
    ".",
]
TEXTS = st.lists(st.sampled_from(WORDS), min_size=1, max_size=14).map(" ".join)
KINDS = ["", "untaught-correspondence", "unlisted-word", "unlisted-name", "undecided-sense", "untaught-ending"]
ALLOWANCES = st.lists(
    st.builds(
        Allowance,
        st.sampled_from(["bread", "flumb", "Zofkin", "read", "sitting", "wind", "bin", "BREAD"]),
        st.sampled_from(KINDS),
        start=st.integers(0, 40),
        end=st.integers(0, 90),
    ),
    max_size=3,
)


def check(text: str, treatment: Treatment = PLAIN, *, every_word: bool = False) -> TextReport:
    return treated(CHECKER.check(Document("x.txt", text), every_word=every_word), treatment)


@settings(max_examples=300, deadline=None)
@given(TEXTS, ALLOWANCES, st.sampled_from([*KINDS, "none"]), st.booleans())
def test_what_is_allowed_is_counted_and_not_told(
    text: str, allowances: list[Allowance], off: str, every_word: bool
) -> None:
    plain = check(text)
    treatment = Treatment({off: OFF} if off in KINDS[1:] else {}, allowances=tuple(allowances))
    report = check(text, treatment, every_word=every_word)

    def allowed(kind: str, word: str, start: int) -> bool:
        spelt = word.lower().removesuffix("'s")
        return kind == off or any(
            a.word.lower() == spelt and a.kind in ("", kind) and a.start <= start < a.end for a in allowances
        )

    silent = [f for f in plain.findings if allowed(f.kind, f.word, f.start)]
    kept = [f for f in plain.findings if f not in silent]
    assert report.findings == kept
    moved = Counter(f.status for f in silent)
    for status in STATUSES:
        more = len(silent) if status == ALLOWED else -moved[status]
        assert report.counts[status] == plain.counts[status] + more
    assert report.allowed_here.total() == len(silent)
    assert report.severity == (ERROR if any(f.severity == ERROR for f in kept) else WARNING if kept else "")
    by_status = Counter({s: sum(o.times for o in report.occurrences if o.status == s) for s in STATUSES})
    assert by_status == report.counts
    assert report.running == plain.running
    # what holds a text back is what is told
    told = {f.word.lower() for f in kept if f.status}
    assert {w for w, found in report.distinct.items() if found.status in (BLOCKED, UNSURE)} == told
    if every_word:
        assert Counter(w.verdict.status for w in report.words) == +Counter(
            {s: n for s, n in report.counts.items() if s != "unjudged"}
        )


@settings(max_examples=100, deadline=None)
@given(TEXTS, st.integers(0, 4), st.sampled_from(["untaught-correspondence", "unlisted-word", "untaught-ending"]),
       st.sampled_from([ERROR, WARNING, ""]))  # fmt: skip
def test_so_many_blocked_words_pass(text: str, most: int, kind: str, severity: str) -> None:
    severities = {kind: severity} if severity else {}
    plain, report = check(text, Treatment(severities)), check(text, Treatment(severities, allow_blocked=most))
    failing = [f for f in plain.findings if f.status == BLOCKED and f.severity == ERROR]
    assert report.let_through == (report.errors > 0 and len(failing) <= most)
    wanted = [WARNING if f in failing and len(failing) <= most else f.severity for f in plain.findings]
    assert [f.severity for f in report.findings] == wanted
    assert report.severity == (ERROR if ERROR in wanted else WARNING if wanted else "")
    others = [f for f in report.findings if f.severity == ERROR or not (report.let_through and f.status == BLOCKED)]
    if not severities:
        assert report.to_see_to == bool(others)


@pytest.mark.parametrize(
    ("text", "idle"),
    [("bread", []), ("cat", ["bread"]), ("Bread's", []), ("bread-bin", ["bread"]), ("breads", ["bread"])],
)
def test_an_allowance_of_the_text_that_allows_nothing(text: str, idle: list[str]) -> None:
    from decodecheck.documents.readers.plain_text import read

    document = read("x.txt", f"#! decodecheck: allow bread because\n{text}\n".encode())
    for told in (True, False):
        treatment = Treatment(allowances=document.allowances, idle_told=told)
        report = treated(CHECKER.check(document), treatment)
        assert [f.word for f in report.findings if f.kind == "idle-allowance"] == (idle if told else [])
        assert [a.word for a in report.idle] == (idle if told else [])
    off = treated(CHECKER.check(document), Treatment({"idle-allowance": OFF}, allowances=document.allowances))
    assert not [f for f in off.findings if f.kind == "idle-allowance"]


def test_an_allowance_does_not_reach_what_is_fine_or_not_judged() -> None:
    report = check("the cat sat at 10", Treatment(allowances=(Allowance("cat"), Allowance("10"))))
    assert report.counts[ALLOWED] == 0 and report.used == frozenset()
    assert report.counts[UNSURE] == 0
