"""The group of commands, and how it refuses."""

import sys
from typing import NoReturn

import click

from evaltrack import __version__
from evaltrack.cli.asking import Command, option
from evaltrack.cli.kinds import LanguageTag
from evaltrack.cli.shown_help import ShownHelp, ShownOption, ask_for, in_language_here
from evaltrack.cli.telling import correct, printing, refuse, streams_for_any_text, warn
from evaltrack.errors import EvaltrackError
from evaltrack.language import Language, tr


class Commands(ShownHelp, click.Group):
    """A group whose commands may raise EvaltrackError. They are listed in the order of a season."""

    command_class = Command

    def main(self, *words, **extra) -> NoReturn:
        """Run a command line and leave with its exit code, whatever comes: what is wrong is told plainly."""
        with streams_for_any_text(), in_language_here():
            code = self._code(*words, **extra | {"standalone_mode": False})
        sys.exit(code)

    def _code(self, *words, **extra) -> int:
        try:
            return super().main(*words, **extra) or 0
        except EvaltrackError as error:
            refuse(error)
        except click.ClickException as error:
            correct(error)
            return error.exit_code
        except click.Abort:
            warn(tr("stopped"))
        return 1

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the words before the command; asked for help, print it."""
        with printing():
            return super().parse_args(ctx, args)

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names in the order in which they were added."""
        return list(self.commands)


def _speak(_ctx: click.Context, _param: click.Parameter, wanted: Language | None) -> None:
    if wanted:
        ask_for(wanted)


@click.group(cls=Commands, invoke_without_command=True, epilog="\b\nExample:  evaltrack demo")
@option(
    "--language",
    type=LanguageTag(),
    metavar="TAG",
    is_eager=True,  # before --help
    expose_value=False,
    callback=_speak,
    help="Tell it in this language: en, fr or fr-FR; else in that of the tablet or the system.",
)
@click.version_option(
    __version__, message="%(prog)s %(version)s", cls=ShownOption, help="Show the version and exit."
)
@click.pass_context
def commands(ctx: click.Context) -> None:
    """Track how young hockey players come on, from the bench. Without a command the app opens."""
    if ctx.invoked_subcommand is None:
        ctx.obj(None)
