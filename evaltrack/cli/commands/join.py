"""The command that takes in what other tablets noted."""

from pathlib import Path

import click

from evaltrack.cli.asking import command, dry_run, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened, refuse_open_window

_EXAMPLE = """\b
Example:  evaltrack join lanterns.db bench.pack stands.pack
          evaltrack join lanterns.db bench.pack --dry-run
          evaltrack join lanterns.db --lost
"""


@command(epilog=_EXAMPLE)
@season_file
@click.argument("packs", metavar="[PACK]...", type=FILE, nargs=-1)
@click.option("--lost", is_flag=True, help="List the changes that lost against newer ones in any join.")
@dry_run
def join(season_file: Path, packs: tuple[Path, ...], lost: bool, dry_run: bool) -> None:
    """Take in what other tablets noted of this season: all of the packs, or nothing when one is refused.

    The order of packs does not matter, and joining one again adds nothing. Where two tablets changed the same
    thing the newer change counts; the other one is told here, and kept.
    """
    if bool(packs) == lost or (lost and dry_run):
        raise click.UsageError("name the packs to join, or --lost alone")
    with opened(season_file) as season:
        lines = _lost(season) if lost else _joined(season, packs, dry_run)
    for line in lines:
        tell(line)


def _joined(season, paths: tuple[Path, ...], rehearse: bool) -> list[str]:
    from evaltrack.store.packs.season_packs import pack_in
    from evaltrack.words.packs import joined_lines

    say("reading ...")
    packs = [(str(path), pack_in(path)) for path in paths]
    say("joining ...")
    with refuse_open_window(season):
        joined = season.packs.join(packs, rehearse)
    lines = joined_lines(joined, _names(season), rehearse)
    return [*lines, "Nothing was changed."] if rehearse else lines


def _lost(season) -> list[str]:
    from evaltrack.words.packs import lost_lines

    return lost_lines(season.packs.lost(), _names(season)) or ["No change has lost against a newer one."]


def _names(season) -> dict:
    return {player.id: f"{player.number} {player.name}" for player in season.people.everyone()}
