"""The best few changes for a text, against trying every set of them."""

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from decodecheck.insight.help import Need, best_changes

LESSONS = [f"teach {letter}" for letter in "abcdef"]
NEEDS = st.lists(
    st.tuples(st.integers(1, 6), st.frozensets(st.sampled_from(LESSONS), max_size=3)), min_size=1, max_size=9
)


def cleared(needs: list[Need], changes: tuple[str, ...]) -> int:
    taught = set(changes)
    return sum(n.times for n in needs if n.whole in taught or (n.lessons and n.lessons <= taught))


@settings(max_examples=200, deadline=None)
@given(NEEDS, st.integers(1, 4))
def test_no_other_set_clears_more(rows: list[tuple[int, frozenset[str]]], most: int) -> None:
    needs = [Need(times, lessons, f"tricky w{at}") for at, (times, lessons) in enumerate(rows)]
    found = best_changes(needs, most)
    everything = [*LESSONS, *(need.whole for need in needs)]
    total = sum(need.times for need in needs)
    for number in range(1, most + 1):
        best = max(cleared(needs, some) for some in combinations(everything, number))
        told = found[min(number, len(found)) - 1]
        assert told.cleared == best
        assert cleared(needs, told.changes) == told.cleared and told.cleared + told.left == total
        assert len(set(told.changes)) == len(told.changes) <= number


def test_a_set_beats_single_changes() -> None:
    # two lessons that clear nothing alone clear five words together
    needs = [
        Need(5, frozenset(("teach oa", "teach ck")), "tricky oak"),
        Need(3, frozenset(("teach ee",)), "tricky see"),
    ]
    one, two = best_changes(needs, 5)
    assert one.changes == ("tricky oak",) and (one.cleared, one.left) == (5, 3)
    assert (two.cleared, two.left) == (8, 0)
    needs.append(Need(9, frozenset(("teach oa", "teach ck", "teach ee")), "tricky reed"))
    assert set(best_changes(needs, 5)[2].changes) == {"teach ck", "teach ee", "teach oa"}


def test_nothing_in_the_way() -> None:
    assert best_changes([], 5) == []
