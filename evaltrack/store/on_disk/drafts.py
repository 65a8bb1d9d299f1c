"""Files that are made beside their place, and what a program that was stopped leaves of them."""

import os
import re
import sys
from contextlib import suppress
from pathlib import Path

from evaltrack.rink.ident import new_id

BEFORE_VERSION = ".before-version-"  # in the name of the copy that is kept of an older file

_NAME_BYTES = 100  # of a draft's name at most, so that a long name leaves room for what comes after it
_SIDES = ("", "-wal", "-shm", "-journal")


def draft_beside(path: Path) -> Path:
    """Return a name beside a file that nobody else takes: two programs may be at it at once.

    It holds the number of this process, so that others know whether somebody is still at it.
    """
    return path.with_name(f"{_stem(path)}.{os.getpid()}-{new_id().hex}.new")


def remove(draft: Path) -> None:
    """Remove a draft and what SQLite made beside it."""
    for side in _SIDES:
        with suppress(OSError):
            draft.with_name(f"{draft.name}{side}").unlink(missing_ok=True)


def sweep(path: Path) -> None:
    """Remove the drafts of a file that stopped programs have left: they hold names of children."""
    left = re.compile(re.escape(_stem(path)) + r"\.(\d+)-[0-9a-f]{32}\.new")
    with suppress(OSError):
        for name in os.listdir(path.parent):
            found = left.fullmatch(name)
            if found and not is_alive(int(found[1])):
                remove(path.with_name(name))


def _stem(path: Path) -> str:
    return os.fsencode(path.name)[:_NAME_BYTES].decode(errors="ignore")


def is_alive(process: int) -> bool:
    """Say whether a process may still be at work."""
    if process == os.getpid():
        return True
    if sys.platform == "win32":
        return True  # asking there may end it: what is left stays until somebody removes it
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True
