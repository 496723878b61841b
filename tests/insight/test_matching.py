"""The matching of steps against the plain recurrence over all pairs of steps, which is slow and easily seen to be right."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.insight.matching import _best

# quarters add up without rounding, so that equal sums are equal
SCORES = st.lists(
    st.dictionaries(st.integers(0, 6), st.integers(1, 8).map(lambda n: n / 4), max_size=4), min_size=1, max_size=7
)


def over_all_pairs(scores: list[dict[int, float]], columns: int, joining: bool) -> list[tuple[int, int]]:
    rows = len(scores)
    best = [[0.0] * (columns + 1) for _ in range(rows + 1)]
    for i in range(1, rows + 1):
        for j in range(1, columns + 1):
            score = scores[i - 1].get(j - 1, 0.0)
            taken = best[i - 1][j if joining else j - 1] + score if score else 0.0
            best[i][j] = max(best[i - 1][j], best[i][j - 1], taken)
    pairs = []
    i, j = rows, columns
    while i and j:
        score = scores[i - 1].get(j - 1, 0.0)
        before = j if joining else j - 1
        if best[i][j] == best[i][j - 1]:
            j -= 1
        elif score and best[i][j] == best[i - 1][before] + score:
            pairs.append((i - 1, j - 1))
            i, j = i - 1, before
        else:
            i -= 1
    return pairs[::-1]


# The source: the recurrence of the alignment with the highest sum (Needleman and Wunsch 1970).
@settings(max_examples=1500, deadline=None)
@given(SCORES, st.booleans())
def test_the_best_pairs_are_those_of_the_plain_recurrence(scores: list[dict[int, float]], joining: bool) -> None:
    assert _best(scores, 7, joining=joining) == over_all_pairs(scores, 7, joining)
