"""Numbers by which the last word is found: as the clock says, and later than all that was known of it."""

import sqlite3
from contextlib import closing

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.errors import SeasonFileError
from evaltrack.store.clock import AHEAD, next_number

NOON = 1_762_945_200_000
SAME = "about = ?", ("a",)


@pytest.fixture(scope="module")
def facts():
    """Return an empty table of facts."""
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        connection.execute("CREATE TABLE fact (nth INTEGER, about TEXT)")
        yield connection


def filled(connection, rows) -> None:
    connection.execute("DELETE FROM fact")
    connection.executemany("INSERT INTO fact VALUES (?, ?)", rows)


@pytest.mark.parametrize(
    ("rows", "number"),
    [
        ([], NOON),
        ([(7, "a")], NOON),
        ([(NOON + 5, "b")], NOON + 6),
        ([(NOON + AHEAD, "b")], NOON + AHEAD + 1),
        ([(NOON + AHEAD + 1, "b")], NOON),
        ([(NOON + AHEAD + 1, "a")], NOON + AHEAD + 2),
        ([(NOON + 9 * AHEAD, "a"), (NOON + 9 * AHEAD + 1, "b")], NOON + 9 * AHEAD + 2),
    ],
)
def test_a_number_follows_the_clock_and_what_is_known(facts, rows, number):
    """What a clock of more than a day ahead made is followed for the same thing only."""
    filled(facts, rows)
    assert next_number(facts, "fact", NOON, *SAME) == number


@given(st.lists(st.tuples(st.integers(1, 10**14), st.sampled_from("ab"))), st.integers(-(10**15), 10**15))
def test_it_is_new_and_later_than_all_of_the_same_thing(facts, rows, at):
    """Whatever the clock says."""
    filled(facts, rows)
    number = next_number(facts, "fact", at, *SAME)
    assert number not in {nth for nth, _ in rows}
    assert all(number > nth for nth, about in rows if about == "a")


def test_a_number_at_the_end_of_time_is_damage(facts):
    """No file of ours has one."""
    filled(facts, [(2**63 - 1, "a")])
    with pytest.raises(SeasonFileError, match="damaged"):
        next_number(facts, "fact", NOON, *SAME)
