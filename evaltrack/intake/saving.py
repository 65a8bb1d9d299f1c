"""Files and folders that a command makes: whole and private, or refused in a sentence."""

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from evaltrack.device.ordinary_file import open_ordinary
from evaltrack.device.system_words import system_reason
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.private_file import write_private

_DATABASE = b"SQLite format 3\x00"


def save(target: Path, content: bytes) -> None:
    """Write a file that only its owner may read, or replace it; it is there whole or not at all.

    Raises
    ------
    EvaltrackError : it cannot be written, or a season file, a pipe or a device has its name; what was there
        is as it was.
    """
    _refuse_other_kind(target)
    _refuse_season(target)
    try:
        write_private(target, content)
    except OSError as error:
        hint = tr("; is it open in another program?") if isinstance(error, PermissionError) else ""
        raise EvaltrackError(
            tr('"{target}" cannot be written: {why}{hint}', target=target, why=_why(error), hint=hint)
        ) from error


def _refuse_other_kind(target: Path) -> None:
    """Keep pipes and devices: a file would be put in the place of /dev/null."""
    with suppress(OSError, ValueError):
        kind = target.stat().st_mode
        if not (stat.S_ISREG(kind) or stat.S_ISDIR(kind)):
            raise EvaltrackError(
                tr('"{target}" is no ordinary file, and is not replaced; name another file', target=target)
            )


def _refuse_season(target: Path) -> None:
    """Keep a season file, which may be all there is of a season, from a slip in a name."""
    with suppress(OSError, ValueError), open_ordinary(target) as file:
        if file.read(len(_DATABASE)) == _DATABASE:
            raise EvaltrackError(
                tr('"{target}" is a season file, and is not replaced; name another file', target=target)
            )


def make_folder(folder: str | os.PathLike) -> Path:
    """Make a folder, and those above it, when it is not there, and return it.

    Raises
    ------
    EvaltrackError : it cannot be made.
    """
    folder = Path(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise EvaltrackError(
            tr('the folder "{folder}" cannot be made: a file has its name', folder=folder)
        ) from None
    except (OSError, ValueError) as error:  # a ValueError: no file system takes the name
        raise EvaltrackError(
            tr('the folder "{folder}" cannot be made: {why}', folder=folder, why=_why(error))
        ) from error
    return folder


@contextmanager
def new_folder(folder: str | os.PathLike) -> Iterator[Path]:
    """Make a folder as `make_folder` does, and run what fills it; if that is refused it is not left empty."""
    folder = Path(folder)
    made = [one for one in (folder, *folder.parents) if not os.path.lexists(one)]
    try:
        yield make_folder(folder)
    except EvaltrackError:
        for one in made:
            with suppress(OSError):  # something is in it
                one.rmdir()
        raise


def _why(error: OSError | ValueError) -> str:
    return system_reason(error) or tr("this cannot be its name")
