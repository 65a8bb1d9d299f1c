"""The group of commands, how it refuses, and the way into the app."""

from pathlib import Path

import click

from evaltrack import __version__
from evaltrack.cli.asking import season_file
from evaltrack.cli.working import opened
from evaltrack.errors import EvaltrackError

MOST_COMPLAINTS = 40


class Refusal(click.ClickException):
    """An error of ours on its way out: its own sentences, no prefix, exit 1."""

    def show(self, file=None) -> None:
        """Print one complaint a line on stderr; a long list is cut, and says by how much."""
        lines = self.message.split("\n")
        for line in lines[:MOST_COMPLAINTS]:
            click.echo(line, file=file, err=True)
        if len(lines) > MOST_COMPLAINTS:
            click.echo(f"... and {len(lines) - MOST_COMPLAINTS} more", file=file, err=True)


class Commands(click.Group):
    """A group whose commands may raise EvaltrackError. They are listed in the order of a season."""

    def invoke(self, ctx: click.Context):
        """Run the command; what the user can put right leaves as a Refusal."""
        try:
            return super().invoke(ctx)
        except EvaltrackError as error:
            raise Refusal(str(error)) from error

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names in the order in which they were added."""
        return list(self.commands)


@click.group(cls=Commands, invoke_without_command=True, epilog="\b\nExample:  evaltrack demo")
@click.version_option(__version__, message="%(prog)s %(version)s")
@click.pass_context
def commands(ctx: click.Context) -> None:
    """Track how young hockey players come on, from the bench. Without a command the app opens."""
    if ctx.invoked_subcommand is None:
        ctx.obj(None)


@commands.command("open", epilog="\b\nExample:  evaltrack open lanterns.db")
@season_file
@click.pass_context
def open_(ctx: click.Context, season_file: Path) -> None:
    """Open the app on a season file."""
    opened(season_file).close()  # a wrong file is refused here, before there is a window
    ctx.obj(season_file)
