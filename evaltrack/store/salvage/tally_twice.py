"""The tallies of a damaged file, which has most of each a second time: in two indexes.

What table and index say alike is believed. Where they say otherwise one of them is wrong, and nobody knows
which. A tally whose own page is lost is read from the indexes; these lack its rep, its slot and its moment.
"""

from datetime import UTC, datetime, time

from evaltrack.errors import SeasonFileError
from evaltrack.store import sound
from evaltrack.store.salvage.records import Value
from evaltrack.store.salvage.rows import DamagedRows, Row
from evaltrack.store.salvage.shapes import Shape

CELL, PRACTICE = INDEXES = ("tally_cell", "tally_practice")


class TalliesTwice:
    """Reads the tallies by table and indexes. ``from_indexes`` counts those that only the indexes have."""

    def __init__(self, rows: DamagedRows, shape: Shape):
        self._rows, self._shape = rows, shape
        self._columns = [column.name for column in shape.columns]
        self._said = {name: self._read(name) for name in INDEXES}
        self.from_indexes = 0

    def rows(self) -> list[Row]:
        """Return the tallies that can be believed, and note how many are lost."""
        found = self._rows.of("tally")
        known = set().union(*self._said.values())
        kept = [row for row in found if self._agrees(row)]
        there = {row[0] for row in found if self._is_contradicted(row)} | {row[0] for row in kept}
        again = [row for ident in known - there if (row := self._from_indexes(ident))]
        self.from_indexes = len(again)
        kept += again
        self._note_lost(len(known - {row[0] for row in kept}))
        return kept

    def _read(self, name: str) -> dict[Value, dict[str, Value]]:
        columns = [column.name for column in self._rows.shape(name).columns]
        at = columns.index("id")
        return {row[at]: dict(zip(columns, row, strict=True)) for row in self._rows.of(name)}

    def _is_whole(self) -> bool:
        return self._rows.holed.isdisjoint(INDEXES)

    def _agrees(self, row: Row) -> bool:
        is_known = any(row[0] in said for said in self._said.values())
        return (is_known or not self._is_whole()) and not self._is_contradicted(row)

    def _is_contradicted(self, row: Row) -> bool:
        values = dict(zip(self._columns, row, strict=True))
        both = (said[row[0]] for said in self._said.values() if row[0] in said)
        return any(values[name] != value for entry in both for name, value in entry.items())

    def _from_indexes(self, ident: bytes) -> Row | None:
        cell, practice = self._said[CELL].get(ident), self._said[PRACTICE].get(ident)
        if cell is None or practice is None or cell["practice"] != practice["practice"]:
            return None
        values = cell | practice | {"at": _moment(ident, cell["practice"])}
        row = tuple(values.get(column.name, column.default) for column in self._shape.columns)
        fits = all(column.fits(value) for column, value in zip(self._shape.columns, row, strict=True))
        return row if fits else None

    def _note_lost(self, count: int) -> None:
        if self._is_whole():  # they know of each tally
            self._rows.lost["tally"] = count
            self._rows.holed.discard("tally")
        else:
            self._rows.lost["tally"] = max(self._rows.lost["tally"] - self.from_indexes, count)


def _moment(ident: bytes, practice: str) -> int | None:
    """Return when a tally was made, as its id says it, or else noon of the day of its practice."""
    if ident[6] >> 4 == 7:  # RFC 9562, section 5.7: milliseconds come first
        return int.from_bytes(ident[:6], "big")
    try:
        day = sound.day(practice[:10], "")
    except SeasonFileError:
        return None
    return int(datetime.combine(day, time(12), UTC).timestamp()) * 1000
