"""What a season file has for another tablet, as the lines of a pack."""

import json
import sqlite3
from collections.abc import Iterable
from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.begun_practice import Begun
from evaltrack.store import sound
from evaltrack.store.connection import one_view, reading
from evaltrack.store.edits import KINDS, Register, as_text, state
from evaltrack.store.packs.merge_rules import FACTS, LENT_FACTS, LENT_FIELDS
from evaltrack.store.packs.pack_file import MINOR, Header, Pack, PackError, pack_bytes
from evaltrack.store.packs.rows import Shape
from evaltrack.store.packs.sound_pages import whole_read

MOST_BEGUN = 4 * sound.MOST_PRACTICES


@reading()
def season_ident(connection: sqlite3.Connection) -> tuple[UUID, int]:
    """Return the id of the season and when its file was made, by which packs of another one are refused."""
    row = connection.execute("SELECT id, created_at FROM season").fetchone() or (None, None)
    return sound.ident(row[0], "the id of the season"), sound.moment(row[1], "the moment of the season")


def gather(connection: sqlite3.Connection, tablet: str, at: int, since: Pack | None = None) -> bytes:
    """Return a pack of all that the file has; ``since`` an earlier pack of the season only what is new.

    Raises
    ------
    PackError : the earlier pack is of another season, or it is too much for one.
    """
    with one_view(connection), whole_read(connection):
        season = season_ident(connection)
        if since and (since.header.season, since.header.made) != season:
            raise PackError(tr("the earlier pack is of another season; name one of this season with --since"))
        known = _lines_of(since) if since else set()
        tables = LENT_FACTS if connection.execute("SELECT 1 FROM loan").fetchone() else FACTS
        lines = [line for table in tables for line in _of_table(connection, table, known)]
        foreign = sound.no_more_than(
            sound.MOST_OF_PRACTICE, connection.execute("SELECT line FROM foreign_fact ORDER BY line"), "facts"
        )
    header = Header(*season, tablet, at, since.digest if since else "", _minor(foreign))
    return pack_bytes(header, [*lines, *(line for (line,) in foreign)])


def _minor(foreign: Iterable) -> int:
    return MINOR + 1 if foreign else MINOR  # who knows no more than we do is told that there is more to know


def _of_table(connection: sqlite3.Connection, table: str, known: set[str]) -> list[str]:
    lines = lines_of(connection, table)
    return lines if FACTS[table].always else [line for line in lines if line not in known]


def lines_of(connection: sqlite3.Connection, table: str) -> list[str]:
    """Return every fact of a table as a line of a pack."""
    lines = Shape(connection, table).lines()
    if table == "edit":
        lines = sorted([*lines, *(as_text(["edit", *row]) for row in base_edits(connection))])
        if connection.execute("SELECT 1 FROM loan").fetchone():
            lines = [line for line in lines if json.loads(line)[1] in LENT_FIELDS]
    if table == "begun":
        rows = [(*one[:4], key) for one, key in held_here(connection).items()]
        lines = sorted(as_text(["begun", *row]) for row in rows)
    return lines


def _lines_of(pack: Pack) -> set[str]:
    return {
        json.dumps([kind, *fact], ensure_ascii=False, separators=(",", ":"))
        for kind, facts in pack.facts.items()
        if not FACTS[kind].always
        for fact in facts
    }


def base_edits(connection: sqlite3.Connection) -> list[tuple]:
    """Return what all fields have that were never changed, as edits before all others."""
    noted: set[Register] = set(connection.execute("SELECT DISTINCT kind, key, field FROM edit"))
    values = state(connection, tuple(KINDS))
    return [(*register, 0, "", value) for register, value in values.items() if register not in noted]


def held_here(connection: sqlite3.Connection) -> dict[Begun, str]:
    """Return every practice as somebody began it, those that nobody did among them, with its key here."""
    rows = connection.execute("SELECT clock, tablet, prefers, at, practice FROM begun")
    found = {Begun(*row[:4]): row[4] for row in sound.no_more_than(MOST_BEGUN, rows, "practices begun")}
    others = connection.execute(
        "SELECT key, started_at FROM practice WHERE key NOT IN (SELECT practice FROM begun)"
    ).fetchall()
    return found | {Begun(0, "", key, started): key for key, started in others}
