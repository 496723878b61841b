"""What the lexicon covers of the most frequent words (wordfreq 3, list "best" of English, CC BY-SA 4.0)."""

import pytest

from decodecheck.lexicon.compiling.audit import coverage, unused
from decodecheck.lexicon.compiling.compile import is_current
from decodecheck.phonics.sounds import LEXICONS
from decodecheck.resources import compiled_folder, rules_folder


@pytest.mark.parametrize("lexicon", LEXICONS)
# measured: 99.1% and 97.2% covered, 99.2% to 99.3% of these within the inventory; less than half a point is left
@pytest.mark.parametrize(("rank", "least"), [(5000, 0.988), (20000, 0.969)])
def test_listed_or_derived(lexicon: str, rank: int, least: float) -> None:
    found = coverage(lexicon, rank)
    assert found.covered >= least
    assert found.regular >= 0.989


def test_every_correspondence_is_used() -> None:
    assert unused() == []


def test_compiled_is_of_todays_files() -> None:
    assert is_current(rules_folder(), compiled_folder())
