"""The command that saves charts as pictures."""

from pathlib import Path

import click

from evaltrack.cli.asking import as_of, command, one_player, one_skill, option, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.telling import tell
from evaltrack.cli.working import asked_for, opened, refuse_unknown_skill, season_seen, worked_out
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.paper.pictures import Charts, Picture, player_pictures, save_pictures, team_pictures
from evaltrack.words.date_axis import axis_of
from evaltrack.words.wording import counted

_CHARTS = """\b
Example:  evaltrack charts lanterns.db --out charts
          evaltrack charts lanterns.db --out charts --player 14 --form png
"""


@command(epilog=_CHARTS)
@season_file
@option("--out", "folder", required=True, type=FILE, metavar="DIR", help="Where the pictures go.")
@one_player
@one_skill
@as_of
@option("--form", type=click.Choice(["png", "svg"]), default="svg", show_default=True)
def charts(season_file: Path, folder: Path, number: str | None, skill: str | None, as_of, form: str) -> None:
    """Save charts as pictures: the team's, or with --player those of one player, who alone is named there.

    Of the team: its share, its targets and what each step costs, skill by skill; attendance; tallies.
    """
    with opened(season_file) as season:
        refuse_unknown_skill(season, skill)
        pictures = _pictures(season, number, skill, as_of, form)
        saved = save_pictures(pictures, folder)
    if not saved:
        raise EvaltrackError(tr("there is nothing to draw yet: no picture was saved"))
    tell(tr("{name}: {what}", name=folder, what=counted(len(saved), "picture")))


def _pictures(season, number: str | None, skill: str | None, as_of, form: str) -> list[Picture]:
    if number is None:
        return list(team_pictures(season_seen(season, as_of), form, skill=skill))
    (player,) = asked_for(season, number)
    names = {one.key: one.name for one in season.catalogue.skills() if skill in (None, one.key)}
    standings = worked_out(season, as_of)
    own = [one for one in standings if one.player == player.number]
    axis = axis_of(standings)
    return list(player_pictures(Charts(player, own, axis), names, form)) if axis else []
