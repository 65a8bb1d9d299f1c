"""The command that writes the families' pages."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click

from evaltrack.cli.asking import as_of, command, one_paper, one_player, option, season_file
from evaltrack.cli.kinds import FILE, LanguageTag
from evaltrack.cli.telling import tell, warn
from evaltrack.cli.working import PAPERS, asked_for, noted, opened, worked_out
from evaltrack.errors import EvaltrackError
from evaltrack.language import Language, tr
from evaltrack.paper.note.forms import FORMS, Wanted
from evaltrack.rink.player import Player
from evaltrack.words.wording import counted


@command(epilog="\b\nExample:  evaltrack notes lanterns.db --out notes --player 14")
@season_file
@option("--out", "folder", required=True, type=FILE, metavar="DIR", help="Where the pages go.")
@one_player
@as_of
@one_paper
@option(
    "--form",
    type=click.Choice(FORMS),
    default=FORMS[0],
    show_default=True,
    help="To print, for a browser, for an e-mail, or to change in a word processor.",
)
@option(
    "--large-print",
    is_flag=True,
    help="In 12 points, on as many pages as that takes; plain text has no size.",
)
@option(
    "--names-by",
    type=click.Choice(["name", "number"]),
    default="name",
    show_default=True,
    help="What the names of the files tell beside the number.",
)
@option(
    "--language",
    type=LanguageTag(),
    metavar="en|fr",
    help="Of all pages; else each is in its family's, as the app keeps it. fr-CA and fr-FR are known too.",
)
def notes(
    season_file: Path,
    folder: Path,
    number: str | None,
    as_of: date | None,
    paper: str,
    form: str,
    large_print: bool,
    names_by: str,
    language: Language | None,
) -> None:
    """Write one page for each family, each its own file: a draft until the coach has read it in the app.

    What the coach changed of a page there stands on it.

    Nothing is sent: whoever may have a page gets it from you. Only your own account can read the files.
    """
    wanted = Wanted(form, PAPERS[paper], large_print, by_number=names_by == "number")
    from evaltrack.device.backup_places import note_pages

    with opened(season_file, of_children=True) as season:
        players, ident = asked_for(season, number), season.ident
        written = noted(season, worked_out(season, as_of), folder, players, as_of, wanted, language=language)
    pages = [note for note in written if note.path]
    troubled = _troubled(written)
    if not pages:
        raise EvaltrackError("\n".join([tr("no page was written"), *troubled]))
    note_pages(ident, folder)
    for line in troubled:
        warn(line)
    tell(
        tr(
            "{folder}: {pages}; read each before you give it away",
            folder=folder,
            pages=counted(len(pages), "page"),
        )
    )


def _troubled(written: Sequence) -> list[str]:
    """Return what is to be said of the pages; what is the same of several once, with their numbers."""
    alike: dict[str, list[Player]] = {}
    for note in written:
        if note.problem:
            alike.setdefault(note.problem, []).append(note.player)
    return [tr("{name}: {what}", name=_named(players), what=problem) for problem, players in alike.items()]


def _named(players: Sequence[Player]) -> str:
    if len(players) == 1:
        return f"{players[0].number} {players[0].name}"
    return ", ".join(player.number for player in players)
