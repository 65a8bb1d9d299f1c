"""The command that writes the families' pages."""

from datetime import date
from pathlib import Path

import click

from evaltrack.cli.asking import as_of, command, one_paper, one_player, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.telling import tell, warn
from evaltrack.cli.working import asked_for, noted, opened, worked_out
from evaltrack.errors import EvaltrackError
from evaltrack.words.wording import counted


@command(epilog="\b\nExample:  evaltrack notes lanterns.db --out notes --player 14")
@season_file
@click.option("--out", "folder", required=True, type=FILE, metavar="DIR", help="Where the pages go.")
@one_player
@as_of
@one_paper
def notes(season_file: Path, folder: Path, number: str | None, as_of: date | None, paper: str) -> None:
    """Write one page for each family, each its own PDF: a draft until the coach has read it."""
    with opened(season_file) as season:
        players = asked_for(season, number)
        written = noted(season, worked_out(season, as_of), folder, players, as_of, paper)
    pages = [note for note in written if note.path]
    troubled = [
        f"{note.player.number} {note.player.name}: {note.problem}" for note in written if note.problem
    ]
    if not pages:
        raise EvaltrackError("\n".join(["no page was written", *troubled]))
    for line in troubled:
        warn(line)
    tell(f"{folder}: {counted(len(pages), 'page')}; read each before you give it away")
