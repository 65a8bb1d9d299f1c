"""Everything that a season file keeps of one player, in whichever table, for the parents to have a copy of.

Tables are found by their references to players, so that a table that is added later is not forgotten.
"""

import sqlite3
from uuid import UUID

from evaltrack.rink.name_pattern import NamePattern
from evaltrack.store.connection import reading
from evaltrack.store.erasing.whose_names import names_in_season, pattern_of

_TABLES = "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name"
# whose a tally was before or after is another child's business
_CORRECTIONS = (
    "SELECT c.tally, k.change, CASE k.change WHEN 'player' THEN NULL ELSE c.was END AS was,"
    " CASE k.change WHEN 'player' THEN NULL ELSE k.becomes END AS becomes, k.at"
    " FROM corrected_tally c JOIN tally_correction k ON k.nth = c.nth AND k.tablet = c.tablet"
    " JOIN tally t ON t.id = c.tally"
    " WHERE t.player = :raw OR k.change = 'player' AND (c.was = :text OR k.becomes = :text) ORDER BY k.nth"
)
WRITTEN = (  # what the staff writes; `paper.export.own_copy` has a word for each table
    "practice_comment.words",
    "plan_reason.words",
    "plan_block.why",
    "plan_look.why",
    "ice_time.place",
    "note_fact.value",
    "meeting_evening.place",
)


class KeptOfPlayer:
    """What the file has of one player, without a word of any other."""

    def __init__(self, connection: sqlite3.Connection, player: UUID):
        self._connection, self._player = connection, player
        self._names = pattern_of(connection, player)
        _, others = names_in_season(connection, player)
        self._others = NamePattern(others)

    @reading()
    def tables(self) -> dict[str, list[dict]]:
        """Return the rows that are about the player, by table, with ids as hexadecimal digits."""
        found = {}
        for (table,) in self._connection.execute(_TABLES).fetchall():
            if rows := self._rows(table):
                found[table] = rows
        for table in ("edit", "lost_edit"):  # every value that a field of theirs ever had
            select = f"SELECT * FROM {table} WHERE instr(key, :text) ORDER BY clock"
            if rows := self._read(select, {"text": self._player.hex}):
                found[table] = rows
        if rows := self._read(_CORRECTIONS, {"raw": self._player.bytes, "text": self._player.hex}):
            found["correction_of_tally"] = rows
        return found

    @reading()
    def written(self) -> list[tuple[str, str]]:
        """Return what the staff wrote in which the player is named: where it stands, and the words."""
        found = []
        for place in WRITTEN:
            table, column = place.split(".")
            for (text,) in self._connection.execute(f"SELECT DISTINCT {column} FROM {table}").fetchall():
                if text and self._names.is_in(text):
                    found.append((table, self._without_others(text)))
        own = "SELECT words FROM player_comment WHERE player = ? AND words <> '' ORDER BY nth, tablet"
        rows = self._connection.execute(own, (self._player.bytes,)).fetchall()
        return found + [("player_comment", self._without_others(text)) for (text,) in rows]

    def _rows(self, table: str) -> list[dict]:
        columns = self._references(table) if table != "player" else ["id"]
        if not columns:
            return []
        where = " OR ".join(f"{column} = :raw" for column in columns)
        return self._read(f"SELECT * FROM {table} WHERE {where}", {"raw": self._player.bytes}, columns)

    def _references(self, table: str) -> list[str]:
        keys = self._connection.execute(f"PRAGMA foreign_key_list({table})")
        return [row[3] for row in keys if row[2] == "player"]

    def _read(self, select: str, values: dict, players: tuple | list = ()) -> list[dict]:
        rows = self._connection.execute(select, values)
        names = [column[0] for column in rows.description]
        return [
            {name: self._told(value, name in players) for name, value in zip(names, row, strict=True)}
            for row in rows
        ]

    def _told(self, value: object, is_player: bool) -> object:
        if isinstance(value, bytes):
            return "another player" if is_player and value != self._player.bytes else value.hex()
        return self._without_others(value) if isinstance(value, str) else value

    def _without_others(self, text: str) -> str:
        return text if self._names.is_whole(text) else self._others.struck(text)
