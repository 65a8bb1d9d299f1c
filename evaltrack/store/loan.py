"""By what a season file is known as a loan, and how late it has become in it."""

import sqlite3
from datetime import datetime, time

from evaltrack.errors import EvaltrackError
from evaltrack.language import mark, tr
from evaltrack.rink.loan import LentNames, Loan
from evaltrack.store import sound
from evaltrack.store.connection import reading, writing

ON_LOAN = mark(
    "this is a season on loan: it opens in the app, and what was noted in it is given back with "
    '"evaltrack pack"; do this in the season that it was lent from'
)
# by the loan's own facts; the practice that came with it was begun by somebody else
_LATEST = (
    "SELECT max(at) FROM ("
    "SELECT max(at) AS at FROM tally UNION ALL SELECT max(at) FROM withdrawal"
    " UNION ALL SELECT max(at) FROM station UNION ALL SELECT max(at) FROM line_fact)"
)
_DAYS = "SELECT max(held_on) FROM practice WHERE key IN (SELECT practice FROM station)"


@reading()
def loan_in(connection: sqlite3.Connection) -> Loan | None:
    """Return what makes a season file a loan; None where it is no loan.

    ``latest`` is the latest moment that was noted here, the day of a practice among them: a tablet whose
    clock is behind was told that day.
    """
    row = connection.execute("SELECT id, lent_at, last_day, names, latest FROM loan").fetchone()
    if row is None:
        return None
    ident, lent_at, last_day, names, latest = row
    return Loan(
        sound.ident(ident, "the id of the loan"),
        sound.moment(lent_at, "the moment of the loan"),
        sound.day(last_day, "the last day of the loan"),
        sound.word(LentNames, names, "the names in the loan"),
        max(sound.moment(latest, "the latest moment of the loan"), _latest_noted(connection)),
    )


def _latest_noted(connection: sqlite3.Connection) -> int:
    (latest,) = connection.execute(_LATEST).fetchone()
    (day,) = connection.execute(_DAYS).fetchone()
    moments = [sound.moment(latest, "the moment of a fact")] if latest is not None else []
    if day is not None:
        noon = datetime.combine(sound.day(day, "the day of a practice"), time(12))
        moments.append(int(noon.timestamp() * 1000))
    return max(moments, default=sound.FIRST_MOMENT)


def keep_latest(connection: sqlite3.Connection, now: int) -> None:
    """Keep that it has become so late; an earlier moment changes nothing. NotSavedError where it cannot."""
    with writing(connection):
        connection.execute("UPDATE loan SET latest = ?1 WHERE latest < ?1", (now,))


def refuse_loan(connection: sqlite3.Connection) -> None:
    """Raise EvaltrackError where a season file is a loan."""
    if connection.execute("SELECT 1 FROM loan").fetchone():
        raise EvaltrackError(tr(ON_LOAN))
