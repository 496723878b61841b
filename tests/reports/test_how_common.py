"""How common a word is: in `explain`, for people and for programs. Source of every figure: the package wordfreq."""

import json
import subprocess
import sys

import pytest
import wordfreq

from decodecheck.cli.main import run
from decodecheck.lexicon.frequency import zipf_frequency
from decodecheck.lexicon.store import tables

LOADED = (
    "import sys; from decodecheck.cli.main import run; run(['explain', *sys.argv[1:]]); "
    "print(sorted({'spacy', 'wordfreq', 'numpy'} & set(sys.modules)))"
)


def loaded(*arguments: str) -> list[str]:
    command = [sys.executable, "-c", LOADED, *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines()


@pytest.mark.parametrize("form", ["text", "jsonl"])
def test_a_listed_word_needs_no_wordfreq(form: str) -> None:
    assert loaded("cat", "don't", "--format", form)[-1] == "[]"


def test_an_unlisted_word_is_looked_up_in_wordfreq() -> None:
    assert tables().number("barnacled") == -1
    *lines, modules = loaded("barnacled")
    assert "'wordfreq'" in modules and "spacy" not in modules
    # 10 ** (9 - 1.1), to two figures
    assert wordfreq.zipf_frequency("barnacled", "en") == 1.1
    assert "  how common: about 1 in 79,000,000 words of general English" in lines


def test_figures_are_those_of_wordfreq() -> None:
    known = tables()
    listed = [w for w in known.words()[::211] if known.zipf[known.number(w)]]
    assert len(listed) > 400
    for word in [*listed, "the", "don't", "o'clock"]:
        assert zipf_frequency(word) == pytest.approx(wordfreq.zipf_frequency(word, "en"), abs=1e-9)
    beyond = [w for w in wordfreq.top_n_list("en", 300_000)[-3000::100] if w.isalpha() and known.number(w) == -1]
    assert len(beyond) > 10
    for word in beyond:
        assert zipf_frequency(word) == wordfreq.zipf_frequency(word, "en") > 0


def test_no_figure_is_none() -> None:
    assert zipf_frequency("flumb") is None and wordfreq.zipf_frequency("flumb", "en") == 0
    # wordfreq has a figure for two words together, which is none for this word
    assert zipf_frequency("sea-well-known") is None and wordfreq.zipf_frequency("sea-well-known", "en") > 0
    assert zipf_frequency("b12") is None and zipf_frequency("") is None


def test_both_reports_say_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["explain", "the", "flumb", "Buuuut"]) == 0
    lines = [line for line in capsys.readouterr().out.splitlines() if "how common" in line]
    # van Heuven, Mandera, Keuleers and Brysbaert (2014): Zipf 6 is one word in a thousand; the, with 7.73, is one in 19
    assert lines == [
        "  how common: about 1 in 19 words of general English",
        "  how common: no figure; not in the list of words that were counted",
        # read as but, Zipf 6.63
        "  how common: about 1 in 230 words of general English",
    ]
    assert run(["explain", "the", "flumb", "12", "--format", "jsonl"]) == 0
    assert [json.loads(line)["zipf"] for line in capsys.readouterr().out.splitlines()] == [7.73, None, None]
