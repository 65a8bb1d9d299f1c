"""All that goes to stdout and stderr: nothing that could garble a terminal gets through."""

import io
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress

import click

from evaltrack.device.system_words import system_reason
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.plain_text import printable

MOST_COMPLAINTS = 40


def tell(text: object, end: str = "\n") -> None:
    """Print on stdout what was asked for."""
    with printing():
        click.echo(printable(f"{text}{end}"), nl=False)


def warn(text: object) -> None:
    """Print on stderr what is wrong or worth knowing. That nobody can read it is no reason to stop."""
    with suppress(OSError):
        click.echo(printable(str(text)), err=True)


def say(what: str) -> None:
    """Show progress to somebody who waits at a terminal, and to nobody else."""
    if sys.stderr and sys.stderr.isatty():
        with suppress(OSError):
            click.secho(printable(what), err=True, dim=True)


def refuse(error: EvaltrackError) -> None:
    """Print one complaint a line on stderr; a long list is cut, and says by how much."""
    lines = str(error).split("\n")
    for line in lines[:MOST_COMPLAINTS]:
        warn(line)
    if len(lines) > MOST_COMPLAINTS:
        warn(tr("... and {number} more", number=len(lines) - MOST_COMPLAINTS))


def correct(error: click.ClickException) -> None:
    """Print on stderr what is wrong with the words of a command, and how it is used."""
    said = io.StringIO()
    error.show(said)
    warn(said.getvalue().removesuffix("\n"))


@contextmanager
def printing() -> Iterator[None]:
    """Turn a failure to print into a sentence. A pipe that was closed is none: its reader has enough."""
    try:
        yield
    except BrokenPipeError:
        raise click.exceptions.Exit(1) from None
    except OSError as error:
        raise EvaltrackError(
            tr("the output cannot be written: {reason}", reason=system_reason(error))
        ) from error


@contextmanager
def streams_for_any_text() -> Iterator[None]:
    """Run with a stdout that takes every letter: what its encoding lacks goes out as an escape.

    What could not be written is dropped, or the interpreter would try again at its end, and complain.
    """
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(errors="backslashreplace")
    try:
        yield
    finally:
        for stream in filter(None, (sys.stdout, sys.stderr)):
            try:
                stream.flush()
            except OSError:
                _turn_away(stream)


def _turn_away(stream) -> None:
    with suppress(OSError), open(os.devnull, "wb") as nowhere:
        os.dup2(nowhere.fileno(), stream.fileno())
