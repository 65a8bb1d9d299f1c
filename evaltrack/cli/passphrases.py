"""A passphrase for a command: typed without echo, or from a file or a variable; never a word of the command.

What stands in a command is seen by every other program, and is kept by the shell.
"""

import os
import sys
from pathlib import Path

import click

from evaltrack.cli.asking import option
from evaltrack.cli.kinds import FILE
from evaltrack.device.ordinary_file import open_ordinary
from evaltrack.device.system_words import system_reason
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr

VARIABLE = "EVALTRACK_PASSPHRASE"
_LONGEST = 4096  # bytes

asked = option(
    "--passphrase", "wanted", is_flag=True, help="Ask for a passphrase, or take EVALTRACK_PASSPHRASE."
)
from_file = option(
    "--passphrase-file", type=FILE, metavar="FILE", help="Take the first line of a file as the passphrase."
)


def passphrase_for(wanted: bool, file: Path | None, new: bool = False) -> str | None:
    """Return the passphrase; None when none is wanted.

    Parameters
    ----------
    new : it is a new one, which is typed twice.

    Raises
    ------
    EvaltrackError : the file cannot be read, or nobody is there to be asked.
    """
    if file is not None:
        return _first_line(file)
    if not wanted:
        return None
    if (known := os.environ.get(VARIABLE)) is not None:
        return known
    if not sys.stdin or not sys.stdin.isatty():
        raise EvaltrackError(
            tr(
                "nobody can be asked for the passphrase here; put it into the variable {variable}, or "
                "name a file with --passphrase-file",
                variable=VARIABLE,
            )
        )
    again = tr("Repeat for confirmation:") if new else False
    return click.prompt(
        tr("Passphrase:"), prompt_suffix=" ", hide_input=True, confirmation_prompt=again, err=True
    )


def _first_line(file: Path) -> str:
    try:
        with open_ordinary(file) as stream:
            line = stream.readline(_LONGEST + 1)
    except (OSError, ValueError) as error:
        why = system_reason(error) or tr("its name cannot be one")
        raise EvaltrackError(tr('"{file}" cannot be read: {reason}', file=file, reason=why)) from error
    if len(line) > _LONGEST:
        raise EvaltrackError(tr('the first line of "{file}" is far too long for a passphrase', file=file))
    try:
        text = line.rstrip(b"\r\n").removeprefix(b"\xef\xbb\xbf").decode("utf-8")
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text:
        raise EvaltrackError(tr('the first line of "{file}" is no text; save it as UTF-8', file=file))
    return text
