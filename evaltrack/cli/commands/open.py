"""The command that opens the app on a season file."""

from pathlib import Path

import click

from evaltrack.cli.asking import command, season_file
from evaltrack.cli.working import opened


@command("open", epilog="\b\nExample:  evaltrack open lanterns.db")
@season_file
@click.pass_context
def open_(ctx: click.Context, season_file: Path) -> None:
    """Open the app on a season file."""
    opened(season_file, loan=True).close()  # a wrong file is refused here, before there is a window
    ctx.obj(season_file)
