"""The command that prints who has not been watched enough."""

from datetime import date
from pathlib import Path

from evaltrack.cli.asking import as_of, command, one_form, one_player, one_skill, season_file
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import asked_for, opened, refuse_unknown_skill
from evaltrack.language import tr
from evaltrack.paper.tables import coverage as coverage_table
from evaltrack.words.coverage import NOBODY


@command(epilog="\b\nExample:  evaltrack coverage lanterns.db --skill gap_at_line")
@season_file
@one_skill
@one_player
@as_of
@one_form
def coverage(season_file: Path, skill: str | None, number: str | None, as_of: date | None, form: str) -> None:
    """Print who has not been watched enough, seen least first, and how much is known of each skill."""
    from evaltrack.analysis.standings.coverage import read_coverage

    with opened(season_file, of_children=True) as season:
        wanted = {player.number for player in asked_for(season, number)}
        refuse_unknown_skill(season, skill)
        say(tr("working out what is known ..."))
        found = [row for row in read_coverage(season, as_of) if row.player in wanted]
        away = {player.number for player in season.people.players() if player.is_away()}
    found = [row for row in found if skill in (None, row.skill)]
    if form == "table" and not found:
        tell(tr(NOBODY))
        return
    known = {"away": away} if form == "table" else {}
    tell(getattr(coverage_table, f"as_{form}")(found, **known), end="")
