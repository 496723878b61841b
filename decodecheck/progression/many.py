"""Of very many problems, as many as anybody reads."""

from __future__ import annotations

from collections.abc import Sequence

from decodecheck.errors import Problem

MOST = 100
"""Problems that are told at a time."""


def first_of(problems: Sequence[Problem]) -> list[Problem]:
    """The problems, or the first `MOST` of them and one that says how many more there are."""
    if len(problems) <= MOST:
        return list(problems)
    rest = len(problems) - MOST
    more = "One more mistake is not shown." if rest == 1 else f"{rest:,} more mistakes are not shown."
    return [
        *problems[:MOST],
        Problem(problems[0].path, more, "Mend the ones above first; often the rest goes with them."),
    ]
