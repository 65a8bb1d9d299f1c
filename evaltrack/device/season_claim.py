"""One app for a season file on a tablet: a second one would change the rotation under the first.

The claim is a lock of the operating system on one byte of a file beside the settings. It ends with the
process, however that ends, so it never has to be cleared away.
"""

import os
from collections import Counter
from contextlib import suppress
from pathlib import Path
from typing import IO
from zlib import crc32

from evaltrack.device.byte_lock import lock_byte, unlock_byte
from evaltrack.device.tablet import tablet_folder

_BYTES = 0x7FFF_FFFF  # each season has a byte of its own, which need not be there to be locked
# of this process, and of none that it was forked from. The files stay open: a lock of POSIX goes as soon as
# its process closes the file, by whichever handle.
_files: dict[tuple[int, Path], IO] = {}
_claims: Counter[tuple[int, Path, int]] = Counter()


class SeasonClaim:
    """The claim of this process on the season file that it has in hand."""

    def __init__(self):
        self._claimed: tuple[int, Path, int] | None = None

    def take(self, season: Path) -> bool:
        """Claim a season file, in place of the one before; False while another process has it.

        Where nothing can be locked (a folder that is read only, a disk that knows no locks) it is taken
        for free: a claim must not keep anybody from the bench.
        """
        wanted = _claim_on(season)
        if wanted == self._claimed:
            return True
        if not _claims[wanted]:
            try:
                lock_byte(_opened(wanted), wanted[2])
            except (BlockingIOError, PermissionError):
                return wanted[:2] not in _files  # it is not the file but the byte that is refused
            except OSError:
                return True
        _claims[wanted] += 1
        self.leave()
        self._claimed = wanted
        return True

    def leave(self) -> None:
        """Let another process have the season file."""
        claimed, self._claimed = self._claimed, None
        if claimed is None:
            return
        _claims[claimed] -= 1
        if not _claims[claimed] and claimed[:2] in _files:
            with suppress(OSError):
                unlock_byte(_files[claimed[:2]], claimed[2])


def is_claimed_here(season: Path) -> bool:
    """Say whether this process has a claim on a season file."""
    return _claims[_claim_on(season)] > 0


def _claim_on(season: Path) -> tuple[int, Path, int]:
    byte = crc32(os.fsencode(Path(season).resolve())) & _BYTES
    return os.getpid(), tablet_folder() / "open.lock", byte


def _opened(claim: tuple[int, Path, int]) -> IO:
    if claim[:2] not in _files:
        claim[1].parent.mkdir(parents=True, exist_ok=True)
        _files[claim[:2]] = claim[1].open("ab")
    return _files[claim[:2]]
