"""The long work at the end of a season. It runs in a process beside the app, and imports no Kivy."""

from datetime import date
from pathlib import Path

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
