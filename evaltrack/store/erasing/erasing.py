"""Erasing a player: a season file without them is made beside the file, proved, and put in its place at once.

Nothing is erased in the file itself, so whatever stops the program leaves the file as it was, or the one
that has no byte of the name: pages that were freed, journals and a WAL never come along.
"""

import mmap
import os
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from pathlib import Path
from uuid import UUID

from evaltrack.device.system_words import system_reason
from evaltrack.errors import SeasonFileError
from evaltrack.language import mark, tr
from evaltrack.rink.ident import now_ms
from evaltrack.rink.name_pattern import NamePattern
from evaltrack.store import sound
from evaltrack.store.connection import FAILURES, FileConnection, all_or_nothing, reason
from evaltrack.store.erasing.copies_kept import forget_copies, own_copies
from evaltrack.store.erasing.forgetting import Forgotten, forget_children
from evaltrack.store.erasing.taking_out import TakenOut, has_ids, statements_of, take_out, texts_of
from evaltrack.store.erasing.whose_names import pattern_of, pattern_of_all
from evaltrack.store.every_reader import read_all
from evaltrack.store.known import known_players
from evaltrack.store.on_disk.drafts import draft_beside, remove, sweep

_BUSY = mark("another program is using the season file; close it, and try again")


@dataclass(frozen=True)
class Erasure:
    """What an erasure took out, or would take out.

    Parameters
    ----------
    names : what was looked for afterwards.
    copies : copies that the app had kept by itself, which are deleted; ``stuck`` could not be.
    """

    names: NamePattern
    taken_out: TakenOut | Forgotten
    copies: list[Path] = field(default_factory=list)
    stuck: list[Path] = field(default_factory=list)


@dataclass(frozen=True)
class Wanted:
    """Who is to go, what they are called, and what takes them out of a copy of the file."""

    players: Sequence[UUID]
    names: NamePattern
    take_out: Callable[[sqlite3.Connection], TakenOut | Forgotten]


def erase(connection: FileConnection, path: Path, player: UUID, keep_counts: bool, rehearse: bool) -> Erasure:
    """Put a season file without a player in the place of one with them; the connection is of no use then.

    Raises
    ------
    SeasonFileError
        Another program uses the file, it cannot be written, or a name is still in the new one. The file is as
        it was, and may be opened again.
    """

    def wanted() -> Wanted:
        names = pattern_of(connection, player)
        return Wanted([player], names, lambda copy: take_out(copy, player, names, keep_counts, at=now_ms()))

    return put_without(connection, path, wanted, rehearse)


def forget(connection: FileConnection, path: Path, day: date, tablet: str, rehearse: bool) -> Erasure:
    """Put a season file that knows nobody by name in the place of one that did, as `erase` does."""

    def wanted() -> Wanted:
        names = pattern_of_all(connection)
        players = list(known_players(connection).values())
        change = partial(forget_children, names=names, day=day, tablet=tablet, at=now_ms())
        return Wanted(players, names, change)

    return put_without(connection, path, wanted, rehearse)


def put_without(
    connection: FileConnection, path: Path, wanted: Callable[[], Wanted], rehearse: bool
) -> Erasure:
    """Put a season file without some players in the place of one with them, as `erase` does.

    Parameters
    ----------
    wanted : asked when nobody else can change the file any more.
    """
    path = path.resolve()  # the file itself is replaced, and not a link to it
    sweep(path)
    first, second = draft_beside(path), draft_beside(path)
    try:
        with _alone(connection):
            what, season = wanted(), _ident(connection)
            for draft in (first, second):
                draft.touch(mode=0o600, exist_ok=False)
            out = _written(path, first, second, what.take_out)
            remove(first)
            _prove(second, what)
            if rehearse:
                return Erasure(what.names, out, own_copies(path, season))
            gone = forget_copies(path, season)
            _put(connection, second, path)
        return Erasure(what.names, out, *gone)
    except FAILURES as error:
        raise SeasonFileError(
            tr('nobody was erased from "{path}": {reason}', path=path, reason=reason(error))
        ) from error
    except OSError as error:
        raise SeasonFileError(
            tr('nobody was erased from "{path}": {reason}', path=path, reason=system_reason(error) or error)
        ) from error
    finally:
        remove(first)
        remove(second)


def _ident(connection: FileConnection) -> UUID:
    return sound.ident(*connection.execute("SELECT id FROM season").fetchone(), "the id of the season")


@contextmanager
def _alone(connection: FileConnection) -> Iterator[None]:
    """Hold a season file for this connection alone, without a WAL beside it; close it in the end."""
    try:
        whole = connection.checkpoint(empty=True)
        (mode,) = connection.execute("PRAGMA journal_mode = DELETE").fetchone()
        if not whole or mode != "delete":
            raise SeasonFileError(tr(_BUSY))
        connection.execute("BEGIN IMMEDIATE")  # others may look at the file, and not change it
        yield
    except sqlite3.OperationalError as error:
        if (error.sqlite_errorname or "").startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
            raise SeasonFileError(tr(_BUSY)) from error
        raise
    finally:
        with suppress(sqlite3.Error):
            connection.execute("ROLLBACK")
        connection.close()


def _written(
    path: Path, first: Path, second: Path, change: Callable[[sqlite3.Connection], TakenOut | Forgotten]
) -> TakenOut | Forgotten:
    """Write the file without the player as the second draft, of which no byte was ever another one."""
    with closing(sqlite3.connect(first, isolation_level=None)) as copy:
        # by a second connection: one that is about to write gives nothing away
        with closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)) as file:
            file.backup(copy)
        for setting in ("journal_mode = MEMORY", "secure_delete = ON", "foreign_keys = ON"):
            copy.execute(f"PRAGMA {setting}").fetchone()
        with all_or_nothing(copy):
            copy.execute("PRAGMA defer_foreign_keys = ON")
            out = change(copy)
        copy.execute("VACUUM INTO ?", (str(second),))
    return out


def _prove(draft: Path, what: Wanted) -> None:
    """Raise SeasonFileError unless a file is whole, can be read, and has the names in no byte."""
    with closing(sqlite3.connect(draft, isolation_level=None)) as file:
        if file.execute("PRAGMA integrity_check").fetchall() != [("ok",)]:
            raise SeasonFileError(tr("the season file is damaged; go back to a backup, and erase there"))
        if file.execute("PRAGMA foreign_key_check").fetchone():
            raise SeasonFileError(
                tr("the season file would not be whole without the player: nobody was erased")
            )
        read_all(file)
        texts, own, ids = texts_of(file), statements_of(file), has_ids(file, what.players)
    left = [text for text in texts if what.names.is_in(text)]
    in_bytes = names_in_file(draft, what.names, "\n".join([*texts, *own]))
    if left or ids or in_bytes:
        where = ", ".join([*ids, *in_bytes, *(f"“{text[:40]}”" for text in left)][:3])
        raise SeasonFileError(
            tr("nobody was erased: the name would still be in the season file ({where})", where=where)
        )


def names_in_file(file: Path, names: NamePattern, texts: str = "") -> list[str]:
    """Return which names stand in the bytes of a file, but for what the folded ``texts`` have as well."""
    size = file.stat().st_size
    if not size:
        return []
    with file.open("rb") as stream, mmap.mmap(stream.fileno(), 0, access=mmap.ACCESS_READ) as content:
        return names.in_bytes(content, size, texts.casefold())


def _put(connection: sqlite3.Connection, draft: Path, path: Path) -> None:
    descriptor = os.open(draft, os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
    if os.name == "nt":  # where an open file cannot be replaced
        connection.execute("ROLLBACK")
        connection.close()
    draft.replace(path)
    _put_on_disk(path.parent)


def _put_on_disk(folder: Path) -> None:
    if os.name != "nt":
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
