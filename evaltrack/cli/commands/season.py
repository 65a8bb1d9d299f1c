"""The command that tells the season as a whole."""

from datetime import date
from pathlib import Path

from evaltrack.cli.asking import as_of, command, one_form, season_file
from evaltrack.cli.season_days import tell_strays
from evaltrack.cli.telling import tell
from evaltrack.cli.working import opened, season_seen
from evaltrack.paper.tables import season as season_table


@command(epilog="\b\nExample:  evaltrack season lanterns.db")
@season_file
@as_of
@one_form
def season(season_file: Path, as_of: date | None, form: str) -> None:
    """Tell how the season goes: the team in each skill, its targets, the steps, attendance, tallies.

    Every figure of the team comes with where it very likely is. Players are in order of number.
    """
    with opened(season_file) as file:
        view = season_seen(file, as_of)
        tell_strays(file)
    tell(getattr(season_table, f"as_{form}")(view), end="")
