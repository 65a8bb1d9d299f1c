"""Files that somebody names, opened so that nothing but a file is read."""

import os
import stat
from errno import EINVAL, EISDIR
from pathlib import Path
from typing import BinaryIO

from evaltrack.device.system_words import A_FOLDER, NOT_ORDINARY

_LOOK = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


def open_ordinary(path: Path) -> BinaryIO:
    """Open a file to be read.

    Raises
    ------
    OSError : it cannot be read, or it is none: a pipe would be waited for, and a device may have no end.
    ValueError : no file can have its name.
    """
    descriptor = os.open(path, _LOOK)
    kind = os.fstat(descriptor).st_mode
    if stat.S_ISREG(kind):
        return os.fdopen(descriptor, "rb")
    os.close(descriptor)
    if stat.S_ISDIR(kind):
        raise IsADirectoryError(EISDIR, A_FOLDER)
    raise OSError(EINVAL, NOT_ORDINARY)
