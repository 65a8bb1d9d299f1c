"""The command that lists practices."""

from pathlib import Path

from evaltrack.cli.asking import command, one_form, option, season_file
from evaltrack.cli.closed import closed_words
from evaltrack.cli.telling import tell, warn
from evaltrack.cli.working import opened, practice_asked_for
from evaltrack.paper.tables import practices as practice_table
from evaltrack.paper.tables.practices import Held, read_held

_PRACTICES = """\b
Example:  evaltrack practices lanterns.db
          evaltrack practices lanterns.db --practice 2026-01-20
"""


@command(epilog=_PRACTICES)
@season_file
@option("--practice", "key", metavar="KEY", help="This practice only, with what is known of it.")
@one_form
def practices(season_file: Path, key: str | None, form: str) -> None:
    """List the practices: key, date, who was here, tallies, observers, what runs, what was put right.

    Of one practice: what was watched when and by whom, tallies by player and skill, who got none, pauses, how
    far two observers agreed, and its corrections with the numbers by which `correct` takes them back.
    """
    with opened(season_file, loan=True) as season:
        if words := closed_words(season):
            warn(words)
        rows = read_held(season) if key is None else [practice_asked_for(season, key)]
        if key is None or form == "csv":
            text = getattr(practice_table, f"as_{form}")(rows)
        else:
            text = _all_of(rows[0], season, form)
    tell(text, end="")


def _all_of(held: Held, season, form: str) -> str:
    from evaltrack.paper.tables.one_practice import as_details, as_json
    from evaltrack.words.agreement import of_practice

    agreed = of_practice(season, held.practice.key) if len(held.observers) > 1 else []
    return (as_details if form == "table" else as_json)(held, season, agreed)
