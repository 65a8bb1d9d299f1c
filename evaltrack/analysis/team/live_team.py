"""The team while a season file grows, from the very fits that the standings at hand were made of."""

from pathlib import Path

from evaltrack.analysis.standings.live import live_fits
from evaltrack.analysis.team.course import TeamCourse
from evaltrack.analysis.team.courses import courses_of
from evaltrack.analysis.team.season_view import SeasonView, season_view
from evaltrack.store.opening import open_season


def read_live_course(path: Path, skill: str) -> TeamCourse | None:
    """Return what can be said of the team in a skill; None where nobody in it has a try."""
    with open_season(path) as season:
        found, _ = courses_of(season, *live_fits(season), skill)
    return next(iter(found), None)


def read_live_season(path: Path) -> SeasonView:
    """Return the season of a season file as a whole."""
    with open_season(path) as season:
        return season_view(season, *courses_of(season, *live_fits(season)))
