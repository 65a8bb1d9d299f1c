"""Tallies that were ever put right, as they stand now, beside all others, which are read as they were noted.

They are few: the others are counted by SQLite over an index, and these one by one.
"""

import sqlite3
from collections import Counter, defaultdict
from datetime import date
from uuid import UUID

from evaltrack.rink.tally import Outcome, Tally
from evaltrack.rink.tally_correction import Stood, corrected
from evaltrack.store import sound
from evaltrack.store.known import known_skills
from evaltrack.store.opponents import Opponents
from evaltrack.store.tally_corrections import TallyCorrections
from evaltrack.store.tally_rows import NOT_WITHDRAWN, TALLY_COLUMNS, TallyRows

_KEY = 9  # columns of a cell that say of what it is; then come tries and done


class PutRight:
    """The tallies that were put right and not withdrawn.

    ``left_out`` is a condition that holds for all other tallies, as ``t``.
    """

    left_out = "t.id NOT IN (SELECT tally FROM corrected_tally)"

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection
        self.stood = self._read()

    def _read(self) -> list[Stood]:
        of_each = defaultdict(list)
        for correction in TallyCorrections(self._connection).all():
            for ident in correction.was:
                of_each[ident].append(correction)
        read = TallyRows(self._connection)
        rows = self._connection.execute(
            f"SELECT {TALLY_COLUMNS} FROM tally t WHERE id IN (SELECT tally FROM corrected_tally)"
            f" AND {NOT_WITHDRAWN} ORDER BY id"
        )
        rows = sound.no_more_than(sound.MOST_CORRECTED, rows, "corrected tallies")
        tallies = map(read.tally, rows)
        return [corrected(tally, of_each[tally.id]) for tally in tallies]

    def tallies(self) -> list[Tally]:
        """Return those that were not set aside, also in a practice that was."""
        return [stood.tally for stood in self.stood if not stood.aside]

    def counting(self) -> list[Tally]:
        """Return those that count."""
        counting = self._days()
        return [tally for tally in self.tallies() if tally.practice in counting]

    def counts(self) -> Counter:
        """Return how many each practice has, also one that was set aside."""
        return Counter(tally.practice for tally in self.tallies())

    def with_tallies(self, others: list[Tally], practice: str | None, player: UUID | None) -> list[Tally]:
        """Return these with all others, in order; of a practice and a player only, where they are named."""
        known = self.tallies() if practice else self.counting()
        mine = [t for t in known if practice in (None, t.practice) and player in (None, t.player)]
        return sorted([*others, *mine], key=lambda tally: tally.id) if mine else others

    def with_cells(self, others: list[tuple], as_of: date | None) -> list[tuple]:
        """Return the cells of all others with these counted in, in the order in which SQLite gives them."""
        days, versions = self._days(as_of), known_skills(self._connection)
        met = Opponents(self._connection)
        cells = {row[:_KEY]: row[_KEY:] for row in others}
        for tally in self.tallies():
            is_try = tally.outcome is not Outcome.UNSEEN and tally.skill_version == versions[tally.skill]
            if is_try and tally.practice in days:
                key = (*_cell(tally, days[tally.practice]), met.of(tally))
                tries, done = cells.get(key, (0, 0))
                cells[key] = (tries + 1, done + (tally.outcome is Outcome.DONE))
        return sorted(((*key, *count) for key, count in cells.items()), key=_as_sqlite_orders)

    def _days(self, as_of: date | None = None) -> dict[str, str]:
        """Return the day of each practice that counts, by its key."""
        return dict(
            self._connection.execute(
                "SELECT key, held_on FROM practice WHERE NOT aside AND (?1 IS NULL OR held_on <= ?1)",
                (as_of and as_of.isoformat(),),
            )
        )


def _cell(t: Tally, held_on: str) -> tuple:
    pressure = None if t.pressure is None else int(t.pressure)
    return (t.player.bytes, t.skill, t.practice, held_on, t.drill, t.step, pressure, t.observer)


def _as_sqlite_orders(row: tuple) -> tuple:
    player, skill, practice, _, drill, step, pressure, observer, opponent = row[:_KEY]
    pressed = -1 if pressure is None else pressure
    alone = opponent is None
    return (not alone, skill, player, practice, drill, step, pressed, observer, b"" if alone else opponent)
