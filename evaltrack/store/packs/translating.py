"""What a pack calls otherwise than this file: keys of practices, numbers of definitions, who was erased."""

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass, field

from evaltrack.rink.begun_practice import NewKeys
from evaltrack.rink.tally_correction import Change
from evaltrack.store.edits import KINDS, as_text, values_of
from evaltrack.store.packs.pack_file import unlike
from evaltrack.store.packs.rows import Fact, Shape

Versions = Mapping[tuple[str, int], int]


@dataclass(frozen=True)
class Translation:
    """Keys and numbers as they are from now on; of players who are ``erased`` nothing comes in."""

    keys: NewKeys
    versions: Versions
    erased: frozenset[bytes] = frozenset()
    dropped: set[tuple] = field(default_factory=set)  # what another fact may name

    def of(self, shape: Shape, fact: Fact) -> Fact | None:
        """Return a fact as this file has it; None when it is of somebody who was erased."""
        row, parts = fact.row, fact.parts
        if self.erased:
            if any(value in self.erased for value in row) or self._line_names_erased(shape, parts):
                if shape.table == "note_fact":
                    self.dropped.add(("note", *shape.of(row, "nth", "tablet")))
                return None
            parts = {t: [r for r in rows if not self.erased.intersection(r)] for t, rows in parts.items()}
        values = dict(zip(shape.columns, row, strict=True))
        if self.erased and self._is_dropped(shape.table, values):
            return None
        if shape.table == "tally":
            values["skill_version"] = self._version(values["skill"], values["skill_version"])
        if shape.table == "tally_correction":
            values["becomes"], parts = self._corrected(values, parts)
        if values.get("practice"):
            was, values["practice"] = values["practice"], self.keys.of(values["practice"], values["tablet"])
            if was != values["practice"]:
                parts = {t: _replaced(shape.parts[t], rows, values["practice"]) for t, rows in parts.items()}
        return Fact(tuple(values.values()), parts)

    def edit(self, row: tuple) -> tuple:
        """Return an edit, whose key may name a practice."""
        kind, key, part, clock, tablet, value = row
        return (kind, self.key_of_edit(kind, key, tablet), part, clock, tablet, value)

    def key_of_edit(self, kind: str, key: str, tablet: str) -> str:
        """Return the key of what an edit is about."""
        if not (kind in KINDS and KINDS[kind].practice):
            return key
        practice, *rest = _values(key)
        return as_text([self.keys.of(practice, tablet), *rest])

    def _is_dropped(self, table: str, values: dict) -> bool:
        if table == "tally_correction" and values["change"] == Change.PLAYER:
            gives = values["becomes"] in {player.hex() for player in self.erased}
            self.dropped.update([(values["nth"], values["tablet"])] if gives else [])
            return gives
        if table == "note_force":
            return ("note", values["fact"], values["made_on"]) in self.dropped
        return table == "correction_force" and (values["correction"], values["made_on"]) in self.dropped

    def _line_names_erased(self, shape: Shape, parts) -> bool:
        # a rotation without one of its players cannot be played again
        return shape.table == "line_fact" and any(
            self.erased.intersection(row) for row in parts["line_start"]
        )

    def _version(self, skill: str, version: int) -> int:
        if (skill, version) not in self.versions:
            raise unlike("the definition of a tally")
        return self.versions[skill, version]

    def _corrected(self, values: dict, parts: dict) -> tuple[str, dict]:
        change, tablet = values["change"], values["tablet"]
        text = {
            Change.PRACTICE: lambda words: self.keys.of(words, tablet),
            Change.SKILL: self._skill_text,
        }.get(change, str)
        gone = {player.hex() for player in self.erased} if change == Change.PLAYER else ()
        rows = [(*row[:-1], text(row[-1])) for row in parts["corrected_tally"] if row[-1] not in gone]
        return text(values["becomes"]), {"corrected_tally": rows}

    def _skill_text(self, words: str) -> str:
        skill, _, version = words.partition(" ")
        if not (version.isascii() and version.isdigit() and len(version) < 9):
            raise unlike("the skill of a correction")
        return f"{skill} {self._version(skill, int(version))}"


def _values(key: str) -> list:
    try:
        found = values_of(key)
    except ValueError:
        found = []
    if not found or any(type(one) not in (str, int) for one in found):
        raise unlike("the key of a change")
    return found


def _replaced(shape: Shape, rows: list[tuple], practice: str) -> list[tuple]:
    if "practice" not in shape.columns:
        return rows
    at = shape.at("practice")
    return [(*row[:at], practice, *row[at + 1 :]) for row in rows]


def definitions_here(connection: sqlite3.Connection) -> dict[tuple[str, int, str], int]:
    """Return the number of each definition, by skill, clock and tablet."""
    rows = connection.execute("SELECT skill, clock, tablet, version FROM definition")
    return {tuple(row[:3]): row[3] for row in rows.fetchall()}


_SET_OUT = 1_000_000  # clocks below are numbers of definitions from which a season set out


def numbered(definitions: set[tuple[str, int, str]]) -> dict[tuple[str, int, str], int]:
    """Return the number of each definition: in order of clock and tablet, so the newest has the highest."""
    found: dict[tuple[str, int, str], int] = {}
    last: dict[str, int] = {}
    for one in sorted(definitions):
        skill, clock, _ = one
        found[one] = last[skill] = max(clock if clock < _SET_OUT else 0, last.get(skill, 0) + 1)
    return found
