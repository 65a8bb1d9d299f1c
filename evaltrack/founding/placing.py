"""Making a season file beside its place, so that under its name it is there whole or not at all."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from evaltrack.device.system_words import FULL, is_full, system_reason
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr


@contextmanager
def made_beside(target: Path) -> Iterator[Path]:
    """Let a file be made under a name of its own, and give it its name in the end, in the place of nothing.

    A sentence that names the one that is being made names the other: nobody has seen the first.

    Raises
    ------
    EvaltrackError : nothing can be written there, or something of its name is there already.
    """
    from evaltrack.intake.saving import new_folder

    with new_folder(target.parent):
        folder = _folder_beside(target)
        draft = folder / target.name
        try:
            yield draft
            _put(draft, target)
        except EvaltrackError as error:
            why = tr(FULL) if is_full(error) else ""
            told = tr('"{target}" cannot be made: {why}', target=target, why=why) if why else str(error)
            raise EvaltrackError(told.replace(str(draft), str(target))) from error
        finally:
            shutil.rmtree(folder, ignore_errors=True)


def _folder_beside(target: Path) -> Path:
    try:
        return Path(tempfile.mkdtemp(prefix=".making-", dir=target.parent))
    except OSError as error:
        why = system_reason(error) or tr("no reason given")
        raise EvaltrackError(
            tr('nothing can be written in the folder "{folder}": {why}', folder=target.parent, why=why)
        ) from error


def _put(draft: Path, target: Path) -> None:
    if os.path.lexists(target):
        raise EvaltrackError(
            tr('"{target}" is there already; open it, or move it elsewhere first', target=target)
        )
    try:
        draft.rename(target)
    except OSError as error:
        why = system_reason(error) or tr("no reason given")
        raise EvaltrackError(tr('"{target}" cannot be made: {why}', target=target, why=why)) from error
