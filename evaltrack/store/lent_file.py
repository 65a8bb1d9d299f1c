"""A loan made of a season: what the boards need goes over column by column, and nothing else ever does.

It is put together in memory and written at once, so no byte of the file was ever anything else. Names that
stand where they are not needed, such as in the words of a definition, are struck out, and the bytes are
searched in the end.
"""

import sqlite3
from collections import Counter
from contextlib import closing
from pathlib import Path

from evaltrack.errors import SeasonFileError
from evaltrack.language import tr
from evaltrack.rink.first_name import given_name
from evaltrack.rink.loan import LentNames, Loan
from evaltrack.rink.name_pattern import KEPT_BACK, NamePattern, folded_words
from evaltrack.store.connection import all_or_nothing, one_view
from evaltrack.store.erased import NAMELESS
from evaltrack.store.erasing.erasing import names_in_file
from evaltrack.store.erasing.taking_out import statements_of, strike_out, texts_of
from evaltrack.store.erasing.whose_names import names_ever, usual_words
from evaltrack.store.every_reader import read_all
from evaltrack.store.migrations import migrate

# the practices that run, so that the helper's tallies go where those of the lender's tablet go
_RUNS = "SELECT key FROM practice WHERE started_at IS NOT NULL AND ended_at IS NULL AND NOT aside"
_HERE = f"SELECT id FROM player WHERE status <> 'left' AND id NOT IN ({NAMELESS})"
_OF_PLAYERS = (
    # the boards need to know neither who has no contact nor when anybody was born
    "SELECT id, number, name, position, NULL AS birth_year,"
    " iif(status = 'limited', 'full', status) AS status, away_until, also FROM player WHERE id IN ({here})"
)
_LENT = {
    "season": "SELECT * FROM season",
    "player": _OF_PLAYERS,
    # what a family's page says of a skill stays at home
    "skill": "SELECT key, place, name, positions, caption, '' AS looks_like, '' AS at_home, target, version,"
    " retired FROM skill",
    "definition": "SELECT * FROM definition",
    "drill": "SELECT * FROM drill",
    "step": "SELECT * FROM step",
    "slot": "SELECT * FROM slot",
    "practice": "SELECT * FROM practice WHERE key IN ({runs})",
    "attendance": "SELECT * FROM attendance WHERE practice IN ({runs}) AND player IN ({here})",
    "begun": "SELECT * FROM begun WHERE practice IN ({runs})",
    # so that who is put right there is put right later than here, whatever the clocks say
    "edit": "SELECT * FROM edit WHERE kind IN ('practice', 'attendance')"
    " AND json_extract(key, '$[0]') IN ({runs})"
    " AND (kind = 'practice' OR json_extract(key, '$[1]') IN"
    " (SELECT lower(hex(id)) FROM player WHERE id IN ({here})))",
}


def write_lent(connection: sqlite3.Connection, draft: Path, loan: Loan) -> None:
    """Write a loan of a season into an empty file.

    Raises
    ------
    SeasonFileError : a name would be in it that is to stay at home.
    """
    with one_view(connection), closing(sqlite3.connect(":memory:", isolation_level=None)) as lent:
        migrate(lent)
        kept_back = _names_kept_back(connection, loan.names)
        with all_or_nothing(lent):
            _fill(connection, lent, loan)
            strike_out(lent, kept_back, Counter(), KEPT_BACK)
        lent.execute("VACUUM INTO ?", (str(draft.absolute()),))
        read_all(lent)
        texts, own = texts_of(lent), statements_of(lent)
    found = [text for text in texts if kept_back.is_in(text)]
    if found or names_in_file(draft, kept_back, "\n".join([*texts, *own])):
        raise SeasonFileError(tr("the season cannot be lent: a name that is to stay at home would go along"))


def _fill(connection: sqlite3.Connection, lent: sqlite3.Connection, loan: Loan) -> None:
    lent.execute("PRAGMA defer_foreign_keys = ON")
    for table, select in _LENT.items():
        rows = connection.execute(select.format(here=_HERE, runs=_RUNS))
        columns = [column[0] for column in rows.description]
        called = [_called(columns, row, loan.names) for row in rows] if table == "player" else rows
        marks = ", ".join("?" * len(columns))
        lent.executemany(f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({marks})", called)
    row = loan.id.bytes, loan.lent_at, loan.last_day.isoformat(), loan.names, loan.latest
    lent.execute("INSERT INTO loan VALUES (1, ?, ?, ?, ?, ?)", row)


def _called(columns: list[str], row: tuple, names: LentNames) -> tuple:
    at = columns.index("name")
    return (*row[:at], _lent_name(row[at], names), *row[at + 1 :])


def _lent_name(name: str, names: LentNames) -> str:
    return given_name(name) if names is LentNames.FIRST else ""


def _names_kept_back(connection: sqlite3.Connection, names: LentNames) -> NamePattern:
    """Return every name that is to be in no byte: whole names and the families', or all of them."""
    here = connection.execute(f"SELECT name FROM player WHERE id IN ({_HERE})")
    lent = {_lent_name(name, names) for (name,) in here}
    kept_back = sorted(names_ever(connection) - lent)
    return NamePattern(kept_back, usual=usual_words(connection) | folded_words(lent))
