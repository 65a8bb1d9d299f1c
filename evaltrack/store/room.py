"""Whether what is written can all be read again.

Whoever reads a season file takes no more rows than a season can have (see `sound`). So nobody may write more:
one row too many would make a damaged file of a sound one.
"""

import sqlite3
from collections.abc import Iterable

from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.store import sound


def refuse_overfull(
    connection: sqlite3.Connection, rows: str, most: int, what: str, values: tuple = ()
) -> None:
    """Refuse what a transaction has written, when there are more of these rows now than are ever read.

    Parameters
    ----------
    rows : what is counted, as SQL after ``FROM``.
    what : names them in the sentence: ``observers``.

    Raises
    ------
    EvaltrackError : there are too many. The caller's transaction is taken back by it.
    """
    (count,) = connection.execute(f"SELECT count(*) FROM {rows}", values).fetchone()
    if count > most:
        raise EvaltrackError(
            tr(
                "too much for the season file, which has room for {most} {what}: nothing was changed",
                most=most,
                what=tr(what),
            )
        )


def refuse_overfull_log(connection: sqlite3.Connection, practices: Iterable[str]) -> None:
    """Refuse tallies that a transaction has written in these practices, as `refuse_overfull` does."""
    refuse_overfull(connection, "practice", sound.MOST_PRACTICES, "practices")
    refuse_overfull(connection, "observer", sound.MOST_OBSERVERS, "observers")
    for key in practices:
        rows = "tally INDEXED BY tally_practice WHERE practice = ?"
        refuse_overfull(
            connection, rows, sound.MOST_OF_PRACTICE, tr("tallies of the practice {key}", key=key), (key,)
        )
