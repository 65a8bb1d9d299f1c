"""The arguments and options that several commands share."""

import click

from evaltrack.cli.kinds import FILE, Day

season_file = click.argument("season_file", metavar="SEASON.db", type=FILE)
one_player = click.option("--player", "number", metavar="NUMBER", help="This player only.")
one_skill = click.option("--skill", metavar="KEY", help="This skill only.")
one_form = click.option(
    "--format", "form", type=click.Choice(["table", "csv", "json"]), default="table", show_default=True
)
one_paper = click.option("--paper", type=click.Choice(["letter", "a4"]), default="letter", show_default=True)
as_of = click.option("--as-of", type=Day(), metavar="DATE", help="Count up to and with this day.")
