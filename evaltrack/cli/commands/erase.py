"""The command that erases a player for good."""

import os
from contextlib import suppress
from datetime import date
from pathlib import Path

from evaltrack.cli.asking import command, option, season_file
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened, refuse_open_window, whom
from evaltrack.language import tr
from evaltrack.rink.player import Player

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

    It cannot be undone. Afterwards the name is in no byte of the season file, and no pack of another tablet
    brings the player back. Pages and pictures that the app made of the player are deleted; every other file
    it knows of that has the name is listed with its date, so that people can be asked.
    """
    from evaltrack.device.backup_places import copies_elsewhere
    from evaltrack.words import erasing as words

    season = opened(season_file)
    with season, refuse_open_window(season, None):
        player, others = whom(season, number, name)
        elsewhere = copies_elsewhere(season.ident)
        say(tr("erasing ..."))
        done = season.erase(player.id, keep_counts, rehearse=not yes)
        own, files = _files(season_file, done, [one.name for one in others])
        copies = [(path, _day(path)) for path in done.copies] if not yes else []
        deleted = copies + [(one.path, one.day) for one in own]
        stuck = [*done.stuck, *(_deleted(own, player) if yes else [])]
    lines = words.taken_out_lines(f"{player.number} {player.name}", done, not yes)
    lines += [tr("{path} was deleted", path=path) for path in done.copies] if yes else []
    lines += words.elsewhere_lines(elsewhere)
    lines += words.file_lines(files, [pair for pair in deleted if pair[0] not in stuck], stuck, not yes)
    if yes:
        _keep_backup(season_file)  # those that the app had are gone
    tell("\n".join([*lines, tr(words.TELL_OTHERS), tr(words.DEVICE), tr(words.CANNOT_BE_UNDONE)]))
    if not yes:
        tell(tr(words.REHEARSED))


def _keep_backup(season_file: Path) -> None:
    from evaltrack.device.backup_places import Why
    from evaltrack.store.backups.keeping import keep_backup

    with opened(season_file) as season:
        if not season.invented:
            keep_backup(season, Why.ERASURE)


def _files(season: Path, done, others: list[str]) -> tuple[list, list]:
    """Return the files that are the app's own of the player alone, and all others that have the name."""
    from evaltrack.device.files_with_name import files_with_name

    found = [one for one in files_with_name(season, done.names, others) if one.path not in done.copies]
    return [one for one in found if one.own], [one for one in found if not one.own]


def _deleted(own: list, player: Player) -> list[Path]:
    """Delete the app's own files of the player, and forget whom this tablet showed; return what is left."""
    from evaltrack.device.tablet import keep_tablet, load_tablet

    tablet = load_tablet()
    if tablet.player.replace("-", "") == player.id.hex:
        keep_tablet(tablet, player="")
    for one in own:
        with suppress(OSError):
            one.path.unlink()
    return [one.path for one in own if os.path.lexists(one.path)]


def _day(path: Path) -> date:
    return date.fromtimestamp(path.stat().st_mtime)
