"""The standings that were shown last, kept for whoever opens the file with another program.

They are worked out and may be thrown away: nothing in evaltrack goes by them, and no pack carries them.
"""

import sqlite3
from collections.abc import Iterable
from datetime import date
from math import isfinite
from typing import NamedTuple
from uuid import UUID

from evaltrack.rink.ident import now_ms
from evaltrack.store import sound
from evaltrack.store.connection import reading, transaction
from evaltrack.store.known import known_players, known_skills
from evaltrack.store.people import People

_INSERT = "INSERT INTO last_look VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
_WHAT = "a standing of the last look"


class Looked(NamedTuple):
    """One player in one skill, as it was shown."""

    player: UUID
    skill: str
    tries: int
    done: int
    up_to: date


class LastLook:
    """The standings as of the last look."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def keep(self, standings: Iterable, up_to: date, at: int | None = None) -> None:
        """Keep standings of all players in all skills, in the place of those before.

        Parameters
        ----------
        standings : each with the fields of a `Standing`.
        up_to : the last practice day that is in them.

        Raises
        ------
        NotSavedError : it is not on disk.
        """
        moment = now_ms() if at is None else at
        with transaction(self._connection):
            ids = {(one.number, one.name): one.id.bytes for one in People(self._connection).everyone()}
            rows = [
                (ids[one.player, one.name], one.skill, *_figures(one), up_to.isoformat(), moment)
                for one in standings
                if (one.player, one.name) in ids
            ]
            self._connection.execute("DELETE FROM last_look")
            self._connection.executemany(_INSERT, rows)

    @reading()
    def all(self) -> list[Looked]:
        """Return what was kept, in no order."""
        rows = self._connection.execute("SELECT player, skill, tries, done, up_to FROM last_look")
        players, skills = known_players(self._connection), known_skills(self._connection)
        return [
            Looked(
                sound.of(players, player, _WHAT),
                sound.among(skills, skill, _WHAT),
                sound.whole(tries, _WHAT),
                sound.whole(done, _WHAT),
                sound.day(up_to, _WHAT),
            )
            for player, skill, tries, done, up_to in sound.no_more_than(sound.MOST_CELLS, rows, "standings")
        ]


def _figures(one) -> tuple:
    shares = (share if isfinite(share) else None for share in (one.share, one.low, one.high))
    return one.tries, one.done, one.practices, *shares, one.call, one.trend
