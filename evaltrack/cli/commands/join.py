"""The command that takes in what other tablets noted."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

import click

from evaltrack.cli.asking import argument, command, dry_run, option, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.passphrases import asked, from_file, passphrase_for
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened, refuse_open_window
from evaltrack.language import tr

_EXAMPLE = """\b
Example:  evaltrack join lanterns.db bench.pack stands.pack
          evaltrack join lanterns.db bench.pack --dry-run
          evaltrack join lanterns.db --lost
"""


@command(epilog=_EXAMPLE)
@season_file
@argument("packs", metavar="[PACK]...", type=FILE, nargs=-1)
@asked
@from_file
@option("--lost", is_flag=True, help="List the changes that lost against newer ones in any join.")
@dry_run
def join(
    season_file: Path,
    packs: tuple[Path, ...],
    wanted: bool,
    passphrase_file: Path | None,
    lost: bool,
    dry_run: bool,
) -> None:
    """Take in what other tablets noted of this season: all of the packs, or nothing when one is refused.

    The order of packs does not matter, and joining one again adds nothing. Where two tablets changed the same
    thing the newer change counts; the other one is told here, and kept. A backup is kept first. For a sealed
    pack the passphrase is asked for, once for all, also without --passphrase.
    """
    if bool(packs) == lost or (lost and (dry_run or wanted or passphrase_file)):
        raise click.UsageError(tr("name the packs to join, or --lost alone"))
    with opened(season_file) as season:
        lines = (
            _lost(season) if lost else _joined(season, packs, _passphrase(wanted, passphrase_file), dry_run)
        )
    for line in lines:
        tell(line)


def _passphrase(wanted: bool, file: Path | None) -> Callable[[], str | None]:
    """Return what asks for the passphrase once, as soon as a sealed pack needs it or somebody wants it."""
    asking = cache(lambda: passphrase_for(True, file))
    if wanted:
        asking()
    return asking


def _joined(season, paths: tuple[Path, ...], passphrase, rehearse: bool) -> list[str]:
    from evaltrack.device.backup_places import Why
    from evaltrack.store.backups.keeping import keep_backup
    from evaltrack.store.packs.season_packs import pack_in
    from evaltrack.words.packs import joined_lines

    say(tr("reading ..."))
    packs = [(str(path), pack_in(path, passphrase)) for path in paths]
    say(tr("joining ..."))
    with refuse_open_window(season):
        if not (rehearse or season.invented):
            keep_backup(season, Why.JOIN)
        joined = season.packs.join(packs, rehearse)
    lines = joined_lines(joined, _names(season), rehearse)
    return [*lines, tr("Nothing was changed.")] if rehearse else lines


def _lost(season) -> list[str]:
    from evaltrack.words.packs import lost_lines

    return lost_lines(season.packs.lost(), _names(season)) or [tr("No change has lost against a newer one.")]


def _names(season) -> dict:
    return {player.id: f"{player.number} {player.name}" for player in season.people.everyone()}
