"""What can be read of a damaged season file, put into a new one, with a list of what is lost."""

import sqlite3
from collections import Counter
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from evaltrack.device.ordinary_file import open_ordinary
from evaltrack.device.sealing import MOST_BYTES, is_sealed, opened
from evaltrack.device.system_words import system_reason
from evaltrack.errors import EvaltrackError, SeasonFileError
from evaltrack.language import tr
from evaltrack.rink.ident import new_id, now_ms
from evaltrack.store.connection import all_or_nothing, connect, reason
from evaltrack.store.copying import put_on_disk
from evaltrack.store.creating import put_in_place, refuse_taken
from evaltrack.store.on_disk.drafts import draft_beside, remove, sweep
from evaltrack.store.on_disk.open_here import is_open_here
from evaltrack.store.opening import JOURNALS, bring_up_to_date, open_season, refuse_long
from evaltrack.store.salvage.missing import NOT_READABLE, Missing
from evaltrack.store.salvage.rows import DamagedRows, version_in
from evaltrack.store.salvage.shapes import Shape, index_of, tables_of
from evaltrack.store.salvage.tally_twice import INDEXES, TalliesTwice

_OF_NO_SEASON = ("epoch",)  # belongs to a file, not to what is in it


@dataclass(frozen=True)
class Saved:
    """What was saved of a damaged file.

    Attributes
    ----------
    kept, lost : rows by table. A row is lost when it cannot be read or believed, or names what is lost.
    unknown : tables of which a whole page is missing, so that nobody knows how many rows are lost.
    pages : how many pages cannot be read.
    stood_in : how many players, skills and so on were lost that tallies name, so that something stands in;
        of tallies how many were read from the indexes alone.
    journal : a file beside the damaged one that was not read, as nobody can say whether it belongs to it.
    findings : what is not as it must be in the new file.
    """

    kept: dict[str, int]
    lost: dict[str, int]
    unknown: frozenset[str]
    pages: int
    stood_in: dict[str, int]
    journal: str
    findings: tuple[str, ...]


def salvage(damaged: Path, target: Path, passphrase: str | None = None) -> Saved:
    """Put what can be read of a damaged season file into a new one. The damaged one stays as it is.

    Raises
    ------
    EvaltrackError : there is no such file, nothing of a season can be read of it, something is there already
        where the new one is to be, or it cannot be written.
    """
    refuse_long(target)
    refuse_taken(target)
    content = _content(damaged, passphrase)
    sweep(target)
    draft = draft_beside(target)
    try:
        draft.touch(mode=0o600, exist_ok=False)
        saved = _fill(draft, content, _journal(damaged))
        put_on_disk(draft)
        put_in_place(draft, target)
    except (OSError, ValueError, sqlite3.Error) as error:
        why = reason(error) if isinstance(error, sqlite3.Error) else system_reason(error) or error
        raise SeasonFileError(tr('"{target}" cannot be made: {why}', target=target, why=why)) from error
    finally:
        remove(draft)
    return saved


def _content(damaged: Path, passphrase: str | None) -> bytes:
    if is_open_here(damaged):  # reading it by other means would drop the locks on it
        raise SeasonFileError(tr('"{damaged}" is open; close it first', damaged=damaged))
    try:
        with open_ordinary(damaged) as file:
            content = file.read(min(damaged.stat().st_size, MOST_BYTES) + 1)
        if len(content) > MOST_BYTES:
            raise SeasonFileError(tr('"{damaged}" is far too large for a season file', damaged=damaged))
    except OSError as error:
        raise SeasonFileError(
            tr('"{damaged}" cannot be read: {why}', damaged=damaged, why=system_reason(error))
        ) from error
    if not is_sealed(content):
        return content
    if passphrase is None:
        raise EvaltrackError(
            tr(
                '"{damaged}" was sealed under a passphrase; say --passphrase to be asked for it',
                damaged=damaged,
            )
        )
    return opened(content, passphrase)


def _journal(damaged: Path) -> str:
    beside = (damaged.with_name(f"{damaged.name}{ending}") for ending in JOURNALS)
    return next((path.name for path in beside if path.is_file() and path.stat().st_size), "")


def _fill(draft: Path, content: bytes, journal: str) -> Saved:
    with closing(connect(draft)) as connection:
        connection.execute("PRAGMA synchronous = OFF")  # the whole draft is put on the disk at its end
        _make_tables(connection, version_in(content))
        tables = {name: one for name, one in tables_of(connection).items() if name not in _OF_NO_SEASON}
        indexes = {name: index_of(connection, name, tables["tally"]) for name in INDEXES}
        rows = DamagedRows(content, tables, indexes)
        twice = TalliesTwice(rows, tables["tally"])
        damaged = _move(connection, rows, tables, twice)
        bring_up_to_date(connection)
        names = [name for name in tables_of(connection) if name not in _OF_NO_SEASON]
        kept, missing = _mend(connection, names, damaged)
    with open_season(draft) as season:
        findings = season.checks.findings()
        season.write_back(empty=True)
    lost = Counter({name: rows.lost[name] for name in tables}) + missing.gone
    unknown = frozenset(rows.holed & tables.keys())
    stood_in = missing.stood_in | {"tally": twice.from_indexes}
    return Saved(dict(kept), dict(lost), unknown, rows.unreadable, stood_in, journal, tuple(findings))


def _make_tables(connection: sqlite3.Connection, version: int) -> None:
    from evaltrack.store.migrations import make_version

    make_version(connection, version)
    connection.execute("PRAGMA foreign_keys = OFF")


def _move(
    connection: sqlite3.Connection, rows: DamagedRows, tables: dict[str, Shape], twice: TalliesTwice
) -> set[str]:
    """Write the rows that can be believed, and return the tables of which something is lost."""
    holed = set(rows.holed)
    with all_or_nothing(connection):
        for name, shape in tables.items():
            for row in twice.rows() if name == "tally" else rows.of(name):
                try:
                    connection.execute(_insert(shape), row)
                except (sqlite3.IntegrityError, sqlite3.DataError, UnicodeEncodeError):
                    rows.lost[name] += 1
        if not any(connection.execute(f"SELECT 1 FROM {name} LIMIT 1").fetchone() for name in tables):
            raise SeasonFileError(tr("nothing of a season can be read in this file; go back to a backup"))
    return {name for name in tables if rows.lost[name] or name in holed or not rows.is_certain}


def _mend(
    connection: sqlite3.Connection, names: list[str], damaged: set[str]
) -> tuple[dict[str, int], Missing]:
    missing = Missing(connection, damaged)
    with all_or_nothing(connection):
        _stand_in_for_season(connection)
        missing.mend(names)
    connection.execute("PRAGMA foreign_keys = ON")
    kept = {name: connection.execute(f"SELECT count(*) FROM {name}").fetchone()[0] for name in names}
    return kept, missing


def _insert(shape: Shape) -> str:
    columns = ", ".join(column.name for column in shape.columns)
    return f"INSERT INTO {shape.name} ({columns}) VALUES ({', '.join('?' * len(shape.columns))})"


def _stand_in_for_season(connection: sqlite3.Connection) -> None:
    if connection.execute("SELECT 1 FROM season").fetchone() is None:
        row = (new_id().bytes, NOT_READABLE, NOT_READABLE, now_ms())
        connection.execute("INSERT INTO season VALUES (1, ?, ?, ?, ?)", row)
