"""Making a season file beside its place, so that under its name it is there whole or not at all."""

import os
import tempfile
from pathlib import Path

from evaltrack.errors import EvaltrackError


def folder_beside(target: Path) -> Path:
    """Return a new folder beside a file that is to be made; its maker removes it.

    Raises
    ------
    EvaltrackError : nothing can be written there.
    """
    from evaltrack.intake.saving import make_folder

    try:
        return Path(tempfile.mkdtemp(prefix=".making-", dir=make_folder(target.parent)))
    except OSError as error:
        why = error.strerror or "no reason given"
        raise EvaltrackError(f'nothing can be written in the folder "{target.parent}": {why}') from error


def put(draft: Path, target: Path) -> None:
    """Give a whole draft its name, in the place of nothing else.

    Raises
    ------
    EvaltrackError : something of its name is there already, or it cannot be made.
    """
    if os.path.lexists(target):
        raise EvaltrackError(f'"{target}" is there already; open it, or move it elsewhere first')
    try:
        draft.rename(target)
    except OSError as error:
        raise EvaltrackError(f'"{target}" cannot be made: {error.strerror or "no reason given"}') from error
