"""The command that plans the next practice."""

from pathlib import Path

import click

from evaltrack.cli.asking import command, season_file
from evaltrack.cli.kinds import FILE, Band, Numbers
from evaltrack.cli.telling import say, tell, warn
from evaltrack.cli.working import opened

# as the choices of `rink.plan` and `rink.practice` are, which no other command waits for
GROUPS, SURFACES, BAND = ("need", "mixed", "alike"), ("full", "half", "cross"), "6-8"


@command(epilog="\b\nExample:  evaltrack plan lanterns.db --minutes 50 --stations 3 --here 2,4,8,10,11,13")
@season_file
@click.option("--minutes", type=click.IntRange(10, 240), default=60, show_default=True, help="The ice time.")
@click.option("--stations", type=click.IntRange(1, 12), default=3, show_default=True)
@click.option("--coaches", type=click.IntRange(0, 30), default=3, show_default=True)
@click.option("--surface", type=click.Choice(SURFACES), default=SURFACES[0], show_default=True)
@click.option("--here", type=Numbers(), metavar="NUMBERS", help="Who comes, as 2,4,8; else all not away.")
@click.option("--groups", type=click.Choice(GROUPS), default=GROUPS[0], show_default=True)
@click.option("--wishes", type=FILE, metavar="CSV", help="wish,player,other: together or apart.")
@click.option(
    "--band",
    type=Band(),
    default=BAND,
    show_default=True,
    help="Of 10 tries in a step so many are to come off.",
)
@click.option("--format", "form", type=click.Choice(["table", "json"]), default="table", show_default=True)
def plan(season_file: Path, wishes: Path | None, form: str, surface: str, groups: str, **asked) -> None:
    """Plan the next practice: what to train, in which step and groups, for how long, whom to watch."""
    from evaltrack.analysis.planning.planner import read_plan
    from evaltrack.paper.tables.plan import as_json, as_table
    from evaltrack.rink.plan import Asked, Grouping
    from evaltrack.rink.practice import Surface
    from evaltrack.words.plan_remarks import remark_words
    from evaltrack.words.planning import plan_names

    with opened(season_file) as season:
        kinds = {"surface": Surface(surface), "grouping": Grouping(groups), "wishes": _wishes(wishes, season)}
        say("working out the plan ...")
        found = read_plan(season, Asked(**asked, **kinds))
        names = plan_names(season.catalogue.skills(), season.catalogue.drills())
        players = {player.number: player.name for player in season.people.players()}
    if form == "table":
        tell(as_table(found, names, players), end="")
        return
    for remark in found.remarks:
        warn(remark_words(*remark))
    tell(as_json(found, names), end="")


def _wishes(path: Path | None, season) -> tuple:
    from evaltrack.intake.wishes import read_wishes

    roster = [player.number for player in season.people.players()]
    return tuple(read_wishes(path, roster)) if path else ()
