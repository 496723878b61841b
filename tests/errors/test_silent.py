"""What must not pass without a word, and what must not be said at length."""

from __future__ import annotations

from pathlib import Path

import pytest

from decodecheck.cli.main import run
from decodecheck.errors import UserError
from decodecheck.progression.advise import notes
from decodecheck.progression.resolve import resolve_file
from decodecheck.project.config import read_config

ACCENT = "southern-british"
LONG_WORD = "pan" * 100_000
ENOUGH = 4000
"""Characters that are enough to say that one word is not in the lexicon."""


# The source: each of these lines promises something that the program then does not do, or means nothing.
@pytest.mark.parametrize(
    ("lines", "named"),
    [
        pytest.param("tricky:the", "tricky:", id="a colon becomes part of the word"),
        pytest.param("tricky said.", "said.", id="no word of a text ends in a full stop"),
        pytest.param("tricky Mr.", "Mr.", id="an abbreviation is found without its full stop"),
        pytest.param("tricky 12", "`12`", id="numbers are not judged"),
        pytest.param("allow sounds moo!", "moo!", id="no sound word of a text ends in an exclamation mark"),
        pytest.param("structure CCC", "CCC", id="no word is without a vowel"),
        pytest.param("structure 0 syllables", "0 syllables", id="no word is without a syllable"),
        pytest.param("teach -s as in dogs", "`-s`", id="an ending drops its word"),
        pytest.param("teach A as in apple", "`A`", id="a capital drops its word"),
        pytest.param("teach A, at word end", "`A`", id="a capital drops its place"),
        pytest.param("teach -ing, at word start", "`-ing`", id="an ending drops its place"),
        pytest.param("teach st, at word start", "`st`", id="adjacent consonants drop their place"),
        pytest.param("teach nk, at word end", "`nk`", id="a combination drops its place"),
        pytest.param("capitals from step 1\ncapitals from step 2", "line 5", id="capitals from two steps"),
        pytest.param(
            "doubled letters from step 1\ndoubled letters from step 2", "line 5", id="doubled letters from two steps"
        ),
        pytest.param(
            "word Niamh = n + ia /iː/ + mh /v/\nword Niamh = n + ia /aɪ ə/ + mh /m/",
            "Niamh",
            id="two readings of one word",
        ),
    ],
)
def test_a_statement_without_effect_is_reported(tmp_path: Path, lines: str, named: str) -> None:
    school = tmp_path / "school.progression"
    head = "step 1\nteach p\nstep 2\nteach e\n"
    school.write_text(f"{head}{lines}\n", encoding="utf-8")
    order, problems = resolve_file(str(school))
    # one message, of the line that has no effect, which names what is wrong in it and what to do
    (said,) = [*problems, *notes(order)]
    assert said.line == f"{head}{lines}".count("\n") + 1
    assert named in said.what and said.todo
    # nothing is said of the same file without the line
    school.write_text(head, encoding="utf-8")
    order, problems = resolve_file(str(school))
    assert not [*problems, *notes(order)]


# The source: `accent` stands among the keys of the file that the program declares.
@pytest.mark.parametrize("accent", ["3", '"scotish"'])
def test_an_unknown_accent_in_the_configuration_is_reported(tmp_path: Path, accent: str) -> None:
    (tmp_path / "decodecheck.toml").write_text(f'progression = "a.progression"\naccent = {accent}\n', encoding="utf-8")
    with pytest.raises(UserError) as caught:
        read_config(str(tmp_path / "decodecheck.toml"))
    (problem,) = caught.value.problems
    assert problem.line == 2 and "accent" in f"{problem.what} {problem.todo}"


# The source: a file that builds on another one says itself what it is; what it includes cannot take that back unsaid.
def test_an_included_accent_does_not_replace_that_of_the_file_unsaid(tmp_path: Path) -> None:
    (tmp_path / "autumn.progression").write_text("accent general-american\nstep 1\n  teach p\n", encoding="utf-8")
    school = tmp_path / "school.progression"
    school.write_text(f'accent {ACCENT}\ninclude "autumn.progression"\nstep 2\n  teach e\n', encoding="utf-8")
    order, problems = resolve_file(str(school))
    assert (order.accent, problems) == (ACCENT, [])


# The source: a terminal. A message that repeats a word of 300000 letters hides everything else that is said.
def test_a_very_long_word_is_shortened(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("school.progression").write_text("step 1\n  teach p, a, n\n", encoding="utf-8")
    Path("pan.txt").write_text(f"A {LONG_WORD}.\n", encoding="utf-8")
    run(["check", "pan.txt", "--progression", "school.progression"])
    said = capsys.readouterr().out
    assert "Not judged and not counted: 1 (panpan" in said
    assert len(said) < ENOUGH
