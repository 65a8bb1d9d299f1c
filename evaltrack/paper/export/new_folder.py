"""A folder of files that is there whole or not at all, for its owner alone."""

import os
import shutil
from collections.abc import Mapping
from pathlib import Path

from evaltrack.device.system_words import system_reason
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.private_file import write_private


def write_folder(folder: Path, files: Mapping[str, str | bytes]) -> None:
    """Write files into a new or empty folder, all of them or none.

    Raises
    ------
    EvaltrackError : something is in the folder already, or it cannot be written.
    """
    if folder.is_dir() and any(folder.iterdir()):
        raise EvaltrackError(
            tr('"{folder}" has something in it already; name a new folder, or an empty one', folder=folder)
        )
    if os.path.lexists(folder) and not folder.is_dir():
        raise EvaltrackError(tr('"{folder}" is a file; name a new folder', folder=folder))
    draft = folder.with_name(f".evaltrack-{os.urandom(8).hex()}.new")
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        draft.mkdir(mode=0o700)
        for name, content in files.items():
            write_private(draft / name, content if isinstance(content, bytes) else content.encode("utf-8"))
        if folder.is_dir():
            folder.rmdir()
        draft.rename(folder)
    except (OSError, ValueError) as error:
        why = system_reason(error) or tr("this cannot be its name")
        raise EvaltrackError(
            tr('"{folder}" cannot be written: {reason}', folder=folder, reason=why)
        ) from error
    finally:
        shutil.rmtree(draft, ignore_errors=True)
