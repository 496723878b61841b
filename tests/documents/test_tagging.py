"""A trained pipeline is used only if it is an installed package; nothing that lies in a checkout is ever run.

The source: pipelines that spaCy itself writes (`Language.to_disk`), laid out as its documentation says of packages.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import spacy

from decodecheck.documents import tagging
from decodecheck.errors import UserError
from tests.errors.school import make, run

TRAP = 'from pathlib import Path\nPath("trap.sprung").write_text("")\n'


def install(folder: Path, name: str, *, damaged: bool = False) -> None:
    """A package that holds a pipeline, as pip would lay it out."""
    package = folder / name
    package.mkdir(parents=True)
    nlp = spacy.blank("en")
    nlp.meta["name"], nlp.meta["version"] = name, "1.0.0"
    nlp.to_disk(package / f"en_{name}-1.0.0")
    meta = json.loads((package / f"en_{name}-1.0.0" / "meta.json").read_text(encoding="utf-8"))
    (package / "meta.json").write_text(json.dumps(meta), encoding="utf-8")
    (package / "__init__.py").write_text(TRAP, encoding="utf-8")
    if damaged:
        (package / f"en_{name}-1.0.0" / "config.cfg").unlink()
    describe(folder, name)


def describe(folder: Path, name: str) -> None:
    info = folder / f"{name}-1.0.0.dist-info"
    info.mkdir(parents=True)
    (info / "METADATA").write_text(
        f"Metadata-Version: 2.1\nName: {name.replace('_', '-')}\nVersion: 1.0.0\n", encoding="utf-8"
    )


def test_an_installed_pipeline_is_used_without_its_own_code(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    install(tmp_path / "packages", "harbour_lane")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(tagging, "module_folders", lambda: [str(tmp_path / "packages")])
    tag = tagging.tagger("harbour_lane")
    # a blank pipeline knows no part of speech
    assert tag("We read it.", 3, 7) == ""
    assert not (tmp_path / "trap.sprung").exists()


def test_a_damaged_pipeline_is_one_message(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    install(tmp_path / "packages", "torn", damaged=True)
    monkeypatch.setattr(tagging, "module_folders", lambda: [str(tmp_path / "packages")])
    with pytest.raises(UserError, match="'torn' cannot be used"):
        tagging.tagger("torn")


@pytest.mark.parametrize(
    "name", ["json", "spacy", "click", "antigravity", "this", "en_core_web_none", "./en", "/", "..", "a b", "\x1b"]
)
def test_what_is_no_installed_pipeline_is_refused(name: str) -> None:
    assert tagging.installed_pipeline(name, tagging.module_folders()) is None
    with pytest.raises(UserError, match="There is no spaCy pipeline called"):
        tagging.tagger(name)


@pytest.mark.parametrize("pipeline", ["trap", "trap_package", "./trap", "texts", "en_core_web_none"])
def test_nothing_in_the_checkout_is_run(tmp_path: Path, pipeline: str) -> None:
    make(tmp_path)
    for name in ("trap", "numpy", "spacy", "click", "json"):
        (tmp_path / f"{name}.py").write_text(TRAP, encoding="utf-8")
    install(tmp_path, "trap_package")
    (tmp_path / "texts").mkdir()
    (tmp_path / "trap-1.0.0.dist-info").mkdir()
    (tmp_path / "decodecheck.toml").write_text(
        f'progression = "school.progression"\npipeline = "{pipeline}"\n', encoding="utf-8"
    )
    done = run(tmp_path, "check", "tin.txt")
    assert not (tmp_path / "trap.sprung").exists()
    assert done.returncode == 2
    assert done.stderr.startswith(f"decodecheck.toml: There is no spaCy pipeline called '{pipeline}'".encode())
