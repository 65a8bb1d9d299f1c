"""The command that gives a season, or all that is kept of one child, away as open files."""

from pathlib import Path

import click

from evaltrack.cli.asking import command, option, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.telling import tell
from evaltrack.cli.working import opened, whom, worked_out
from evaltrack.language import tr
from evaltrack.words.wording import counted

_EXPORT = """\b
Example:  evaltrack export lanterns.db --out lanterns-2026
          evaltrack export lanterns.db --out for-analysts --format parquet
          evaltrack export lanterns.db --out for-the-parents --player 14
          evaltrack export lanterns.db --out for-all-parents --each
"""


@command(epilog=_EXPORT)
@season_file
@option("--out", "folder", required=True, type=FILE, metavar="DIR", help="A new or empty folder.")
@option("--player", "number", metavar="NUMBER", help="All that is kept of this player alone.")
@option("--each", is_flag=True, help="All that is kept of each player, a folder for each.")
@option("--format", "form", type=click.Choice(["csv", "parquet"]), default="csv", show_default=True)
@option("--name", metavar="NAME", help="Which one, where several have worn the number.")
def export(
    season_file: Path, folder: Path, number: str | None, each: bool, form: str, name: str | None
) -> None:
    """Write the season as tables that any program opens, with a description of every column.

    With --player everything that is kept of one child, for the parents: a page to read, tables, and one file
    for other programs; of no other child a word. The folder is there whole or not at all, for its owner
    alone. It has names in it: give it to whom it is for, and delete it then.
    """
    from evaltrack.device.backup_places import note_pages
    from evaltrack.paper.export.for_parents import write_for_parents
    from evaltrack.paper.export.for_team import team_files
    from evaltrack.paper.export.new_folder import write_folder

    if name and not number:
        raise click.UsageError(tr("--name belongs to --player"))
    if form != "csv" and (each or number):
        raise click.UsageError(tr("--format parquet is of the whole season; leave out --player and --each"))
    if each and number:
        raise click.UsageError(tr("--each is of all players; leave out --player"))
    if each:
        with opened(season_file, of_children=True) as season:
            count = write_for_parents(season, worked_out(season, left=True), folder)
            note_pages(season.ident, folder)
        tell(
            tr(
                "{folder}: copies for the parents of {players}",
                folder=folder,
                players=counted(count, "player"),
            )
        )
        return
    with opened(season_file) as season:
        if number is None:
            files = team_files(season, worked_out(season, left=True), form)
        else:
            files = _of_player(season, number, name)
        write_folder(folder, files)
        note_pages(season.ident, folder)
    tell(tr("{name}: {what}", name=folder, what=", ".join(files)))


def _of_player(season, number: str, name: str | None) -> dict[str, str]:
    from evaltrack.paper.export.own_copy import own_copy

    player, _ = whom(season, number, name)
    return own_copy(season, player, worked_out(season, left=True))
