"""How the settings of a tablet lie on disk: one file of plain values, changed by one window at a time.

A lock of the operating system on a byte of a file beside it is held while the settings are read, changed and
written. It ends with the process, however that ends. Where nothing can be locked (a folder that is read only,
a disk that knows no locks, a process that was stopped with the lock in hand) the settings are changed without
it: nobody is kept from the bench.
"""

import json
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from stat import S_ISREG
from threading import Lock

from evaltrack.device.byte_lock import lock_byte, unlock_byte
from evaltrack.private_file import write_private

LONGEST = 64 * 1024  # bytes of a settings file; a whole one has less than a kilobyte and two paths
WINDOW_WAIT = 2.0  # seconds to wait for another window, which needs some milliseconds
_PAUSE = 0.0005  # seconds between two attempts at the lock
_LEFT_BEHIND = 3600  # seconds; a draft is written in some milliseconds

_here = Lock()  # the system's lock holds off other processes, and not another thread of this one


def read_settings(file: Path) -> dict:
    """Return what the settings file holds; nothing when it is none, cannot be read, or is far too long.

    One that others may read as well, of an earlier version, is closed to them.
    """
    try:
        state = file.stat()
        if not S_ISREG(state.st_mode) or state.st_size > LONGEST:
            return {}
        if sys.platform != "win32" and state.st_mode & 0o077:
            _close_to_others(file)
        with file.open("rb") as stream:
            found = json.loads(stream.read(LONGEST + 1))
    except (OSError, ValueError, RecursionError):  # no file, not text, not JSON, nested too deep
        return {}
    return found if isinstance(found, dict) else {}


def write_settings(file: Path, settings: dict, others: dict) -> bool:
    """Write the settings, whole or not at all, and say whether they are on disk now.

    Parameters
    ----------
    settings : plain values by name.
    others : what else lies in the file, kept as long as there is room.
    """
    content = json.dumps(others | settings, indent=1)
    if len(content) > LONGEST:
        content = json.dumps(settings, indent=1)
    try:
        write_private(file, content.encode("ascii"))
    except OSError:
        return False
    return True


@contextmanager
def one_window_at_a_time(folder: Path, wait: float = WINDOW_WAIT) -> Iterator[bool]:
    """Hold the settings in a folder for one window, which is made if need be, and say whether they are held.

    Parameters
    ----------
    wait : seconds to wait for another window before going on without the lock.
    """
    until = time.monotonic() + wait
    here = _here.acquire(timeout=wait)
    file = _lock_file(folder) if here else None  # to close a second one would end the other thread's lock
    held = file is not None and _take(file, until)
    try:
        yield held
    finally:
        if file:
            _give_back(file, held)
        if here:
            _here.release()


def clear_drafts(folder: Path) -> None:
    """Remove what writers that were killed have left in a folder: drafts too old to be still written."""
    with suppress(OSError):
        for draft in [*folder.glob(".evaltrack-*.new"), folder / "tablet.new"]:
            with suppress(OSError):
                if abs(time.time() - draft.lstat().st_mtime) > _LEFT_BEHIND:
                    draft.unlink()


def _close_to_others(file: Path) -> None:
    with suppress(OSError):  # it may be somebody else's, who lends the tablet
        file.chmod(0o600)


def _lock_file(folder: Path):
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NONBLOCK", 0)
        return os.fdopen(os.open(folder / "tablet.lock", flags, 0o600), "r+b", buffering=0)
    except OSError:
        return None


def _take(file, until: float) -> bool:
    while True:
        try:
            lock_byte(file, 0)
        except (BlockingIOError, PermissionError):
            if time.monotonic() >= until:
                return False
            time.sleep(_PAUSE)
        except OSError:
            return False
        else:
            return True


def _give_back(file, held: bool) -> None:
    with suppress(OSError):
        if held:
            unlock_byte(file, 0)  # Windows leaves open when a lock goes that is only closed
    file.close()
