"""The long work at the end of a season. It runs in a process beside the app, and imports no Kivy."""

from datetime import date
from pathlib import Path
from uuid import UUID

from evaltrack.language import tr


def copies_for_parents(path: Path, folder: Path) -> str:
    """Write what is kept of each child into a folder, and return a sentence that says where."""
    from evaltrack.analysis.standings.standings import read_standings
    from evaltrack.paper.export.for_parents import write_for_parents
    from evaltrack.store.opening import open_season
    from evaltrack.words.wording import counted

    number, place = 1, folder
    while place.exists():
        number += 1
        place = folder.with_name(f"{folder.name}-{number}")
    with open_season(path) as season:
        count = write_for_parents(season, read_standings(season, left=True), place)
    return tr(
        "Copies for the parents of {players} are in {folder}."
        " Give each family its own, and delete them then.",
        players=counted(count, "player"),
        folder=place,
    )


def would_close(path: Path, tablet: str) -> tuple[list[str], list[str]]:
    """Return what closing a season would take away and what would stay; and which files hold names."""
    from evaltrack.founding.closing import close_season
    from evaltrack.words import closing as words

    closing = close_season(path, date.today(), tablet, rehearse=True)
    return [*words.before_lines(closing), tr(words.FOR_GOOD)], words.asked_lines(closing, True)


def close(path: Path, tablet: str) -> list[str]:
    """Close a season, and return what went, and whom to ask."""
    from evaltrack.founding.closing import close_season
    from evaltrack.words import closing as words

    closing = close_season(path, date.today(), tablet)
    return [*words.after_lines(closing), *words.asked_lines(closing, False)]


def season_after(season) -> str:
    """Return what the season after an open one is called: ``2026/27`` of one that began in 2025."""
    from evaltrack.rink.days import season_span
    from evaltrack.rink.practice import local_day

    span = season_span(one.held_on for one in season.practices.all())
    first = span.first if span else local_day(season.created_at) or date.today()
    return f"{first.year + 1}/{(first.year + 2) % 100:02}"


def next_season(
    path: Path, place: tuple[Path, str], chosen: tuple[frozenset[UUID], str, bool], tablet: str
) -> Path:
    """Make the file of the season after, and return its path.

    Parameters
    ----------
    place : the folder, and what the file is called without its ending; a name that is taken gets a number.
    chosen : who does not come along, the age class, and whether last standings come as comments.
    """
    from evaltrack.analysis.standings.standings import read_standings
    from evaltrack.device.season_places import free_place
    from evaltrack.founding.next_season import NextSeason, begin_next_season
    from evaltrack.intake.saving import make_folder
    from evaltrack.store.opening import open_season
    from evaltrack.words.last_season import comments_of_season

    leaving, age_class, comments = chosen
    target = free_place(make_folder(place[0]), place[1])
    with open_season(path) as season:
        noted = comments_of_season(season, read_standings(season)) if comments else {}
        wanted = NextSeason(season.team.name, age_class, leaving, noted)
        begin_next_season(season, target, wanted, tablet)
    return target
