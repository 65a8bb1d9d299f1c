"""Tallies that were put right and have to do with a player who is erased: whose they are from now on.

Afterwards no correction names the player. Tallies that were theirs by mistake are those of whoever made the
try; tallies that were found to be theirs are withdrawn under the name of whoever had them first, since an
older pack may still bring them as that player's, without the correction.
"""

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass, replace
from hashlib import sha256
from uuid import UUID

from evaltrack.rink.tally import Tally
from evaltrack.rink.tally_correction import Stood
from evaltrack.store.put_right import PutRight
from evaltrack.store.tally_rows import NOT_WITHDRAWN, TALLY_COLUMNS, TallyRows

_WITHDRAW = "INSERT INTO withdrawal VALUES (?, ?, ?) ON CONFLICT (tally) DO NOTHING"
_NOTED = (
    f"SELECT {TALLY_COLUMNS} FROM tally t WHERE player = ? AND {NOT_WITHDRAWN}"
    " AND t.id NOT IN (SELECT tally FROM corrected_tally)"
)
_ABOUT = (
    "SELECT t.id, t.player FROM corrected_tally c JOIN tally t ON t.id = c.tally"
    " JOIN tally_correction k ON k.nth = c.nth AND k.tablet = c.tablet"
    " WHERE t.player = :raw OR k.change = 'player' AND (c.was = :text OR k.becomes = :text)"
)
_ADD = f"INSERT INTO tally ({TALLY_COLUMNS}) VALUES ({', '.join('?' * 14)})"


@dataclass(frozen=True)
class Settled:
    """How many tallies went, or stay without a name; and how many are somebody else's for good now."""

    gone: int
    kept: int
    given_back: int


def settle(connection: sqlite3.Connection, player: UUID, nameless: UUID | None, at: int) -> Settled:
    """Let no tally and no correction name a player any more, within the caller's transaction.

    Parameters
    ----------
    nameless : whose the tries are from now on that stay in the figures; None when none are to stay.
    at : the moment, for withdrawals.
    """
    about = _about(connection, player)
    stands = [stood for stood in PutRight(connection).stood if stood.tally.id.bytes in about]
    theirs = [stood for stood in stands if stood.tally.player == player]
    kept = [s.tally for s in theirs if not s.aside] + _noted(connection, player) if nameless else []
    (gone,) = connection.execute("SELECT count(*) FROM tally WHERE player = ?", (player.bytes,)).fetchone()
    _forget_corrections(connection, player)
    given_back, passed_on = _of_others(connection, stands, about, player)
    found = [s.tally for s in theirs if about[s.tally.id.bytes] != player.bytes]
    _withdraw(connection, [*found, *passed_on], at)
    connection.execute("DELETE FROM tally WHERE player = ?", (player.bytes,))
    add_tallies(connection, [replace(one, id=_another_id(one.id)) for one in passed_on])
    add_tallies(connection, [without_name(one, nameless) for one in kept])
    return Settled(gone - given_back + len(found) - len(kept), len(kept), given_back)


def _of_others(
    connection: sqlite3.Connection, stands: list[Stood], first: dict[bytes, bytes], player: UUID
) -> tuple[int, list[Tally]]:
    """Let tallies be theirs who have them now, without corrections that led through the player.

    Return how many the player had first, and those that somebody else had before: as they are, an older pack
    would make them that one's again.
    """
    now = {stood.tally.id: stood.tally.player for stood in PutRight(connection).stood}
    led = [
        s.tally
        for s in stands
        if s.tally.player not in (player, now.get(s.tally.id, UUID(bytes=first[s.tally.id.bytes])))
    ]
    given_back = [one for one in led if first[one.id.bytes] == player.bytes]
    connection.executemany(
        "UPDATE tally SET player = ? WHERE id = ?", [(one.player.bytes, one.id.bytes) for one in given_back]
    )
    aside = {stood.tally.id for stood in stands if stood.aside}
    return len(given_back), [one for one in led if one not in given_back and one.id not in aside]


def _withdraw(connection: sqlite3.Connection, tallies: list[Tally], at: int) -> None:
    connection.executemany(_WITHDRAW, [(one.id.bytes, one.tablet, at) for one in tallies])
    connection.executemany("DELETE FROM tally WHERE id = ?", [(one.id.bytes,) for one in tallies])


def _noted(connection: sqlite3.Connection, player: UUID) -> list[Tally]:
    read = TallyRows(connection)
    return [read.tally(row) for row in connection.execute(_NOTED, (player.bytes,)).fetchall()]


def _about(connection: sqlite3.Connection, player: UUID) -> dict[bytes, bytes]:
    """Return the corrected tallies that were ever a player's, each with whose it was first."""
    return dict(connection.execute(_ABOUT, {"raw": player.bytes, "text": player.hex}))


def _forget_corrections(connection: sqlite3.Connection, player: UUID) -> None:
    ours = "SELECT nth, tablet FROM tally_correction WHERE change = 'player' AND becomes = :player"
    for table, key in (
        ("correction_force", "correction, made_on"),
        ("corrected_tally", "nth, tablet"),
        ("tally_correction", "nth, tablet"),
    ):
        connection.execute(f"DELETE FROM {table} WHERE ({key}) IN ({ours})", {"player": player.hex})
    connection.execute("DELETE FROM corrected_tally WHERE was = ?", (player.hex,))


def without_name(tally: Tally, nameless: UUID) -> Tally:
    """Return a try that nothing leads back from: under ids of its own, and of no rep."""
    ident = _another_id(tally.id, nameless.bytes)
    return replace(tally, player=nameless, id=ident, rep=None, slot=None)


def _another_id(ident: UUID, salt: bytes = b"") -> UUID:
    """Return an id of the same moment: the same one on every tablet, if there is no salt."""
    digest = sha256(salt + ident.bytes).digest()
    return UUID(bytes=ident.bytes[:8] + digest[:8])  # the first half has the time, by which it is ordered


def add_tallies(connection: sqlite3.Connection, tallies: Iterable[Tally]) -> None:
    """Write tallies, of which the file has none."""
    connection.executemany(_ADD, map(_row, tallies))


def _row(tally: Tally) -> tuple:
    pressure = None if tally.pressure is None else int(tally.pressure)
    rep = tally.rep.bytes if tally.rep else None
    return (
        *(tally.id.bytes, tally.practice, tally.player.bytes, tally.skill, tally.skill_version),
        *(
            tally.outcome,
            pressure,
            tally.drill,
            tally.step,
            tally.observer,
            rep,
            tally.slot,
            tally.tablet,
            tally.at,
        ),
    )
