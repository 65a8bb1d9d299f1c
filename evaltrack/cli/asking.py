"""The command class that the commands share, and the arguments and options that several of them have."""

from functools import partial

import click

from evaltrack.cli.kinds import FILE, Day
from evaltrack.cli.telling import printing


class Command(click.Command):
    """A command whose help is printed as everything else is, and that drops no option which is said twice."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the words of the command; asked for help, print it."""
        with printing():
            self._refuse_twice(ctx, args)
            return super().parse_args(ctx, args)

    def _refuse_twice(self, ctx: click.Context, args: list[str]) -> None:
        """Refuse an option that takes one value and has several: the last one would count without a word."""
        _, _, said = self.make_parser(ctx).parse_args(args=list(args))
        for option in said:
            if isinstance(option, click.Option) and not option.multiple and not option.is_flag:
                if said.count(option) > 1:
                    raise click.UsageError(f"{option.opts[0]} stands here twice; say it once.", ctx)


command = partial(click.command, cls=Command)

season_file = click.argument("season_file", metavar="SEASON.db", type=FILE)
one_player = click.option("--player", "number", metavar="NUMBER", help="This player only.")
one_skill = click.option("--skill", metavar="KEY", help="This skill only.")
one_form = click.option(
    "--format", "form", type=click.Choice(["table", "csv", "json"]), default="table", show_default=True
)
one_paper = click.option("--paper", type=click.Choice(["letter", "a4"]), default="letter", show_default=True)
dry_run = click.option("--dry-run", is_flag=True, help="Only say what would change.")
as_of = click.option("--as-of", type=Day(), metavar="DATE", help="Count up to and with this day.")
