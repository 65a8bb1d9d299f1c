"""Packs of an open season file: written for other tablets, and joined from theirs."""

import sqlite3
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from uuid import UUID

from evaltrack.device.ordinary_file import open_ordinary
from evaltrack.device.sealing import is_sealed, opened
from evaltrack.device.system_words import system_reason
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.ident import now_ms
from evaltrack.store.connection import reading, transaction
from evaltrack.store.erased import erased_players, note_erased
from evaltrack.store.loan import refuse_loan
from evaltrack.store.packs.gathering import gather
from evaltrack.store.packs.joined import Joined, Lost
from evaltrack.store.packs.joining import join
from evaltrack.store.packs.lost_edits import lost_so_far
from evaltrack.store.packs.news import News, digest_of
from evaltrack.store.packs.pack_file import MOST_PACKED, Pack, PackError, read_pack
from evaltrack.store.packs.rows import Shape
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
            not joined yet; or this file is a loan, into which nothing more is to come.
        NotSavedError : it is not on disk.
        """
        refuse_loan(self._connection)
        if SeasonLife(self._connection).closed():
            raise PackError(
                tr("this season was closed and knows no child any more: a pack would bring names back")
            )
        return join(self._connection, packs, now_ms() if now is None else now, rehearse)

    def news(self, tablet: str) -> News:
        """Return what packs for another tablet what it has not heard yet."""
        return News(self._connection, tablet)

    def digest(self) -> str:
        """Return the SHA-256 of all facts that tablets share, as hexadecimal digits."""
        return digest_of(self._connection)

    @reading()
    def new_tallies(self, pack: Pack) -> dict[tuple[str, str], int]:
        """Return how many tallies of a pack are new, by the practice's key in it and by observer."""
        shape = Shape(self._connection, "tally")
        found = Counter()
        for fact in map(shape.fact, pack.facts.get("tally", ())):
            if shape.find(shape.key_of(fact.row)) is None:
                found[shape.of(fact.row, "practice", "observer")] += 1
        return dict(found)

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
        with open_ordinary(path) as file:
            content = file.read(MOST_PACKED + 1)
        if len(content) > MOST_PACKED:
            raise EvaltrackError(tr('"{path}" is larger than a pack can be; nothing was taken in', path=path))
    except (OSError, ValueError) as error:
        why = system_reason(error) or tr("its name cannot be one")
        raise EvaltrackError(tr('"{path}" cannot be read: {why}', path=path, why=why)) from error
    if is_sealed(content):
        content = opened(content, passphrase() or "")
    return read_pack(str(path), content)
