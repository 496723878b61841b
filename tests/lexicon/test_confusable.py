"""The pairs of rules/confusable.tsv: each is two things that a progression can teach."""

from decodecheck.progression.resolve import resolve
from decodecheck.resources import rules_folder
from decodecheck.tables import read_table

PAIRS = read_table(rules_folder() / "confusable.tsv")


def test_no_pair_twice() -> None:
    pairs = [frozenset((row["one"], row["other"])) for row in PAIRS]
    assert len(pairs) == len(set(pairs)) == len([p for p in pairs if len(p) == 2])
    assert {row["kind"] for row in PAIRS} == {"shape", "sound", "both"}


def test_every_source_says_how_sure_it_is() -> None:
    assert all("from memory" in row["source"] or "common practice, no source" in row["source"] for row in PAIRS)


def test_both_can_be_taught() -> None:
    for row in PAIRS:
        text = f"accent southern-british\nstep 1\n  teach {row['one']}\nstep 2\n  teach {row['other']}\n"
        _, problems = resolve(text, "x")
        assert not [p for p in problems if not p.note], (row, [p.text() for p in problems])
