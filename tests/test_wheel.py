"""The wheel holds everything the program needs: installed elsewhere, away from the checkout, it runs."""

import os
import subprocess
import sys
import tarfile
import zipfile
from email import message_from_bytes
from pathlib import Path

import pytest

from tests.test_licences import expression

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("dist")
    command = [sys.executable, "-m", "build", "--no-isolation", "--wheel", "--sdist", "--outdir", str(out), str(ROOT)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return out


def test_wheel_runs_elsewhere(built: Path, tmp_path: Path) -> None:
    (wheel,) = built.glob("*.whl")
    site = tmp_path / "site"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(site)
        compiled = [i for i in archive.infolist() if "/compiled/" in i.filename]
        assert 0 < sum(i.compress_size for i in compiled) <= 7 * 1024 * 1024
        names = archive.namelist()
    for name in ("everything", "england-national-curriculum", "us-common-core-foundational-skills"):
        assert f"decodecheck/rules/progressions/{name}.progression" in names
    story = tmp_path / "story.txt"
    story.write_text("The cat sat on bread.\n", encoding="utf-8")
    progression = tmp_path / "p.progression"
    progression.write_text("step 1\n  teach a, b, c, d, n, o, r, s, t, ea as in leaf\n  tricky the\n", encoding="utf-8")
    code = "import decodecheck, sys; assert decodecheck.__file__.startswith(sys.argv.pop(1)); from decodecheck.cli.main import main; main()"
    command = [sys.executable, "-P", "-c", code, str(site), "check", str(story), "--progression", str(progression)]
    done = subprocess.run(
        command, capture_output=True, text=True, cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(site)}, check=False
    )
    assert done.returncode == 1, done.stderr
    assert "br[ea]d" in done.stdout
    arguments = ["progression", "brief", str(progression), "--output", str(tmp_path / "brief.html")]
    done = subprocess.run(
        [*command[:5], *arguments], capture_output=True, text=True, cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(site)}, check=False
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    for name in (
        "static/page.css",
        "static/page.js",
        "static/icon.svg",
        "templates/page.html.jinja",
        "templates/card.html.jinja",
    ):
        assert f"decodecheck/web/{name}" in names
    assert not [name for name in names if name.startswith("decodecheck/") and "axe" in name]
    # spaCy finds the component by the entry point of what is installed
    code = (
        "import spacy, sys; nlp = spacy.blank('en'); nlp.add_pipe('decodecheck', config={'progression': sys.argv[1]}); "
        "print(sys.modules['decodecheck.pipeline'].__file__, *nlp('The cat sat on bread.')._.decodability.blocked)"
    )
    done = subprocess.run(
        [sys.executable, "-P", "-c", code, str(progression)], capture_output=True, text=True, cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(site)}, check=False
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(str(site)) and done.stdout.split()[-1] == "bread"


NOTICES = {
    "LICENSE",
    "rules/child/NOTICE.md",
    "rules/frequency/NOTICE.md",
    "rules/meanings/NOTICE.md",
    "rules/pronunciations/NOTICE.md",
    "rules/word_classes_NOTICE.md",
    "rules/licences/README.md",
    "rules/licences/compiled_NOTICE.md",
    *(f"rules/licences/{name}.txt" for name in ("Apache-2.0", "BSD-2-Clause", "CC-BY-3.0", "CC-BY-SA-4.0", "CCSS", "OGL-UK-3.0", "WordNet-3.0")),
}  # fmt: skip


def test_wheel_carries_licences_and_notices(built: Path) -> None:
    (wheel,) = built.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
        (metadata_file,) = [n for n in names if n.endswith(".dist-info/METADATA")]
        metadata = message_from_bytes(archive.read(metadata_file))
        folder = metadata_file.removesuffix("METADATA") + "licenses/"
        # where installers look for licences, and where those who read the data find them
        for name in NOTICES:
            source = (ROOT / name).read_bytes()
            assert archive.read(folder + name) == source
            assert name == "LICENSE" or archive.read(f"decodecheck/{name}") == source
        assert (
            archive.read("decodecheck/lexicon/compiled/NOTICE.md")
            == (ROOT / "rules/licences/compiled_NOTICE.md").read_bytes()
        )
    assert metadata["License-Expression"] == expression()
    assert set(metadata.get_all("License-File", [])) == NOTICES
    # whatever notice the data folder has or will have
    assert {str(p.relative_to(ROOT)) for p in (ROOT / "rules").rglob("*NOTICE*")} <= NOTICES


def test_source_distribution_carries_licences_and_notices(built: Path) -> None:
    (sdist,) = built.glob("*.tar.gz")
    with tarfile.open(sdist) as archive:
        top = archive.getnames()[0].split("/")[0]
        for name in NOTICES:
            file = archive.extractfile(f"{top}/{name}")
            assert file is not None
            assert file.read() == (ROOT / name).read_bytes()
        file = archive.extractfile(f"{top}/PKG-INFO")
        assert file is not None
        assert message_from_bytes(file.read())["License-Expression"] == expression()


def test_source_distribution_holds_rules_and_tests(built: Path) -> None:
    (sdist,) = built.glob("*.tar.gz")
    with tarfile.open(sdist) as archive:
        names = {n.split("/", 1)[1] for n in archive.getnames() if "/" in n}
    assert {"rules/inventory.tsv", "rules/pronunciations/british.tsv", "tests/test_wheel.py", "LICENSE"} <= names
    assert not any("compiled/" in n for n in names)
