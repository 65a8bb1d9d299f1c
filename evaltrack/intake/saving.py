"""Files and folders that a command makes: whole and private, or refused in a sentence."""

import os
from pathlib import Path

from evaltrack.errors import EvaltrackError
from evaltrack.private_file import write_private


def save(target: Path, content: bytes) -> None:
    """Write a file that only its owner may read, or replace it; it is there whole or not at all.

    Raises
    ------
    EvaltrackError : it cannot be written; what was there is as it was.
    """
    try:
        write_private(target, content)
    except OSError as error:
        hint = "; is it open in another program?" if isinstance(error, PermissionError) else ""
        raise EvaltrackError(f'"{target}" cannot be written: {_why(error)}{hint}') from error


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
        raise EvaltrackError(f'the folder "{folder}" cannot be made: a file has its name') from None
    except (OSError, ValueError) as error:  # a ValueError: no file system takes the name
        raise EvaltrackError(f'the folder "{folder}" cannot be made: {_why(error)}') from error
    return folder


def _why(error: OSError | ValueError) -> str:
    return getattr(error, "strerror", None) or "this cannot be its name"
