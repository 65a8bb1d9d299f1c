"""The season of the invented team, made beside its place, so that under its name it is there whole or not."""

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from evaltrack.founding.placing import made_beside
from evaltrack.founding.season import found_season, shipped
from evaltrack.language import tr

DEMO_TEAM, DEMO_AGE_CLASS = "Kettle Bay Lanterns", "12U"
DEMO_FILE = "kettle-bay-lanterns-12u.db"


class Stage(NamedTuple):
    """What is done next, and the share of the work that is behind."""

    words: str
    share: float


def make_demo(target: Path) -> Iterator[Stage]:
    """Make the season file of the invented team, and yield each stage before it begins.

    Raises
    ------
    EvaltrackError : it cannot be made there, or something of its name is there already.
    """
    from evaltrack.intake.roster import read_roster
    from evaltrack.intake.tallies import read_tallies

    yield Stage(tr("The team and what is watched"), 0.0)
    with made_beside(target) as draft:
        players = read_roster(shipped("roster.csv"))
        with found_season(draft, DEMO_TEAM, DEMO_AGE_CLASS, players, invented=True) as season:
            yield Stage(tr("A season of tallies is read"), 0.6)
            catalogue = season.catalogue
            read = read_tallies(shipped("tallies.csv"), players, catalogue.skills(), catalogue.drills())
            yield Stage(_noted(len(read.tallies), len(read.practices)), 0.75)
            season.log.add_many(read.practices, read.tallies)
        yield Stage(tr("It is put in its place"), 0.95)


def _noted(tallies: int, practices: int) -> str:
    return tr("{tallies} tallies of {practices} practices are noted", tallies=tallies, practices=practices)
