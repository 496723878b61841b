"""Targets as teachers write them."""

import pytest

from decodecheck.errors import UserError
from decodecheck.wordlists.targets import target

from .asking import harbour


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("oo (moon)", "oo as in moon"),
        ("oo(moon)", "oo as in moon"),
        ("oo/moon", "oo as in moon"),
        ("oo / moon", "oo as in moon"),
        ("oo (moon, book)", "oo as in moon and book"),
        ("ow (grow), a-e (cake)", "ow as in grow, a-e as in cake"),
        ("a-e/cake", "a-e as in cake"),
        ("ow (as in grow)", "ow as in grow"),
    ],
)
def test_a_word_in_brackets_or_after_a_slash_names_the_sound(written: str, meant: str) -> None:
    found = target(harbour(), written, "--with")
    assert found.items == target(harbour(), meant, "--with").items
    # it is told as it was written
    assert found.text == written


@pytest.mark.parametrize(
    ("written", "marked"),
    [("oo (ship)", "ship"), ("oo/ue", "/"), ("oo (moon", "("), ("s/z/", "/"), ("ea (blidge)", "blidge")],
)
def test_what_cannot_be_read_is_marked_where_it_stands(written: str, marked: str) -> None:
    with pytest.raises(UserError) as error:
        target(harbour(), written, "--with")
    (problem,) = error.value.problems
    assert problem.excerpt == written
    assert written[problem.column - 1 :].startswith(marked), problem.text()
