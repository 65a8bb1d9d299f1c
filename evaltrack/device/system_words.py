"""Why the system refused a file, in the user's language: it says so itself in English, and in many words."""

import errno

from evaltrack.language import mark, tr

A_FOLDER = mark("Is a directory")
# what systems say of what happens to coaches: a full stick, a folder that is not theirs, a name mistyped
USUAL = (
    mark("Permission denied"),
    mark("Operation not permitted"),
    mark("No such file or directory"),
    mark("File exists"),
    A_FOLDER,
    mark("Not a directory"),
    mark("Read-only file system"),
    mark("Input/output error"),
    mark("File name too long"),
    mark("Too many open files"),
    mark("Device or resource busy"),
    mark("Broken pipe"),
    mark("Bad file descriptor"),
    mark("this cannot be the name of a file"),  # said by `private_file`
)

NOT_ORDINARY = mark("it is no ordinary file; copy what is in it to a file first")  # said by `ordinary_file`
FULL = mark("the disk is full; make room on it")  # whoever wrote, the system or SQLite
_FULL_ERRORS = {errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)}
_FULL_IN_SQLITE = ("SQLITE_FULL", "SQLITE_IOERR_SHM")  # the second: no room for the index of the journal


def is_full(error: BaseException | None) -> bool:
    """Say whether a full disk is behind an error, or behind those that it was made of."""
    while error is not None:
        name = getattr(error, "sqlite_errorname", None) or ""
        if getattr(error, "errno", None) in _FULL_ERRORS or name.startswith(_FULL_IN_SQLITE):
            return True
        error = error.__cause__
    return False


def system_reason(error: Exception) -> str:
    """Return why the system refused, as it says it where that is unusual; empty when it gives no reason."""
    if is_full(error):
        return tr(FULL)
    said = getattr(error, "strerror", None)
    return tr(said) if said else ""
