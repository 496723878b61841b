"""Words with accents: read as the word without them only where they are known to be that word."""

import unicodedata
from pathlib import Path

import pytest

from decodecheck.checking.check import Checker
from decodecheck.cli.main import run
from decodecheck.judging.judge import Judge
from decodecheck.judging.verdict import UNSURE
from decodecheck.lexicon.lookup import plain_spelling
from decodecheck.resources import rules_folder
from decodecheck.source import SourceText
from decodecheck.tables import read_table
from tests.insight.demo import HARBOUR, harbour, order_of

JUDGE = Judge(harbour(), 27)


@pytest.mark.parametrize(
    ("form", "known"),
    [
        ("réd", False), ("Réd", False), ("bòat", False), ("thê", False), ("shéd", False), ("cäts", False), ("shïp", False),
        ("café", True), ("Café", True), ("cafés", True), ("café’s", True), ("CAFÉ", True), ("naïve", True), ("fiancée", True), ("sautéed", True),
        ("coöperate", True), ("Zoë", True), ("José", True), ("blessèd", True), ("red", True), ("don’t", True), ("ﬁsh", True), ("red\u200d", True),
    ],
)  # fmt: skip
def test_whether_it_is_known(form: str, known: bool) -> None:
    for written in {form, unicodedata.normalize("NFD", form)}:
        verdict = JUDGE.judge(written)
        assert verdict.unlisted is not known, written
        assert JUDGE.status(written) == (verdict.status, verdict.first_step)
        if not known:
            assert (verdict.status, verdict.detail) == (UNSURE, written)


def test_what_a_progression_speaks_of_is_known() -> None:
    order = order_of("step 1\n  teach a, b, e, l, p, r, t\n  tricky blé\nallow names Tré\n")
    judge = Judge(order, 1)
    assert [judge.judge(form).unlisted for form in ("blé", "Tré", "ble", "bét", "blê")] == [
        False,
        False,
        False,
        True,
        True,
    ]


def test_each_listed_word_has_an_accent_and_its_plain_word_is_known() -> None:
    for row in read_table(rules_folder() / "accented_words.tsv"):
        plain = plain_spelling(row["word"]).plain
        assert plain != row["word"] and plain.replace("-", "").isascii()
        assert not JUDGE.judge(row["word"]).unlisted, row["word"]


def test_it_is_told_as_it_is_written() -> None:
    (finding,) = Checker(JUDGE).check(SourceText("x.txt", "A réd hat.")).findings
    assert finding.message == "decodecheck does not know “réd”, so it cannot say how it sounds."
    assert finding.remedy == "Read it yourself; if it is meant to be “red”, write it so."


def test_a_word_that_is_not_known_with_its_accents_is_told_so(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    told = "not in the lexicon with these accents"
    assert run(["explain", "réd", "--progression", str(HARBOUR)]) == 0
    assert f"réd: {told}; read as red" in capsys.readouterr().out
    for word in ("réd", "red", "café", "José"):
        assert run(["explain", word]) == 0
        assert (told in capsys.readouterr().out) is (word == "réd"), word
    path = tmp_path / "week.txt"
    path.write_text("réd\nsun\ncafé\n", encoding="utf-8")
    assert run(["sheet", str(path), "--progression", str(HARBOUR)]) == 0
    said = capsys.readouterr()
    assert said.err.count(told) == 1 and f"week.txt:1:1: note: réd is {told}; it was divided as red" in said.err
    assert "without them, so check it" in " ".join(said.out.split())
