"""The examples of the door for programs, run where the demo is."""

import doctest
from pathlib import Path

import pytest

from decodecheck import api

ROOT = Path(__file__).parents[1]


def test_the_examples(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    done = doctest.testmod(api, optionflags=doctest.REPORT_NDIFF)
    assert done.attempted >= 15
    assert done.failed == 0


def test_every_function_has_an_entry_and_says_what_it_does() -> None:
    public = {
        name
        for name, value in vars(api).items()
        if callable(value) and getattr(value, "__module__", "") == "decodecheck.api" and not name.startswith("_")
    }
    assert public <= set(api.__all__)
    assert all((getattr(api, name).__doc__ or "").strip() for name in api.__all__)
    assert sorted(api.__all__) == api.__all__


def test_what_fails_is_among_the_results(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "p.progression").write_text("step 1\n  teach a, t, s, p\n", encoding="utf-8")
    (tmp_path / "a.txt").write_text("a tap\n", encoding="utf-8")
    for ask in (api.fit, api.coverage, api.replace):
        found = list(ask(["a.txt", "gone.txt"], progression="p.progression"))
        assert sorted(isinstance(one, api.Failure) for one in found) == [False, True]
        with pytest.raises(api.UserError):
            ask(["a.txt"], step="1", group="Limpets")
    for text in (api.check_text, api.coverage_text, api.fit_text, api.replace_text):
        with pytest.raises(api.UserError):
            text("", progression="p.progression")
    with pytest.raises(api.UserError, match="There is no step"):
        api.proposals("tap", progression="p.progression", step="9")
    with pytest.raises(api.UserError):
        api.words(progression="p.progression", having=["zz"])


def test_a_progression_that_changes_is_read_again(tmp_path: Path) -> None:
    path = tmp_path / "p.progression"
    path.write_text("step 1\n  teach a, t, s, p\n", encoding="utf-8")
    assert not api.proposals("yacht", progression=path)
    path.write_text("step 1\n  teach a, t, s, p, sh, i\n", encoding="utf-8")
    assert [p.word for p in api.proposals("yacht", progression=path)] == ["ship"]
