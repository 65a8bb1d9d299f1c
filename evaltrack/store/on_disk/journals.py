"""Whose is what lies beside a season file: SQLite plays a WAL or a rollback journal into any file beside it.

Each WAL of ours begins with a mark (see `epoch` in the schema): an epoch drawn by chance, and the epoch that
the file itself held when the WAL was begun. Before a checkpoint it gets another one. So a WAL belongs to a
file that holds the epoch before its first mark, or one of its own. Layouts:
https://www.sqlite.org/fileformat2.html, sections 1.6 (leaves), 2.1 (records), 3 (rollback journal) and 4
(write-ahead log, WAL).
"""

import os
import sqlite3
import struct
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path
from time import sleep
from typing import BinaryIO

from evaltrack.errors import SeasonFileError
from evaltrack.language import tr
from evaltrack.store.schema import SCHEMA_VERSION
from evaltrack.store.schema_check import strange_parts

_JOURNALS = ("-wal", "-journal")
_HEADER, _FRAME = 32, 24  # bytes before the frames of a WAL, and before the page of each frame
_WAL_MAGIC = (0x377F0682, 0x377F0683)
_ROLLBACK_MAGIC = bytes.fromhex("d9d505f920a163d7")
_RECORD = bytes((36, 1, 4, 0, 44, 44))  # of the mark: 36 bytes, row 1; header of 4: null, two times 16 bytes
_LEAF = 0x0D
_ATTEMPTS, _PAUSE = 5, 0.02  # another program may be writing just now
_KEEPS_WAL = b"\x02\x02"  # how the first page says that a file keeps a WAL
_UNREADABLE = (sqlite3.Error, UnicodeDecodeError)
_CHANGES_WITH_MODE = (range(18, 20), range(24, 28), range(92, 100))  # bytes of the first page


def refuse_foreign(path: Path) -> None:
    """Refuse a season file beside which lies a journal of another file, or of another state of this one.

    Nothing is changed. Call it before SQLite opens the file, and not while this process has it open.

    Raises
    ------
    SeasonFileError
        A journal is not the file's own, or cannot be told from one that is not.
    """
    for ending in _JOURNALS:
        beside = path.with_name(f"{path.name}{ending}")
        if os.path.lexists(beside) and not beside.is_file():
            raise SeasonFileError(
                tr(
                    '"{beside}" is not an ordinary file, so "{name}" cannot be opened; move it elsewhere',
                    beside=beside,
                    name=path.name,
                )
            )
    for attempt in range(_ATTEMPTS):
        if attempt:
            sleep(_PAUSE)
        strange = _strange_beside(path)
        if strange is None:
            return
    raise SeasonFileError(_refusal(path, strange))


def _refusal(path: Path, strange: Path) -> str:
    return tr(
        '"{name}" beside "{season}" belongs to another state of the season file and would damage '
        "this one, so nothing was opened or changed. Keep both files, each may hold what the "
        'other lacks. To open "{season}" as it is, move "{name}" to another folder; or put back '
        "the file that stood beside it before",
        name=strange.name,
        season=path.name,
    )


def _strange_beside(path: Path) -> Path | None:
    """Return what beside the file would be played into it and is not its own, or None."""
    wal, rollback = (path.with_name(f"{path.name}{ending}") for ending in _JOURNALS)
    with suppress(FileNotFoundError):  # gone by now, with the program that had it
        if _is_hot(rollback) and not _is_own_rollback(path, rollback):
            return rollback
        if _has_commit(wal) and not _is_own_wal(path, wal):
            return wal
    return None


# the write-ahead log (WAL)


def _has_commit(wal: Path) -> bool:
    return wal.exists() and any(size for _, size, _ in _frames(wal))


def _is_own_wal(path: Path, wal: Path) -> bool:
    marks = _marks_in(wal)
    if not marks:  # of an earlier version, which made none, or begun by a program of another kind
        return _is_sound_together(path, wal)
    number, size, _, before = marks[0]
    # not by SQLite: a file in the middle of a checkpoint is no whole one alone
    mark = _mark_on(_page_of(path, number, size))
    if mark is None:  # of an earlier version too, and stopped while it was brought up to date
        return before == bytes(16) and _is_sound_together(path, wal)
    return mark[0] in {before, *(epoch for _, _, epoch, _ in marks)}


def _marks_in(wal: Path) -> list[tuple[int, int, bytes, bytes]]:
    """Return page number and size, epoch and the one before, of each mark in a WAL."""
    marks: list[tuple[int, int, bytes, bytes]] = []
    for number, _, page in _frames(wal):
        if not marks or number == marks[0][0]:
            content = page()
            mark = _mark_on(content)
            marks += [(number, len(content), *mark)] if mark else []
    return marks


def _page_of(path: Path, number: int, size: int) -> bytes:
    with path.open("rb") as file:
        file.seek((number - 1) * size)
        return file.read(size)


def _frames(wal: Path) -> Iterator[tuple[int, int, "_Page"]]:
    """Yield the page number of each frame, the size of the file if it ends a commit, and a way to its page.

    Only frames of the WAL as it was begun last, whatever remains after them. Their checksums are not looked
    at: SQLite does that, and ends at the first one that is wrong.
    """
    with wal.open("rb") as file:
        header = file.read(_HEADER)
        if len(header) < _HEADER:
            return
        magic, _, page_size, _, salt1, salt2 = struct.unpack(">6I", header[:24])
        if magic not in _WAL_MAGIC or not 512 <= page_size <= 65536:
            return
        place = _HEADER
        while len(head := file.read(_FRAME)) == _FRAME:
            number, size, *salts = struct.unpack(">4I", head[:16])
            if salts != [salt1, salt2]:
                return
            yield number, size, _Page(file, place + _FRAME, page_size)
            place += _FRAME + page_size
            file.seek(place)


class _Page:
    """The page of a frame, read when it is asked for."""

    def __init__(self, file: BinaryIO, place: int, size: int):
        self._file, self._place, self._size = file, place, size

    def __call__(self) -> bytes:
        self._file.seek(self._place)
        return self._file.read(self._size)


def _mark_on(page: bytes) -> tuple[bytes, bytes] | None:
    """Return the epoch and the one before it from the page that holds their table, or None."""
    if len(page) < 512 or page[0] != _LEAF or page[3:5] != b"\x00\x01":  # one row
        return None
    cell = int.from_bytes(page[8:10], "big")
    record = page[cell : cell + len(_RECORD) + 32]
    if not record.startswith(_RECORD) or len(record) < len(_RECORD) + 32:
        return None
    values = record[len(_RECORD) :]
    return values[:16], values[16:]


def epoch_alone(path: str | Path) -> bytes | None:
    """Return the epoch of a file that is open here, whatever lies beside it; None when it cannot be read."""
    with suppress(sqlite3.Error, UnicodeDecodeError, TypeError), closing(_alone(Path(path))) as file:
        (version,) = file.execute("PRAGMA user_version").fetchone()
        if version == SCHEMA_VERSION and not strange_parts(file, version):
            return file.execute("SELECT epoch FROM epoch").fetchone()[0]
    return None


def _alone(path: Path) -> sqlite3.Connection:
    """Open the file as if nothing lay beside it, without a lock (SQLite calls it immutable).

    By SQLite and not by ``open``: closing that would drop the locks that this process may have on it.
    """
    return sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro&immutable=1", uri=True)


def _is_sound_together(path: Path, beside: Path) -> bool:
    """Say whether a copy of the file, with what lies beside it played into it, is sound and lacks nothing.

    For one without a mark: it is the file's own when every part fits, and no fact is gone that the file has.
    """
    import shutil
    from tempfile import TemporaryDirectory

    with TemporaryDirectory(prefix="evaltrack-") as folder:
        copy = Path(folder) / "season.db"
        shutil.copyfile(path, copy)
        try:
            alone = _facts(copy)
        except _UNREADABLE:  # it was being written into: what it holds is judged together with its journal
            alone = set()
        try:
            shutil.copyfile(beside, f"{copy}{beside.name.removeprefix(path.name)}")
            with closing(sqlite3.connect(copy)) as both:
                sound = both.execute("PRAGMA integrity_check(1)").fetchone() == ("ok",)
                sound &= both.execute("PRAGMA foreign_key_check").fetchone() is None
            return sound and alone <= _facts(copy)
        except _UNREADABLE:
            return False


def _facts(copy: Path) -> set[tuple]:
    """Return what only grows in a season file, and its version."""
    with closing(sqlite3.connect(copy)) as file:
        (version,) = file.execute("PRAGMA user_version").fetchone()
        if not 0 < version <= SCHEMA_VERSION or strange_parts(file, version):
            raise sqlite3.DatabaseError("not the tables of a season file")
        # each with its table: a withdrawal has the id of its tally
        grows = "SELECT 1, id FROM tally UNION ALL SELECT 2, tally FROM withdrawal"
        grows += " UNION ALL SELECT 3, id FROM rep"
        return {(version,), *file.execute(grows)}


# the rollback journal


def _is_hot(rollback: Path) -> bool:
    if not rollback.exists():
        return False
    with rollback.open("rb") as file:
        return file.read(8) == _ROLLBACK_MAGIC


def _is_own_rollback(path: Path, rollback: Path) -> bool:
    """Say whether a rollback journal is of the moment in which this file was set to keep a WAL.

    A season file that keeps a WAL makes no rollback journal. One of an earlier version may.
    """
    with path.open("rb") as file:
        first = file.read(100)
    if first[18:20] != _KEEPS_WAL:
        return _is_sound_together(path, rollback)
    same = {number: before[:100] for number, before in _rollback_pages(rollback)}
    if set(same) - {1}:
        return False
    mode = {place for places in _CHANGES_WITH_MODE for place in places}
    both = enumerate(zip(same.get(1, first), first, strict=False))
    return all(before == now for place, (before, now) in both if place not in mode)


def _rollback_pages(rollback: Path) -> list[tuple[int, bytes]]:
    content = rollback.read_bytes()
    sector, size = struct.unpack(">2I", content[20:28].ljust(8, b"\0"))
    if not (512 <= sector <= 65536 and 512 <= size <= 65536):
        return []
    places = range(sector, len(content) - size - 7, size + 8)
    pages = [(int.from_bytes(content[at : at + 4], "big"), content[at + 4 : at + 4 + size]) for at in places]
    return [page for page in pages if page[0]]
