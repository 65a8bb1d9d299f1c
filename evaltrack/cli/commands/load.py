"""The command that takes tallies in from a file."""

from pathlib import Path

from evaltrack.cli.asking import argument, command, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.telling import tell
from evaltrack.cli.working import opened, taken_in


@command(epilog="\b\nExample:  evaltrack load lanterns.db tallies.csv")
@season_file
@argument("tallies", metavar="TALLIES.csv", type=FILE)
def load(season_file: Path, tallies: Path) -> None:
    """Take in tallies from a CSV file: all of it or, when a line is wrong, nothing.

    Its columns are date,drill,step,skill,player,outcome[,pressure][,observer][,time][,times]: a line is
    one try, or as many as `times` says, and none when that is empty. Loading the same file again adds
    nothing.
    """
    with opened(season_file, of_children=True) as season:
        tell(taken_in(season, tallies))
