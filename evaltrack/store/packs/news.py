"""What another tablet has not heard yet of a season file, in small packs: for two that stay together."""

import hashlib
import sqlite3
from collections import defaultdict

from evaltrack.rink.ident import now_ms
from evaltrack.store import sound
from evaltrack.store.connection import one_view, reading
from evaltrack.store.edits import as_text
from evaltrack.store.erased import erased_but_here
from evaltrack.store.packs.gathering import base_edits, lines_of, season_ident
from evaltrack.store.packs.merge_rules import FACTS
from evaltrack.store.packs.pack_file import MINOR, Header, Pack, pack_bytes
from evaltrack.store.packs.rows import Shape

_READ_BY = ("erased", "begun", "definition")  # by which all else in a pack is read: always all of them
_REGISTER = 3  # columns of a change that say of which field it is


class News:
    """What is new in a season file since packs of it were given and taken.

    A pack of news has all practices, definitions and erased players, since the others are read by them; of a
    field that was changed all that it ever had, and of comments and their like all or none, since what both
    tablets have must not look like a contradiction; of all else just what is new. With anything new go the
    names of those who were erased on another tablet and are still here, so that they are struck out there.
    """

    def __init__(self, connection: sqlite3.Connection, tablet: str):
        self._connection, self._tablet = connection, tablet
        self._known: dict[str, set[tuple]] = defaultdict(set)
        self._read_by: set[str] = set()
        self._foreign: set[str] = set()
        self._since = ""

    def note(self, pack: Pack) -> None:
        """Note that the other tablet has what is in a pack of this season that was given or taken whole."""
        for table, facts in pack.facts.items():
            if table in _READ_BY:
                self._read_by.update(as_text([table, *fact]) for fact in facts)
            else:
                shape = Shape(self._connection, table)
                self._known[table].update(shape.key_of(shape.fact(fact).row) for fact in facts)
        self._foreign.update(pack.foreign)
        self._since = pack.digest

    @reading()
    def pack(self) -> bytes:
        """Return a pack of what is new, empty when nothing is; it counts as given."""
        with one_view(self._connection):
            read_by = [line for table in _READ_BY for line in lines_of(self._connection, table)]
            lines = [line for table in FACTS if table not in _READ_BY for line in self._new_lines(table)]
            foreign = self._new_foreign()
            if not (lines or foreign or set(read_by) - self._read_by):
                return b""
            lines += self._names_of_erased(set(lines))
            season = season_ident(self._connection)
        self._read_by.update(read_by)
        header = Header(*season, self._tablet, now_ms(), self._since, MINOR + bool(foreign))
        return pack_bytes(header, [*read_by, *lines, *foreign])

    def _new_lines(self, table: str) -> list[str]:
        shape, known = Shape(self._connection, table), self._known[table]
        columns = ", ".join(shape.columns[at] for at in shape.key)
        keys = set(self._connection.execute(f"SELECT {columns} FROM {table}"))
        if table == "edit":
            return self._changes(keys, known)
        new = sorted(keys - known)
        known.update(new)
        if FACTS[table].always and new:
            return lines_of(self._connection, table)
        return [shape.line(fact) for fact in map(shape.find, new) if fact]

    def _changes(self, keys: set[tuple], known: set[tuple]) -> list[str]:
        never = {row[:5]: row for row in base_edits(self._connection)}
        new = (keys | never.keys()) - known
        known.update(new)
        registers = {key[:_REGISTER] for key in new}
        rows = [row for row in never.values() if row[:_REGISTER] in registers]
        select = "SELECT * FROM edit WHERE kind = ? AND key = ? AND field = ?"
        for register in registers:
            rows += self._connection.execute(select, register)
        return sorted(as_text(["edit", *row]) for row in rows)

    def _names_of_erased(self, told: set[str]) -> list[str]:
        """Return what those are called who were erased elsewhere: by it their names are struck out there."""
        keys = {as_text([player.hex]) for player in erased_but_here(self._connection)}
        if not keys:
            return []
        rows = [*base_edits(self._connection), *self._connection.execute("SELECT * FROM edit")]
        names = (row for row in rows if row[0] == "player" and row[2] == "name" and row[1] in keys)
        return [line for line in (as_text(["edit", *row]) for row in names) if line not in told]

    def _new_foreign(self) -> list[str]:
        rows = self._connection.execute("SELECT line FROM foreign_fact ORDER BY line")
        found = [line for (line,) in sound.no_more_than(sound.MOST_OF_PRACTICE, rows, "facts")]
        new = [line for line in found if line not in self._foreign]
        self._foreign.update(new)
        return new


@reading()
def digest_of(connection: sqlite3.Connection) -> str:
    """Return the SHA-256 of all facts that tablets share, as hexadecimal digits."""
    digest = hashlib.sha256()
    with one_view(connection):
        for table in FACTS:
            for line in lines_of(connection, table):
                digest.update(f"{line}\n".encode())
        for (line,) in connection.execute("SELECT line FROM foreign_fact ORDER BY line"):
            digest.update(f"{line}\n".encode())
    return digest.hexdigest()
