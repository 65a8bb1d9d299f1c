"""One app for a season file on a tablet: a second one would change the line of players under the first.

The claim is a lock of the operating system on one byte of a file beside the settings. It ends with the
process, however that ends, so it never has to be cleared away.
"""

import os
import sys
from contextlib import suppress
from pathlib import Path
from zlib import crc32

from evaltrack.store.tablet import tablet_folder

_BYTES = 0x7FFF_FFFF  # each season has a byte of its own, which need not be there to be locked


class SeasonClaim:
    """The claim of this process on the season file that it has in hand."""

    def __init__(self):
        self._file = None
        self._byte: int | None = None

    def take(self, season: Path) -> bool:
        """Claim a season file, in place of the one before; False while another process has it.

        Where nothing can be locked (a folder that is read only, a disk that knows no locks) it is taken
        for free: a claim must not keep anybody from the bench.
        """
        byte = crc32(os.fsencode(Path(season).resolve())) & _BYTES
        if byte == self._byte:
            return True
        try:
            self._open()
            _lock(self._file, byte)
        except (BlockingIOError, PermissionError):
            return self._file is None  # it is not the file but the byte that is refused
        except OSError:
            return True
        self._leave_byte()
        self._byte = byte
        return True

    def leave(self) -> None:
        """Let another process have the season file."""
        self._leave_byte()
        if self._file:
            self._file.close()
        self._file = None

    def _open(self) -> None:
        # kept open: a lock of POSIX goes as soon as its process closes the file, by whichever handle
        if self._file is None:
            tablet_folder().mkdir(parents=True, exist_ok=True)
            self._file = (tablet_folder() / "open.lock").open("ab")

    def _leave_byte(self) -> None:
        if self._byte is not None:
            with suppress(OSError):
                _unlock(self._file, self._byte)
        self._byte = None


if sys.platform == "win32":
    import msvcrt

    def _lock(file, byte: int) -> None:
        file.seek(byte)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)

    def _unlock(file, byte: int) -> None:
        file.seek(byte)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)
else:
    import fcntl

    def _lock(file, byte: int) -> None:
        fcntl.lockf(file, fcntl.LOCK_EX | fcntl.LOCK_NB, 1, byte)

    def _unlock(file, byte: int) -> None:
        fcntl.lockf(file, fcntl.LOCK_UN, 1, byte)
