"""Whose is what lies beside a season file. SQLite plays a journal into whatever file it finds beside it.

Each journal of ours begins with a mark (see `epoch` in the schema): an epoch drawn by chance, and the epoch
that the file itself held when the journal was begun. Before it is written back it gets another one. So a
journal belongs to a file that holds the epoch before its first mark, or one of its own. Layouts:
https://www.sqlite.org/fileformat2.html, sections
1.6 (leaves), 2.1 (records), 3 (rollback journal) and 4 (write-ahead log).
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
from evaltrack.store.open_here import is_open_here
from evaltrack.store.schema import SCHEMA_VERSION
from evaltrack.store.schema_check import strange_parts

JOURNALS = ("-wal", "-journal")
_HEADER, _FRAME = 32, 24  # bytes before the frames of a log, and before the page of each frame
_LOG_MAGIC = (0x377F0682, 0x377F0683)
_ROLLBACK_MAGIC = bytes.fromhex("d9d505f920a163d7")
_RECORD = bytes((36, 1, 4, 0, 44, 44))  # of the mark: 36 bytes, row 1; header of 4: null, two times 16 bytes
_LEAF = 0x0D
_LOOKS, _PAUSE = 5, 0.02  # a program that writes just now may be seen in the midst of it
_CHANGES_WITH_MODE = (range(18, 20), range(24, 28), range(92, 100))  # bytes of the first page


def refuse_foreign(path: Path) -> None:
    """Refuse a season file beside which lies a journal of another file, or of another state of this one.

    Nothing is changed. Call it before SQLite opens the file, and not while this process has it open.

    Raises
    ------
    SeasonFileError
        A journal is not the file's own, or cannot be told from one that is not.
    """
    for ending in JOURNALS:
        beside = path.with_name(f"{path.name}{ending}")
        if os.path.lexists(beside) and not beside.is_file():
            raise SeasonFileError(
                f'"{beside}" is not an ordinary file, so "{path.name}" cannot be opened; move it elsewhere'
            )
    if is_foreign_beside(path) and (strange := _strange_beside(path)):
        raise SeasonFileError(_refusal(path, strange))


def is_foreign_beside(path: str | Path) -> bool:
    """Say whether a journal lies beside a file that is not its own, or that cannot be told."""
    for look in range(_LOOKS):
        if look:
            sleep(_PAUSE)
        with suppress(SeasonFileError, OSError):
            if _strange_beside(Path(path)) is None:
                return False
    return True


def _refusal(path: Path, strange: Path) -> str:
    return (
        f'"{strange.name}" beside "{path.name}" belongs to another state of the season file and would damage '
        f"this one, so nothing was opened or changed. Keep both files, each may hold what the other lacks. "
        f'To open "{path.name}" as it is, move "{strange.name}" to another folder; or put back the file that '
        "stood beside it before"
    )


def _strange_beside(path: Path) -> Path | None:
    """Return what beside the file would be played into it and is not its own, or None."""
    log, rollback = (path.with_name(f"{path.name}{ending}") for ending in JOURNALS)
    with suppress(FileNotFoundError):  # gone meanwhile, with the program that had it
        if _is_hot(rollback) and not _is_own_rollback(path, rollback):
            return rollback
        if _has_commit(log) and not _is_own_log(path, log):
            return log
    return None


# the write-ahead log


def _has_commit(log: Path) -> bool:
    return log.exists() and any(size for _, size, _ in _frames(log))


def _is_own_log(path: Path, log: Path) -> bool:
    root, epoch = _epoch_of(path)
    marks = [_mark_on(page()) for number, _, page in _frames(log) if number == root]
    marks = [mark for mark in marks if mark]
    if not marks:  # of an earlier version, which made none, or begun by a program of another kind
        return _is_sound_together(path, log)
    return epoch in {marks[0][1], *(mark[0] for mark in marks)}


def _frames(log: Path) -> Iterator[tuple[int, int, "_Page"]]:
    """Yield the page number of each frame, the size of the file if it ends a commit, and a way to its page.

    Only frames of the log as it was begun last, whatever remains behind them. Their checksums are not looked
    at: SQLite does that, and ends at the first one that is wrong.
    """
    with log.open("rb") as file:
        header = file.read(_HEADER)
        if len(header) < _HEADER:
            return
        magic, _, page_size, _, salt1, salt2 = struct.unpack(">6I", header[:24])
        if magic not in _LOG_MAGIC or not 512 <= page_size <= 65536:
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
    if len(page) < 512 or page[0] != _LEAF:
        return None
    cell = int.from_bytes(page[8:10], "big")
    record = page[cell : cell + len(_RECORD) + 32]
    if not record.startswith(_RECORD) or len(record) < len(_RECORD) + 32:
        return None
    values = record[len(_RECORD) :]
    return values[:16], values[16:]


def _epoch_of(path: Path) -> tuple[int, bytes | None]:
    """Return the page of the mark in the file itself, whatever lies beside it, and its epoch or None."""
    try:
        with closing(_alone(path)) as file:
            (version,) = file.execute("PRAGMA user_version").fetchone()
            if version > SCHEMA_VERSION:
                raise SeasonFileError(
                    f'"{path}" was written by a newer evaltrack; update evaltrack on this machine'
                )
            if strange_parts(file, version):  # nothing in it is run that is not ours
                raise sqlite3.DatabaseError("not the tables of a season file")
            row = file.execute(
                "SELECT rootpage FROM sqlite_schema WHERE type = 'table' AND name = 'epoch'"
            ).fetchone()
            if row is None:
                return 0, None
            return row[0], file.execute("SELECT epoch FROM epoch").fetchone()[0]
    except (sqlite3.Error, UnicodeDecodeError, TypeError, ValueError, OverflowError) as error:
        raise SeasonFileError(
            f'"{path}" is damaged, or a program was stopped while it wrote into it; keep it together with '
            f'"{path.name}-wal", and go back to a backup'
        ) from error


def _alone(path: Path) -> sqlite3.Connection:
    """Open the file as if nothing lay beside it, without a lock (SQLite calls it immutable).

    By SQLite and not by ``open``: closing that would drop the locks that this process may have on it.
    """
    return sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro&immutable=1", uri=True)


def _is_sound_together(path: Path, beside: Path) -> bool:
    """Say whether a copy of the file, with what lies beside it played into it, is sound and lacks nothing.

    For a journal without a mark: it is its own when every part fits, and no fact is gone that the file has.
    """
    import shutil
    from tempfile import TemporaryDirectory

    with TemporaryDirectory(prefix="evaltrack-") as folder:
        copy = Path(folder) / "season.db"
        try:
            with closing(_alone(path)) as file, closing(sqlite3.connect(copy)) as target:
                file.backup(target)
            alone = _facts(copy)
            shutil.copyfile(beside, f"{copy}{beside.name.removeprefix(path.name)}")
            with closing(sqlite3.connect(copy)) as both:
                sound = both.execute("PRAGMA integrity_check(1)").fetchone() == ("ok",)
                sound &= both.execute("PRAGMA foreign_key_check").fetchone() is None
            return sound and alone <= _facts(copy)
        except (sqlite3.Error, UnicodeDecodeError):
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
    """Say whether a rollback journal is of the moment in which this file was set to keep a log.

    A season file that keeps a log makes no other one, and while it is in hand none at all. One of an earlier
    version may.
    """
    if is_open_here(path):
        return False
    if _epoch_of(path)[1] is None:
        return _is_sound_together(path, rollback)
    with path.open("rb") as file:
        first = file.read(100)
    same = {number: before[:100] for number, before in _rollback_pages(rollback)}
    if set(same) - {1}:
        return False
    mode = {place for places in _CHANGES_WITH_MODE for place in places}
    both = enumerate(zip(same.get(1, first), first, strict=False))
    return all(before == now for place, (before, now) in both if place not in mode)


def _rollback_pages(rollback: Path) -> list[tuple[int, bytes]]:
    content = rollback.read_bytes()
    if len(content) < 28:
        return []
    sector, size = struct.unpack(">2I", content[20:28])
    if not (512 <= sector <= 65536 and 512 <= size <= 65536):
        return []
    places = range(sector, len(content) - size - 7, size + 8)
    pages = [(int.from_bytes(content[at : at + 4], "big"), content[at + 4 : at + 4 + size]) for at in places]
    return [page for page in pages if page[0]]
