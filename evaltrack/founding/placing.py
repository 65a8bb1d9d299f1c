"""Making a season file beside its place, so that under its name it is there whole or not at all."""

import os
import tempfile
from pathlib import Path

from evaltrack.device.system_words import system_reason
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr


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
        why = system_reason(error) or tr("no reason given")
        raise EvaltrackError(
            tr('nothing can be written in the folder "{folder}": {why}', folder=target.parent, why=why)
        ) from error


def put(draft: Path, target: Path) -> None:
    """Give a whole draft its name, in the place of nothing else.

    Raises
    ------
    EvaltrackError : something of its name is there already, or it cannot be made.
    """
    if os.path.lexists(target):
        raise EvaltrackError(
            tr('"{target}" is there already; open it, or move it elsewhere first', target=target)
        )
    try:
        draft.rename(target)
    except OSError as error:
        why = system_reason(error) or tr("no reason given")
        raise EvaltrackError(tr('"{target}" cannot be made: {why}', target=target, why=why)) from error
