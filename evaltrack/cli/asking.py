"""The command class that the commands share, and the arguments and options that several of them have."""

from functools import partial

import click

from evaltrack.cli.kinds import FILE, Day
from evaltrack.cli.shown_help import ShownArgument, ShownHelp, ShownOption
from evaltrack.cli.telling import printing
from evaltrack.errors import NotSavedError
from evaltrack.language import tr


class Command(ShownHelp, click.Command):
    """A command whose help is printed as everything else is, and that drops no option which is said twice."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the words of the command; asked for help, print it."""
        with printing():
            self._refuse_twice(ctx, args)
            return super().parse_args(ctx, args)

    def invoke(self, ctx: click.Context):
        """Run the command; where the season file did not take something, say which file that was."""
        try:
            return super().invoke(ctx)
        except NotSavedError as error:
            if (path := ctx.params.get("season_file")) is None:
                raise
            raise NotSavedError(tr("{name}: {what}", name=path, what=error)) from error

    def _refuse_twice(self, ctx: click.Context, args: list[str]) -> None:
        """Refuse an option that takes one value and has several: the last one would count without a word."""
        _, _, said = self.make_parser(ctx).parse_args(args=list(args))
        for one in said:
            if isinstance(one, click.Option) and not one.multiple and not one.is_flag:
                if said.count(one) > 1:
                    raise click.UsageError(
                        tr("{option} stands here twice; say it once.", option=one.opts[0]), ctx
                    )


command = partial(click.command, cls=Command)
option = partial(click.option, cls=ShownOption)
argument = partial(click.argument, cls=ShownArgument)

season_file = argument("season_file", metavar="SEASON.db", type=FILE)
one_player = option("--player", "number", metavar="NUMBER", help="This player only.")
one_skill = option("--skill", metavar="KEY", help="This skill only.")
one_form = option(
    "--format", "form", type=click.Choice(["table", "csv", "json"]), default="table", show_default=True
)
one_paper = option("--paper", type=click.Choice(["letter", "a4"]), default="letter", show_default=True)
dry_run = option("--dry-run", is_flag=True, help="Only say what would change.")
as_of = option("--as-of", type=Day(), metavar="DATE", help="Count up to and with this day.")
