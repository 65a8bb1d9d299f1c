"""Whom to watch next: whoever was seen least."""

from dataclasses import replace
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from evaltrack.analysis.standings.standing import Coverage
from evaltrack.analysis.standings.watching import whom_to_watch

ONE = Coverage("4", "Tadhg", "D", "gap_up", 8, 2, 12, 0.37, 0.77, None)


@given(
    st.lists(
        st.builds(
            lambda tries, practices, days, to_go: replace(
                ONE,
                tries=tries * practices,
                practices=practices,
                days_since=days if tries * practices else None,
                to_go=to_go,
            ),
            *(st.integers(0, 20), st.integers(0, 9), st.integers(0, 60)),
            st.none() | st.integers(0, 9),
        )
    )
)
def test_nobody_is_before_one_with_fewer_tries(rows):
    """Equal tries go by practices, then by how long ago; whoever needs none is left out, and nobody else."""
    found = whom_to_watch(rows)
    assert len(found) == sum(row.to_go != 0 for row in rows)
    for one, two in pairwise(found):
        assert one.tries <= two.tries
        if one.tries == two.tries:
            assert one.practices <= two.practices
            if one.practices == two.practices and one.tries:
                assert one.days_since >= two.days_since


def test_equal_ones_stay_by_number():
    """Two who were seen alike stand in the order of the roster."""
    rows = [replace(ONE, player=number) for number in ("4", "9", "14")]
    assert [row.player for row in whom_to_watch(rows)] == ["4", "9", "14"]


def test_who_is_away_or_whose_skill_nobody_watches_is_left_out():
    """A goalie's skill of which nothing is known sends nobody to watch it."""
    away, unknown = replace(ONE, player="9"), replace(ONE, skill="stop", low=0.0, high=1.0)
    assert whom_to_watch([away, ONE, unknown], away={"9"}) == [ONE]


def test_never_seen_is_before_once_seen():
    """And a pair with forty tries is never before one with two."""
    tries = {0: None, 2: 60, 40: 90}
    rows = [replace(ONE, tries=n, practices=min(n, 3), days_since=days) for n, days in tries.items()]
    assert whom_to_watch(rows[::-1]) == rows
