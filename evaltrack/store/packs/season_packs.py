"""Packs of an open season file: written for other tablets, and joined from theirs."""

import sqlite3
from collections.abc import Callable, Sequence
from pathlib import Path
from uuid import UUID

from evaltrack.device.sealing import is_sealed, opened
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.ident import now_ms
from evaltrack.store.connection import reading, transaction
from evaltrack.store.erased import erased_players, note_erased
from evaltrack.store.packs.gathering import gather
from evaltrack.store.packs.joined import Joined, Lost
from evaltrack.store.packs.joining import join
from evaltrack.store.packs.lost_edits import lost_so_far
from evaltrack.store.packs.pack_file import MOST_PACKED, Pack, PackError, read_pack
from evaltrack.store.season_life import SeasonLife


class SeasonPacks:
    """What several tablets noted of one season."""

    def __init__(self, connection: sqlite3.Connection):
        self._connection = connection

    def pack(self, tablet: str, since: Pack | None = None, at: int | None = None) -> bytes:
        """Return a pack of all that the file has, or of what is new since an earlier one, as its bytes.

        Raises
        ------
        PackError : the earlier one is of another season, or it is too much for one pack.
        """
        return gather(self._connection, tablet, now_ms() if at is None else at, since)

    def join(
        self, packs: Sequence[tuple[str, Pack]], rehearse: bool = False, now: int | None = None
    ) -> Joined:
        """Take in packs, each with its name, all of them or nothing; ``rehearse`` only says what would be.

        Raises
        ------
        PackError : one is of another season, has what no season file may have, or goes on from one that was
            not joined yet.
        NotSavedError : it is not on disk.
        """
        if SeasonLife(self._connection).closed():
            raise PackError(
                tr("this season was closed and knows no child any more: a pack would bring names back")
            )
        return join(self._connection, packs, now_ms() if now is None else now, rehearse)

    def lost(self) -> list[Lost]:
        """Return every change that lost against a newer one of a tablet that did not know of it."""
        return lost_so_far(self._connection)

    @reading()
    def erased(self) -> frozenset[bytes]:
        """Return the ids of the players whom no pack brings back."""
        return erased_players(self._connection)

    def note_erased(self, players: Sequence[UUID]) -> None:
        """Keep that no pack is to bring these players back."""
        with transaction(self._connection):
            note_erased(self._connection, players)


def pack_in(path: Path, passphrase: Callable[[], str | None] = lambda: None) -> Pack:
    """Return what is in a pack.

    Parameters
    ----------
    passphrase : asked for it when the pack is sealed.

    Raises
    ------
    EvaltrackError : it cannot be read, is no pack, damaged, too large, or of a newer evaltrack; or it is
        sealed, and the passphrase is not the one.
    """
    try:
        if path.stat().st_size > MOST_PACKED:
            raise EvaltrackError(f'"{path}" is larger than a pack can be; nothing was taken in')
        content = path.read_bytes()
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "its name cannot be one"
        raise EvaltrackError(f'"{path}" cannot be read: {why}') from error
    if is_sealed(content):
        content = opened(content, passphrase() or "")
    return read_pack(str(path), content)
