"""A season forgets all its children at once; what the team did stays, tries of nobody.

Only what is named here stays, so that whatever a later version keeps of a child goes too.
"""

import random
import sqlite3
from collections import Counter
from dataclasses import dataclass, field, replace
from datetime import date
from uuid import UUID

from evaltrack.rink.ident import new_id
from evaltrack.rink.name_pattern import NamePattern
from evaltrack.rink.tally import Tally
from evaltrack.store.as_they_stand import put_right
from evaltrack.store.erased import note_erased
from evaltrack.store.erasing.settling import add_tallies, without_name
from evaltrack.store.erasing.taking_out import KEEP_NAMELESS, NO_NUMBER, strike_out, tables_of
from evaltrack.store.erasing.whose_names import OBSERVER
from evaltrack.store.known import known_players
from evaltrack.store.season_life import CLOSED, note
from evaltrack.store.tally_rows import NOT_WITHDRAWN, TALLY_COLUMNS, TallyRows

# what has no child in it, or is written anew without; all other tables are emptied
STAYS = frozenset(
    (
        *("season", "epoch", "season_fact", "erased"),
        *("skill", "definition", "drill", "step", "slot", "catalogue_text"),
        *("player", "observer", "practice", "tally", "_sqlite_migrations"),
    )
)
_COUNTING = (
    f"SELECT {TALLY_COLUMNS} FROM tally t WHERE {NOT_WITHDRAWN}"
    " AND t.practice NOT IN (SELECT key FROM practice WHERE aside) AND {}"
)


@dataclass
class Forgotten:
    """What a season forgot.

    Parameters
    ----------
    players, observers : how many names went.
    tallies, practices : how many stay.
    rows : how many rows went, by table.
    struck : in how many texts that stay a name stood, by table and column.
    """

    players: int
    observers: int
    tallies: int
    practices: int
    rows: Counter = field(default_factory=Counter)
    struck: Counter = field(default_factory=Counter)


def forget_children(
    connection: sqlite3.Connection, names: NamePattern, day: date, tablet: str, at: int
) -> Forgotten:
    """Forget everybody by name, within the caller's transaction, in which foreign keys wait for its end.

    Each child's tries stay together, as nobody's, and each observer's as those of a number: shares and
    trends of the team need to know which tries are alike. In which order they stand tells of nobody.

    Parameters
    ----------
    day : on which the season is closed.
    at : the moment.
    """
    tallies = _as_they_stand(connection)
    (named,) = connection.execute("SELECT count(*) FROM player WHERE name <> ''").fetchone()
    nameless, called = _nobody(connection), _numbered(connection)
    rows = _emptied(connection)
    _write_nobody(connection, nameless, called)
    stay = ((without_name(one, nameless[one.player]), called[one.observer]) for one in tallies)
    add_tallies(connection, (replace(one, observer=number) for one, number in stay))
    connection.execute("DELETE FROM practice WHERE aside")
    (practices,) = connection.execute("SELECT count(*) FROM practice").fetchone()
    found = Forgotten(named, len(called), len(tallies), practices, rows)
    strike_out(connection, names, found.struck)
    note(connection, CLOSED, day, tablet, at)
    connection.execute("UPDATE epoch SET before = epoch, epoch = randomblob(16)")  # no older WAL fits it
    return found


def _as_they_stand(connection: sqlite3.Connection) -> list[Tally]:
    """Return the tallies that count as they were put right, those of nobody among them."""
    with put_right(connection) as others:
        read = TallyRows(connection)
        rows = connection.execute(_COUNTING.format(others.left_out))
        return others.with_tallies([read.tally(row) for row in rows], None, None)


def _nobody(connection: sqlite3.Connection) -> dict[UUID, UUID]:
    """Return who each player is from now on; ids sort by time, so they are given in no order."""
    players = list(known_players(connection).values())
    random.SystemRandom().shuffle(players)
    return {player: new_id() for player in players}


def _numbered(connection: sqlite3.Connection) -> dict[str, str]:
    names = [name for (name,) in connection.execute("SELECT name FROM observer")]
    random.SystemRandom().shuffle(names)
    return {name: OBSERVER.format(number) for number, name in enumerate(names, 1)}


def _emptied(connection: sqlite3.Connection) -> Counter:
    """Empty all that does not stay, and the tallies, which are written anew; return how much went."""
    rows = Counter()
    for table in tables_of(connection):
        if table not in STAYS:
            rows[table] = connection.execute(f"DELETE FROM {table}").rowcount
    connection.execute("DELETE FROM tally")
    return +rows


def _write_nobody(connection: sqlite3.Connection, nameless: dict[UUID, UUID], called: dict[str, str]) -> None:
    for player, nobody in nameless.items():
        connection.execute(KEEP_NAMELESS, (nobody.bytes, NO_NUMBER, player.bytes))
    connection.executemany("DELETE FROM player WHERE id = ?", [(player.bytes,) for player in nameless])
    note_erased(connection, [*nameless, *nameless.values()])
    connection.execute("DELETE FROM observer")
    connection.executemany("INSERT INTO observer VALUES (?)", [(name,) for name in called.values()])
