"""A run and its reports are values: they can be compared, pickled and told from each other, and hold nothing that judges."""

import pickle
from dataclasses import fields
from pathlib import Path

import pytest

from decodecheck import api
from decodecheck.checking.check import Checker
from decodecheck.checking.report import TextReport
from decodecheck.documents.document import Document
from decodecheck.judging.judge import Judge, judge_at
from decodecheck.progression.resolve import resolve
from decodecheck.session import Session

SCHOOL = "step 1\n  teach a, b, d, e, h, i, m, n, o, p, r, s, t, th, sh\n  tricky the\nstep 2\n  teach ea as in head\nallow names Omar\n"
TEXT = "The bread is in the hat. Omar had bread. We read it. Zofkin sat.\n"


@pytest.fixture
def school(tmp_path: Path) -> Path:
    (tmp_path / "school.progression").write_text(SCHOOL, encoding="utf-8")
    (tmp_path / "texts").mkdir()
    (tmp_path / "texts" / "one.txt").write_text(TEXT, encoding="utf-8")
    (tmp_path / "texts" / "two.txt").write_text("Tim sat.\n", encoding="utf-8")
    (tmp_path / "texts" / "odd.txt").write_bytes(b"\xff\xff bread")
    return tmp_path


def report(text: str = TEXT) -> TextReport:
    order, problems = resolve(SCHOOL, "school.progression")
    assert not problems
    return Checker(Judge(order, 1)).check(Document("x.txt", text))


def test_a_report_is_a_value() -> None:
    one, other = report(), report()
    assert one == other
    assert one != report(TEXT + "Bread.")
    _ = one.findings, one.distinct
    again = pickle.loads(pickle.dumps(one))
    assert again == one
    assert again.findings == one.findings == other.findings
    assert len(again.findings) > 3
    assert again.holding_back() == one.holding_back()


def test_a_report_holds_no_judge() -> None:
    made = report()
    _ = made.findings
    assert b"Judge" not in pickle.dumps(made)
    assert not any(isinstance(getattr(made, f.name), Judge) for f in fields(made))


def test_an_order_forgets_what_was_worked_out_when_it_is_pickled() -> None:
    order, _ = resolve(SCHOOL, "x")
    judge_at(order, 1).judge("bread")
    again = pickle.loads(pickle.dumps(order))
    assert again == order
    assert order.remembered and not again.remembered


def test_findings_are_made_once() -> None:
    made = report()
    assert made.findings is made.findings


def test_a_run_is_a_value(school: Path) -> None:
    def run() -> api.Run:
        return api.check([school / "texts"], progression=school / "school.progression", step="1")

    one, other = run(), run()
    assert one == other
    assert [Path(r.path).name for r in one.results] == ["one.txt", "two.txt"]
    assert [Path(f.path).name for f in one.failures] == ["odd.txt"]
    assert (one.exit_code(), one.found, one.texts) == (2, 1, 2)
    again = pickle.loads(pickle.dumps(one))
    assert again == one
    assert again.failures[0].problem.what == one.failures[0].problem.what
    (school / "texts" / "odd.txt").unlink()
    assert run().exit_code() == 1
    (school / "texts" / "one.txt").unlink()
    assert run().exit_code() == 0


def test_a_text_may_be_given_as_a_string(school: Path) -> None:
    found = api.check_text(TEXT, progression=school / "school.progression", step="1")
    assert found.findings == api.check_text(TEXT, progression=school / "school.progression", step="1").findings
    assert [f.word for f in found.findings][:2] == ["bread", "is"]
    with pytest.raises(api.UserError, match="empty"):
        api.check_text(" \n", progression=school / "school.progression")
    assert [s.grapheme for s in api.explain("bread").found.readings[0].segments] == ["b", "r", "ea", "d"]


def test_the_folder_of_standard_input_is_no_secret(school: Path, tmp_path: Path) -> None:
    (school / "decodecheck.toml").write_text('progression = "school.progression"\nstep = 1\n', encoding="utf-8")
    assert Session(folder=school).check_text("Bread.").errors == 1
    with pytest.raises(api.UserError, match="No progression"):
        Session(folder="/").check_text("Bread.")


def test_a_changed_file_is_read_again(school: Path) -> None:
    session = Session(step="1")
    config, progression = school / "decodecheck.toml", school / "school.progression"
    config.write_text('progression = "school.progression"\n', encoding="utf-8")

    def told() -> list[str]:
        return [f.word for f in session.check(str(school / "texts" / "one.txt")).findings]

    assert told() == ["bread", "is", "bread", "We", "read", "Zofkin"]
    text = SCHOOL.replace("step 2\n  teach ea as in head", "step 2\n  teach w").replace(
        "th, sh", "th, sh, ea as in head"
    )
    progression.write_text(text, encoding="utf-8")
    assert told() == ["is", "We", "read", "Zofkin"]
    settled = '[[settled]]\nfiles = "texts/one.txt"\nword = "read"\nsense = "past"\nline = 1\n'
    config.write_text(f'progression = "school.progression"\n{settled}', encoding="utf-8")
    assert told() == ["is", "We", "Zofkin"]
    config.write_text(f'progression = "school.progression"\n{settled.replace("= 1", "= 2")}', encoding="utf-8")
    assert told() == ["is", "We", "read", "Zofkin"]


def test_what_was_told_of_other_texts_changes_nothing() -> None:
    school = SCHOOL.replace("th, sh", "th, sh, ea as in leaf")
    order, problems = resolve(school, "school.progression")
    assert not problems
    named = 0
    texts = [TEXT, "Zofkin had bread. Zofkin read it.\n", "Is it bread? Read it, Omar!\n", TEXT]
    for number, text in enumerate(texts):
        document = Document(f"{number}.txt", text)
        after_others = Checker(judge_at(order, 1)).check(document)
        alone = Checker(Judge(resolve(school, "school.progression")[0], 1)).check(document)
        for made in (after_others, alone):
            made.settled_as = f"texts/{number}.txt"
        assert [(f.message, f.remedy, f.kind, f.start) for f in after_others.findings] == [
            (f.message, f.remedy, f.kind, f.start) for f in alone.findings
        ]
        # what is written into a decodecheck.toml names its own text
        settled = [f for f in after_others.findings if "files =" in f.remedy]
        assert all(f'files = "texts/{number}.txt"' in f.remedy for f in settled)
        named += len(settled)
    assert named > 1
