"""Letters that stand out in a terminal: when they do, that nothing else changes with it, and lines that fit a narrow one.

The sources: no-color.org ("when present and not an empty string ... prevents the addition of ANSI color") and force-color.org (the
same, forces it), both from memory; ECMA-48 for the codes.
"""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.printing import columns, safe_lines
from decodecheck.reports.check.text import render
from decodecheck.reports.emphasis import STRONG, emphasised, signs_for
from decodecheck.reports.view import View
from decodecheck.run import Run
from tests.errors import school
from tests.errors.test_printing import COMMAND, FORBIDDEN
from tests.reports.test_text import BOAT, CAKE, report

CODE = re.compile("\x1b\\[(?:1|22)m")


def printed(text: str, view: View, step: int = 22) -> str:
    return "".join(render(Run((report(text, step),), texts=1), view))


@pytest.mark.parametrize("text", [CAKE, BOAT, "Bre-\nad. Zofkin wind a bulb. " + "x" * 90 + "ea bread."])
@pytest.mark.parametrize(
    "view",
    [View(80), View(66), View(details=True), View(45, every_place=True), View(word="bread")],
    ids=["80", "66", "details", "45", "word"],
)
def test_the_layout_is_the_same(text: str, view: View) -> None:
    plain = printed(text, view)
    strong = printed(text, View(view.width, view.details, view.every_place, view.word, emphasis=True))
    assert CODE.sub("", strong) == plain
    for inside in re.findall("\x1b\\[1m(.*?)\x1b\\[22m", strong):
        # the brackets carry it, too
        assert inside[0] == "["
    assert strong.count("\x1b[1m") == plain.count("[") - plain.count("[?]")
    assert "\x1b[1m" in strong or "is not in this text" in plain
    for line in strong.split("\n"):
        assert line.count("\x1b[1m") == line.count("\x1b[22m")


def test_a_text_that_holds_the_signs_is_printed_without_emphasis() -> None:
    text = f"Bread {STRONG.before}x{STRONG.after}."
    assert signs_for(text, emphasis=True) != STRONG
    assert "\x1b" not in printed(text, View(80, emphasis=True))


@settings(max_examples=300, deadline=None)
@given(st.text(st.one_of(st.characters(), st.sampled_from(list("::##[]v\n\x1b\u202e\ufdd0\ufdd1"))), max_size=40))
def test_whatever_is_printed_is_safe(text: str) -> None:
    without = CODE.sub("", emphasised(text))
    assert not FORBIDDEN.search(without) and not COMMAND.search(without)
    signs = str.maketrans({STRONG.before: "[", STRONG.after: "]"})
    if not re.search("[\t##:\u200d]", text):
        assert without == safe_lines(text.translate(signs))


@pytest.mark.parametrize("width", [40, 52, 66, 80, 118])
@pytest.mark.parametrize("text", [CAKE, BOAT])
def test_lines_fit_the_terminal(width: int, text: str) -> None:
    for view in (View(width), View(width, details=True)):
        # the first lines name the file; a path is never divided
        lines = [line for line in printed(text, view, 14).splitlines()[1:] if not line.startswith("story.txt:")]
        # nor are a heading, the name of what is in the way, and the hint at the end
        folded = [line for line in lines if not line.endswith(":") and not line.startswith("Places and what to do: ")]
        assert len(folded) > 10
        assert [line for line in folded if columns(line) > width] == []


def in_a_terminal(folder: Path, **environment: str) -> str:
    """What is printed in a terminal of 80 columns."""
    out = b""
    child, terminal = pty.fork()
    if child == 0:
        os.chdir(folder)
        named = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR", "TERM", "COLUMNS")}
        os.execve(sys.executable, school.command(*CHECK), {**named, "TERM": "xterm", "COLUMNS": "80", **environment})
    try:
        while piece := os.read(terminal, 4096):
            out += piece
    except OSError:
        pass  # the other end has gone
    os.waitpid(child, 0)
    os.close(terminal)
    return out.decode("utf-8")


CHECK = ("check", "story.txt", "--progression", "school.progression")


def test_when_letters_stand_out(tmp_path: Path) -> None:
    folder = school.make(tmp_path)
    (folder / "story.txt").write_text("The bread.\n", encoding="utf-8")
    strong, plain = "\x1b[1m[ea]\x1b[22m", "[b]r[ea]d"
    assert strong in in_a_terminal(folder)
    assert strong in in_a_terminal(folder, NO_COLOR="", FORCE_COLOR="")
    for environment in ({"NO_COLOR": "1"}, {"NO_COLOR": "1", "FORCE_COLOR": "1"}, {"TERM": "dumb"}):
        said = in_a_terminal(folder, **environment)
        assert plain in said and "\x1b" not in said
    through_a_pipe = piped(folder)
    assert plain in through_a_pipe and "\x1b" not in through_a_pipe
    assert strong in piped(folder, FORCE_COLOR="1")
    # programs and files never get it
    for form in ("json", "markdown", "html"):
        said = piped(folder, "--format", form, FORCE_COLOR="1")
        assert "\x1b" not in said and "never teaches that" in said
    assert strong in piped(folder, "--output", "report.txt", FORCE_COLOR="1")
    assert "\x1b" not in (folder / "report.txt").read_text(encoding="utf-8")


def piped(folder: Path, *arguments: str, **environment: str) -> str:
    """What is printed into a pipe."""
    done = subprocess.run(
        school.command(*CHECK, *arguments),
        cwd=folder,
        capture_output=True,
        check=False,
        env={**os.environ, "NO_COLOR": "", "FORCE_COLOR": "", **environment},
    )
    return done.stdout.decode("utf-8")
