"""The heavy libraries are loaded where they work for the user, and nowhere else."""

import subprocess
import sys
from pathlib import Path

import pytest

CODE = (
    "import sys; from decodecheck.cli.main import run; run(sys.argv[1:]); "
    "print(*sorted({'spacy', 'wordfreq'} & set(sys.modules)))"
)


@pytest.mark.parametrize(
    ("text", "libraries"),
    [
        ("Tin pan, “ten pens” and 'a nap'.", ""),
        ("Zofka had a blid.", ""),
        # addresses and numerals need no tokenizer
        ("A pen: nettle@harbour-lane.example.org", ""),
        ("10 pens at 10:30am, £3.50: see www.harbour-lane.example.org/tins?a=1", ""),
    ],
)
def test_what_a_check_loads(text: str, libraries: str, tmp_path: Path) -> None:
    (tmp_path / "story.txt").write_text(text, encoding="utf-8")
    (tmp_path / "p.progression").write_text("step 1\n  teach a, d, e, i, n, p, t\n", encoding="utf-8")
    command = [sys.executable, "-c", CODE, "check", "story.txt", "--progression", "p.progression"]
    done = subprocess.run(command, capture_output=True, text=True, cwd=tmp_path, check=True)
    assert done.stdout.splitlines()[-1] == libraries
