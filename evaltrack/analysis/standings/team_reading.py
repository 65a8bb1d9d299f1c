"""What can be said of the team of a season file, with the targets that its skills had."""

from datetime import date

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.standings import positions_of
from evaltrack.analysis.standings.team import team_skills
from evaltrack.analysis.standings.team_skill import TeamSkill
from evaltrack.rink.targets import Goal, goal_of


def read_team(season, as_of: date | None = None) -> tuple[list[TeamSkill], list[Goal]]:
    """Return what can be said of the team in each skill, in the order of the catalogue, and their targets.

    How many players are at a target is told of the first and of today's, where that is another one.
    """
    cells = cells_frame(season.log.cells(as_of))
    if cells.empty:
        return [], []
    changes, first = season.catalogue_changes.all(), cells.groupby("skill")["held_on"].min()
    skills = [one for one in season.catalogue.skills() if one.key in first.index]
    goals = {one.key: goal_of(one, changes, first[one.key].date()) for one in skills}
    fits = fit_season(cells, positions_of(season.people.everyone()))
    targets = {key: tuple(dict.fromkeys((goal.first, goal.today))) for key, goal in goals.items()}
    found = team_skills(cells, fits, season.people.players(), targets)
    return found, [goals[one.skill] for one in found]
