"""The arguments and options that several commands share."""

import click

from evaltrack.cli.kinds import FILE, Day

season_file = click.argument("season_file", metavar="SEASON.db", type=FILE)
one_player = click.option("--player", "number", metavar="NUMBER", help="This player only.")
as_of = click.option("--as-of", type=Day(), metavar="DATE", help="Count up to and with this day.")
