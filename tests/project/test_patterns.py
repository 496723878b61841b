"""Path patterns against what they are said to mean, written as regular expressions, and patterns that would go back without end."""

from __future__ import annotations

import re
from pathlib import PurePosixPath

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.project.patterns import Match, PathPattern

MEANING = {"**/": "(?:.*/)?", "**": ".*", "*": "[^/]*", "?": "[^/]"}
"""The source: README.md and the shell's names for these signs (POSIX.1-2017, Shell Command Language, 2.13), with ** across folders."""


def as_expression(pattern: str) -> re.Pattern[str]:
    out, named = [], False
    for part in re.split(r"(\*\*/|\*\*|\*|\?|\{step\})", PurePosixPath(pattern).as_posix()):
        if part == "{step}":
            out.append(r"(?<!\d)(?P=step)(?!\d)" if named else r"(?<!\d)(?P<step>\d+)(?!\d)")
            named = True
        else:
            out.append(MEANING.get(part, re.escape(part)))
    return re.compile("".join(out) + r"\Z")


PIECES = st.lists(st.sampled_from(["*", "**", "**/", "/", "a", "?", "{step}", "1"]), min_size=1, max_size=7)


@settings(max_examples=2000, deadline=None)
@given(PIECES.map("".join), st.text(alphabet="ab/12", min_size=1, max_size=9))
def test_a_pattern_means_what_it_is_said_to(pattern: str, path: str) -> None:
    expected, found = as_expression(pattern).match(path), PathPattern(pattern).match(path)
    assert (expected is None) == (found is None)
    if found and "{step}" in pattern:
        assert re.search(rf"(?<!\d){found.step}(?!\d)", path) and path.startswith(found.step, found.at)


@pytest.mark.parametrize(
    ("pattern", "path", "step"),
    [
        ("texts/step-{step}/*.txt", "texts/step-14/tin.txt", Match("14", 11)),
        ("week*{step}.txt", "week12.txt", Match("12", 4)),
        ("{step}/{step}.txt", "2/14.txt", None),
        ("{step}/a{step}.txt", "14/a14.txt", Match("14", 0)),
        ("**/{step}/*", "2/14/tin.txt", Match("14", 2)),
        ("a.txt", "a.txt", Match()),
        ("a.txt", "b/a.txt", None),
    ],
)
def test_the_number_of_a_path(pattern: str, path: str, step: Match | None) -> None:
    assert PathPattern(pattern).match(path) == step


@pytest.mark.parametrize("piece", ["*a", "**/", "**a", "{step}*", "?*", "**/*"])
def test_no_pattern_goes_back_without_end(piece: str) -> None:
    # with regular expressions each of these took longer than anyone waits
    deep = "/".join(["3aaaaaaaaaaaaaaaa"] * 30) + "/" + "3a" * 120
    assert PathPattern(piece * 200 + "b").match(deep) is None
