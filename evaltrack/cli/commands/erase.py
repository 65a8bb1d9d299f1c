"""The command that erases a player for good."""

from pathlib import Path

from evaltrack.cli.asking import command, option, season_file
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened, refuse_open_window, whom
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr

_ERASE = """\b
Example:  evaltrack erase lanterns.db --player 14
          evaltrack erase lanterns.db --player 14 --yes
          evaltrack erase lanterns.db --player 14 --keep-counts --yes
"""


@command(epilog=_ERASE)
@season_file
@option("--player", "number", required=True, metavar="NUMBER", help="Whom to erase.")
@option("--name", metavar="NAME", help="Which one, where several have worn the number.")
@option("--keep-counts", is_flag=True, help="Leave the tries in the team's figures, without a name.")
@option("--yes", is_flag=True, help="Erase; without it only what would go is said.")
def erase(season_file: Path, number: str, name: str | None, keep_counts: bool, yes: bool) -> None:
    """Erase a player: from the season file, its journals and older copies, and from what the staff wrote.

    Without --yes it only says what would go, and ends with 1. It cannot be undone. Afterwards the name is in
    no byte of the season file, and no pack of another tablet brings the player back. Pages and pictures that
    the app made of the player are deleted; every other file it knows of that has the name is listed with its
    date, so that people can be asked.
    """
    from evaltrack.store.erased_on_tablet import erase_on_tablet
    from evaltrack.words import erasing as words

    season = opened(season_file)
    with season, refuse_open_window(season, None):
        player, _ = whom(season, number, name)
        say(tr("erasing ..."))
        receipt = erase_on_tablet(season, player, keep_counts, rehearse=not yes)
    tell("\n".join(words.receipt_lines(f"{player.number} {player.name}", receipt, not yes)))
    if not yes:
        raise EvaltrackError(tr(words.REHEARSED))
