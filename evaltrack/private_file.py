"""Files that hold children's names: there whole or not at all, and readable by their owner only."""

import errno
import os
from contextlib import suppress
from pathlib import Path

_OWNER_ONLY = 0o600
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0)


def write_private(target: Path, content: bytes) -> None:
    """Write a file, or replace it, at once: a reader finds the old content or the new.

    It is written beside its place under a name of its own and is on disk before it takes its place. Its
    owner alone may read it, from the first byte on, even where an older file was open to all.

    Raises
    ------
    OSError : it cannot be written. What stood there stands as it was, and no draft is left.
    """
    draft = target.with_name(f".evaltrack-{os.urandom(8).hex()}.new")
    try:
        descriptor = os.open(draft, _NEW, _OWNER_ONLY)
    except ValueError as fault:  # a NUL, or a character that no file system takes
        raise OSError(errno.EINVAL, "this cannot be the name of a file") from fault
    try:
        with os.fdopen(descriptor, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        _put(draft, target)
    except BaseException:
        with suppress(OSError):
            draft.unlink()
        raise


def _put(draft: Path, target: Path) -> None:
    try:
        draft.replace(target)
    except ValueError as fault:
        raise OSError(errno.EINVAL, "this cannot be the name of a file") from fault
