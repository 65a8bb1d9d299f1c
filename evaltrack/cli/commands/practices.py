"""The command that lists practices."""

from pathlib import Path

import click

from evaltrack.cli.asking import command, one_form, season_file
from evaltrack.cli.telling import tell
from evaltrack.cli.working import opened, practice_asked_for
from evaltrack.paper.tables import practices as practice_table
from evaltrack.paper.tables.practices import read_held

_PRACTICES = """\b
Example:  evaltrack practices lanterns.db
          evaltrack practices lanterns.db --practice 2026-01-20
"""


@command(epilog=_PRACTICES)
@season_file
@click.option("--practice", "key", metavar="KEY", help="This practice only, with what is known of it.")
@one_form
def practices(season_file: Path, key: str | None, form: str) -> None:
    """List the practices: key, date, who was here, tallies, what runs, what was put right."""
    with opened(season_file) as season:
        rows = read_held(season) if key is None else [practice_asked_for(season, key)]
        if key is not None and form == "table":
            text = practice_table.as_details(rows[0], season)
        else:
            text = getattr(practice_table, f"as_{form}")(rows)
    tell(text, end="")
