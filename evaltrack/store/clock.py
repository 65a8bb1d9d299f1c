"""The clock by which what is written later has the higher number, on whichever tablet: a hybrid logical one.

A number is the moment in milliseconds, or one more than every number of the same thing that is known. So who
has seen what another tablet wrote is always later than that, however wrong both clocks are; who has not is
earlier or later as the clocks say. A number that is more than a day ahead was made by a wrong clock: it is
kept and it counts, but nothing else goes by it (Kulkarni and others, "Logical physical clocks", 2014).
"""

import sqlite3

from evaltrack.store import sound

AHEAD = 24 * 60 * 60 * 1000  # ms; a clock that is further ahead is wrong
LAST = 240_000_000_000_000  # the year 9575: no pack brings a later one, and there is room to count on


def next_number(
    connection: sqlite3.Connection,
    table: str,
    at: int,
    same: str = "TRUE",
    values: tuple = (),
    column: str = "nth",
) -> int:
    """Return the number of the next fact of a table, within the caller's transaction.

    Parameters
    ----------
    at : the moment by this tablet's clock.
    same : which facts are about the same thing, as SQL: of these the last one is in force.
    """
    at = min(max(at, 1), LAST - AHEAD)
    # two searches in an index where the number comes first in the key, and a look at a short table elsewhere
    near = f"SELECT max({column}) FROM {table} WHERE {column} <= ?"
    (usual,) = connection.execute(near, (at + AHEAD,)).fetchone()
    (seen,) = connection.execute(f"SELECT max({column}) FROM {table} WHERE {same}", values).fetchone()
    number = sound.moment(max(at, (usual or 0) + 1, (seen or 0) + 1), "the number of a fact")
    taken = f"SELECT 1 FROM {table} WHERE {column} = ?"
    while connection.execute(taken, (number,)).fetchone():  # only beside numbers of a wrong clock
        number += 1
    return number
