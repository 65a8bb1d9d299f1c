"""The command that lends a season to a helper's tablet."""

from datetime import date, datetime, timedelta
from pathlib import Path

import click

from evaltrack.cli.asking import command, option, season_file
from evaltrack.cli.kinds import FILE, Day
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened
from evaltrack.language import tr
from evaltrack.rink.loan import USUAL_DAYS, LentNames

_EXAMPLE = """\b
Example:  evaltrack lend lanterns.db --out stick/bench-two.db
          evaltrack lend lanterns.db --out stick/bench-two.db --names none --until 2026-12-14
"""


@command(epilog=_EXAMPLE)
@season_file
@option("--out", "target", type=FILE, required=True, metavar="FILE", help="Write the loan here.")
@option(
    "--names",
    type=click.Choice([one.value for one in LentNames]),
    default=LentNames.FIRST.value,
    show_default=True,
    help="First names beside the numbers, or none.",
)
@option(
    "--until",
    type=Day(),
    metavar="DATE",
    help=f"The last day on which it takes tallies; without it {USUAL_DAYS} days from now.",
)
def lend(season_file: Path, target: Path, names: str, until: date | None) -> None:
    """Write a season file for a helper's tablet: for the boards alone, and until a day.

    It has the numbers, first names if wanted, positions, skills and drills, and the practice that runs. It
    has no surname, no earlier tally, no page of a family, comment, meeting or plan. The helper opens it in
    the app, tallies, and gives the tallies back as a pack, which `join` takes in.
    """
    from evaltrack.device.backup_places import note_elsewhere
    from evaltrack.store.lending import lend as lend_season
    from evaltrack.words.lending import lent_words, take_back_words

    last_day = until or date.today() + timedelta(USUAL_DAYS)
    with opened(season_file, of_children=True) as season:
        say(tr("lending ..."))
        loan, ident = lend_season(season, target, LentNames(names), last_day), season.ident
    note_elsewhere(ident, target.absolute(), False, datetime.now())
    tell(lent_words(target, loan))
    tell(take_back_words())
