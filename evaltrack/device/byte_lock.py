"""A lock of the operating system on one byte of a file, which need not be there to be locked.

It ends with the process, however that ends. Who cannot have it gets BlockingIOError or PermissionError, at
once; where nothing can be locked, another OSError. On POSIX the lock belongs to the process: it goes as soon
as any handle on the file is closed in it, and a fork does not inherit it.
"""

import sys
from typing import IO

if sys.platform == "win32":
    import msvcrt

    def lock_byte(file: IO, byte: int) -> None:
        """Lock a byte of an open file; BlockingIOError or PermissionError while another process has it."""
        file.seek(byte)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)

    def unlock_byte(file: IO, byte: int) -> None:
        """Unlock a byte that this process has locked."""
        file.seek(byte)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)
else:
    import fcntl

    def lock_byte(file: IO, byte: int) -> None:
        """Lock a byte of an open file; BlockingIOError or PermissionError while another process has it."""
        fcntl.lockf(file, fcntl.LOCK_EX | fcntl.LOCK_NB, 1, byte)

    def unlock_byte(file: IO, byte: int) -> None:
        """Unlock a byte that this process has locked."""
        fcntl.lockf(file, fcntl.LOCK_UN, 1, byte)
