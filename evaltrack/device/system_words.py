"""Why the system refused a file, in the user's language: it says so itself in English, and in many words."""

from evaltrack.language import mark, tr

# what systems say of what happens to coaches: a full stick, a folder that is not theirs, a name mistyped
USUAL = (
    mark("Permission denied"),
    mark("Operation not permitted"),
    mark("No such file or directory"),
    mark("File exists"),
    mark("Is a directory"),
    mark("Not a directory"),
    mark("No space left on device"),
    mark("Disk quota exceeded"),
    mark("Read-only file system"),
    mark("Input/output error"),
    mark("File name too long"),
    mark("Too many open files"),
    mark("Device or resource busy"),
    mark("Broken pipe"),
    mark("Bad file descriptor"),
    mark("this cannot be the name of a file"),  # said by `private_file`
)


def system_reason(error: Exception) -> str:
    """Return why the system refused, as it says it where that is unusual; empty when it gives no reason."""
    said = getattr(error, "strerror", None)
    return tr(said) if said else ""
