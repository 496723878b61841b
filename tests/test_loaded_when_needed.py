"""The heavy libraries are loaded where they work for the user, and nowhere else."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.documents.making import docx, p, pdf

CODE = (
    "import sys; from decodecheck.cli.main import run; run(sys.argv[1:]); "
    "print(*sorted({'spacy', 'wordfreq'} & set(sys.modules)))"
)
STARTING = (
    "import sys; from decodecheck.cli.main import run; run(sys.argv[2:]); "
    "print(*sorted(set(sys.argv[1].split(',')) & set(sys.modules)))"
)
HARBOUR = Path(__file__).parents[1] / "corpora_demo" / "harbour-lane.progression"
STORY = HARBOUR.parent / "texts" / "step-22" / "bake-day.txt"


@pytest.mark.parametrize(
    ("arguments", "unwanted"),
    [
        (["--help"], "json,lark,numpy,traceback,decodecheck.lexicon.store"),
        (["explain", "bread"], "lark,numpy,traceback,decodecheck.progression.syntax"),
        (["progression", "check", str(HARBOUR)], "numpy,spacy,wordfreq"),
        # the local page alone has a server
        (["check", str(STORY), "--no-cache", "--exit-zero", "-q"], "starlette,uvicorn,python_multipart,jinja2,asyncio"),
        (["page", "--help"], "starlette,uvicorn,python_multipart,jinja2,asyncio"),
        (["check", str(HARBOUR.parent / "texts" / "step-22"), "--exit-zero"], "decodecheck.lexicon.meanings"),
    ],
)
def test_what_a_short_command_does_without(arguments: list[str], unwanted: str) -> None:
    command = [sys.executable, "-c", STARTING, unwanted, *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == ""


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


LIBRARIES = ("lxml", "markdown_it", "mdit_py_plugins", "html", "zipfile", "pypdfium2")
READ = (
    "import sys; from decodecheck.documents.reading import read_document; read_document(sys.argv[1]); "
    f"print(*sorted(set({LIBRARIES}) & set(sys.modules)))"
)


@pytest.mark.parametrize(
    ("name", "data", "libraries"),
    [
        ("a.txt", b"The tin hat.", ""),
        ("a.html", b"<p>The tin hat.", "html"),
        ("a.md", b"# The tin hat.", "html markdown_it mdit_py_plugins"),
        ("a.docx", docx(p("The tin hat.")), "lxml zipfile"),
        # pdfium is loaded in another process
        ("a.pdf", pdf([(50, "The tin hat.")]), ""),
    ],
)
def test_what_a_reader_loads(name: str, data: bytes, libraries: str, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(data)
    done = subprocess.run([sys.executable, "-c", READ, name], capture_output=True, text=True, cwd=tmp_path, check=True)
    assert done.stdout.strip() == libraries
