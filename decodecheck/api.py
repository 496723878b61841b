"""The one door for programs: texts as strings or by path, values back. Nothing is printed; what is wrong is raised as UserError, or stands
among the results as a Failure where the others can go on.

The examples are those of Harbour Lane, run where `corpora_demo` is. A text, and the words of it that cannot be read yet:

>>> from decodecheck import api
>>> harbour = "corpora_demo/harbour-lane.progression"
>>> report = api.check_text("Tilda had made a biscuit. It was in a tin.", progression=harbour, step="14")
>>> [finding.word for finding in report.findings]
['made', 'biscuit']
>>> print(report.findings[1].message)  # doctest: +ELLIPSIS
The letters ...

What may stand for them:

>>> for word in api.replace_text("Tilda had made a biscuit.", progression=harbour, step="14").words:
...     print(word.word, [proposal.word for proposal in word.proposals])
made []
biscuit ['muffin']

Which step a text fits, what it gives practice in (`coverage`), and words for a lesson:

>>> (fitted,) = api.fit(["corpora_demo/texts/step-20/a-ticket-for-nettle.txt"])
>>> fitted.fit.first
20
>>> [found.word for found in api.words(progression=harbour, step="14", having=["oa as in boat"], number=3).words]
['boat', 'road', 'coat']

A spaCy pipeline finds decodecheck by its name (`decodecheck.pipeline`).
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from decodecheck.baselined import Held
from decodecheck.checking.report import TextReport
from decodecheck.checking.values import Finding
from decodecheck.errors import Problem, UserError
from decodecheck.insight import coverage as covering
from decodecheck.insight import fit as fitting
from decodecheck.insight import replace as replacing
from decodecheck.insight.coverage import Coverage
from decodecheck.insight.fit import Fit, Fitted
from decodecheck.insight.replace import USUAL, Proposal
from decodecheck.insight.replacing import Replacements, replacements
from decodecheck.orders import Orders
from decodecheck.over_texts import coverages, fits, replaceable
from decodecheck.progression.step_expression import Standing, Wanted
from decodecheck.project.baseline import read_baseline
from decodecheck.reports.words import Explained, Explainer
from decodecheck.run import Failure, Run
from decodecheck.session import Session
from decodecheck.wordlists.find import Found, find
from decodecheck.wordlists.targets import target
from decodecheck.wordlists.wanted import NUMBER, WantedWords

__all__ = [
    "Coverage",
    "Explained",
    "Failure",
    "Finding",
    "Fit",
    "Fitted",
    "Found",
    "Problem",
    "Proposal",
    "Replacements",
    "Run",
    "Session",
    "TextReport",
    "UserError",
    "check",
    "check_text",
    "coverage",
    "coverage_text",
    "explain",
    "fit",
    "fit_text",
    "proposals",
    "replace",
    "replace_text",
    "words",
]


def check(
    paths: Sequence[str | Path],
    *,
    progression: str | Path | None = None,
    step: str | None = None,
    group: str | None = None,
    every_word: bool = False,
    baseline: str | Path | None = None,
) -> Run:
    """A whole run over texts and folders of texts.

    Without `progression`, `step` or `group` the nearest decodecheck.toml of each text decides. `step` is a step expression ("14",
    "14 also igh as in light"); `every_word` keeps the words that are fine, too. What cannot be read is among the run's failures. Findings that
    the file `baseline` holds are left out, and counted in `aside` of the run.
    Raises UserError where a step and a group are given, and for a baseline that cannot be read.
    """
    held = None if baseline is None else Held(read_baseline(str(baseline)))
    session = _session(progression, step, group)
    run = session.run([str(path) for path in paths], every_word=every_word)
    return (held.of(run) if held else run).whole()


def check_text(
    text: str, *, progression: str | Path, step: str | None = None, name: str = "text", every_word: bool = False
) -> TextReport:
    """The report on a text that is given as a string. Raises UserError for a progression or a step that is wrong, and for an empty
    text."""
    return Session(str(progression), step).check_text(text, name, every_word=every_word)


def explain(word: str, *, accent: str = "southern-british") -> Explained:
    """How a word divides into graphemes, and what each of them says in an accent. Raises UserError for an accent that there is not.

    >>> explain("boat").word
    'boat'
    """
    return Explainer(accent, None).explain(word)


def fit(
    paths: Sequence[str | Path],
    *,
    progression: str | Path | None = None,
    step: str | None = None,
    group: str | None = None,
) -> list[Fitted | Failure]:
    """Which step each text under the paths fits (`.fit`), what would help most at its step, and what its groups cannot read.

    Progression, step and group are those of `check`. What cannot be read is among the results. Raises UserError where a step and a group are
    given.

    >>> (fitted,) = fit(["corpora_demo/texts/step-22/bake-day.txt"])
    >>> fitted.fit.first, fitted.fit.held_back
    (None, HeldBack(words=('biscuit', 'bread'), without=26))
    """
    return list(fits(_session(progression, step, group), [str(path) for path in paths]))


def coverage(
    paths: Sequence[str | Path],
    *,
    progression: str | Path | None = None,
    step: str | None = None,
    group: str | None = None,
) -> list[Coverage | Failure]:
    """What each text under the paths gives practice in at its step, in the order in which the texts are found (`.path` says which it is):
    `.lessons` are all lessons so far, each with the decodable words that hold it and how often; `.lacking` is what the step teaches and the text does not
    hold. Of word lists, their words.

    Progression, step and group are those of `check`. What cannot be read is among the results. Raises UserError where a step and a group are
    given.

    >>> (covered,) = coverage(["corpora_demo/texts/step-22/bake-day.txt"])
    >>> [(lesson.name, lesson.words, lesson.times) for lesson in covered.new if lesson.words]
    [('ay as in day', ('day', 'bay'), 3), ('oy as in boy', ('boy',), 1)]
    >>> covered.lacking
    ['u-e as in flute', 'u-e as in cube', 'e-e as in these', 'tricky could']
    """
    return list(coverages(_session(progression, step, group), [str(path) for path in paths]))


def coverage_text(text: str, *, progression: str | Path, step: str | None = None, name: str = "text") -> Coverage:
    """What a text that is given as a string gives practice in. Raises UserError as `check_text` does.

    >>> harbour = "corpora_demo/harbour-lane.progression"
    >>> covered = coverage_text("The boat is on a road. The goat is in the boat.", progression=harbour, step="14")
    >>> [(lesson.words, lesson.times) for lesson in covered.new if lesson.words]
    [(('boat', 'goat', 'road'), 4)]
    """
    return covering.coverage(check_text(text, progression=progression, step=step, name=name, every_word=True))


def fit_text(text: str, *, progression: str | Path, name: str = "text") -> Fit:
    """Which step of a progression a text fits that is given as a string: `.first`, and `.left_at(step)`, the words that cannot be read at a step.
    Raises UserError as `check_text` does.

    >>> fitted = fit_text("The boat is in the bay.", progression="corpora_demo/harbour-lane.progression")
    >>> fitted.first, [word.word for word in fitted.left_at(14)]
    (22, ['bay'])
    """
    return fitting.fit(check_text(text, progression=progression, name=name))


def words(
    *,
    progression: str | Path,
    step: str | None = None,
    having: Sequence[str] = (),
    without: Sequence[str] = (),
    number: int | None = NUMBER,
    wanted: WantedWords | None = None,
) -> Found:
    """Words for a lesson that can be decoded at a step, those that children are likeliest to know.

    `having` and `without` name items as a progression does ("ow as in grow", "-ing"): each word holds all of `having` and none of
    `without`. `number` is how many, None for all. All else that may be asked stands in `wanted`, to which items are added.
    Raises UserError for an item that the progression does not know, and where no word fits.

    >>> found = words(progression="corpora_demo/harbour-lane.progression", step="23", having=["ow as in grow"], number=2)
    >>> [(word.word, word.graphemes) for word in found.words]
    [('show', 2), ('low', 2)]
    """
    standing = _standing(progression, step)
    order = standing.order
    asked = wanted or WantedWords()
    asked = dataclasses.replace(
        asked,
        targets=(*asked.targets, *(target(order, text, "having") for text in having)),
        without=(*asked.without, *(target(order, text, "without") for text in without)),
        number=number,
    )
    return find(order, standing.step, asked)


def replace(
    paths: Sequence[str | Path],
    *,
    progression: str | Path | None = None,
    step: str | None = None,
    group: str | None = None,
    number: int = USUAL,
) -> list[Replacements | Failure]:
    """What may stand for the blocked words of each text under the paths, at most `number` proposals a word. Word lists are passed over, or
    a failure where one is named.

    Progression, step and group are those of `check`. Raises UserError where a step and a group are given.

    >>> (made,) = replace(["corpora_demo/texts/step-22/bake-day.txt"])
    >>> [(word.word, [proposal.word for proposal in word.proposals]) for word in made.words if word.proposals]
    [('biscuit', ['muffin']), ('friend', ['buddy', 'pal'])]
    """
    return list(replaceable(_session(progression, step, group), [str(path) for path in paths], number))


def replace_text(
    text: str, *, progression: str | Path, step: str | None = None, name: str = "text", number: int = USUAL
) -> Replacements:
    """What may stand for the blocked words of a text that is given as a string. Raises UserError as `check_text` does.

    >>> made = replace_text("“Stop!” shouted Omar.", progression="corpora_demo/harbour-lane.progression", step="20")
    >>> [(word.word, word.proposals[0].word) for word in made.words]
    [('shouted', 'yelled')]
    """
    return replacements(check_text(text, progression=progression, step=step, name=name), number)


def proposals(
    word: str, *, progression: str | Path, step: str | None = None, sense: str = "", number: int = USUAL
) -> tuple[Proposal, ...]:
    """What may stand for a word by itself, the nearest in meaning first, as any part of speech that it may well be.

    `sense` is the label of a sense, for a word with two sounds. Raises UserError for a progression or a step that is wrong.

    >>> made = proposals("yachts", progression="corpora_demo/harbour-lane.progression", step="14")
    >>> [(proposal.word, proposal.kind) for proposal in made]
    [('boats', 'of the same kind'), ('ships', 'of the same kind'), ('vessels', 'a wider word')]
    """
    standing = _standing(progression, step)
    return replacing.proposals(standing.order, standing.step, word, sense, number=number)


def _session(progression: str | Path | None, step: str | None, group: str | None) -> Session:
    return Session(None if progression is None else str(progression), step, group)


@cache
def _orders() -> Orders:
    """The progressions that were asked for, each read again when one of its files has changed."""
    return Orders()


def _standing(progression: str | Path, step: str | None) -> Standing:
    order = _orders().order(str(progression))
    return _orders().standing_in(order, None if step is None else Wanted(step))
