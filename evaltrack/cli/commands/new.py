"""The command that makes a season file."""

from pathlib import Path

from evaltrack.cli.asking import command, option, season_file
from evaltrack.cli.kinds import FILE, Words
from evaltrack.cli.telling import tell
from evaltrack.cli.working import contents, created
from evaltrack.intake.roster import LONGEST_NAME
from evaltrack.language import mark, tr

_NEW = """\b
Example:  evaltrack new lanterns.db --team "Kettle Bay Lanterns" --age-class 12U \\
              --roster roster.csv
"""


@command(epilog=_NEW)
@season_file
@option("--team", required=True, metavar="NAME", type=Words(mark("the team"), LONGEST_NAME))
@option("--age-class", required=True, metavar="CLASS", type=Words(mark("the age class"), LONGEST_NAME))
@option(
    "--roster", required=True, type=FILE, metavar="CSV", help="number,name,position[,birth_year][,status]"
)
@option("--skills", type=FILE, metavar="TOML", help="Your own skills instead of those shipped.")
@option("--drills", type=FILE, metavar="TOML", help="Your own drills instead of those shipped.")
def new(season_file: Path, team: str, age_class: str, roster: Path, skills: Path, drills: Path) -> None:
    """Make a new season file from a roster.

    The position in it is D, F or G, or D/F or F/D for one who plays both defence and forward: the share goes
    by the steps and the pressure that the one named first gets.
    """
    from evaltrack.words.season_life import keep_words

    with created(season_file, team, age_class, roster, skills, drills) as season:
        tell(tr("{name}: {what}", name=season_file, what=f"{season.team}, {contents(season)}"))
        tell(keep_words(season.life.retention()))
