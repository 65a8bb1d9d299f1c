"""The command that brings a backup back."""

import os
from contextlib import suppress
from pathlib import Path

import click

from evaltrack.cli.asking import argument, command, option
from evaltrack.cli.kinds import FILE
from evaltrack.cli.passphrases import asked, from_file, passphrase_for
from evaltrack.cli.telling import say, tell, warn
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr

_EXAMPLE = """\b
Example:  evaltrack restore stick/lanterns-2026-11-26.db lanterns.db
          evaltrack restore stick/lanterns-2026-11-26.db lanterns.db --yes
          evaltrack restore damaged.db saved.db --salvage
"""


@command(epilog=_EXAMPLE)
@argument("file", metavar="FILE", type=FILE)
@argument("season_file", metavar="SEASON.db", type=FILE)
@asked
@from_file
@option("--yes", is_flag=True, help="Replace the season file; without it only what would be gone is said.")
@option("--salvage", is_flag=True, help="Put what can be read of a damaged FILE into a new SEASON.db.")
def restore(
    file: Path, season_file: Path, wanted: bool, passphrase_file: Path, yes: bool, salvage: bool
) -> None:
    """Bring a backup back as SEASON.db.

    Where a season file is there, it says first what would be gone; without --yes it changes nothing, and ends
    with 1. What was there is kept as a backup. This tablet goes on under a new id, so that what it notes from
    then on is not taken for what it noted before.
    """
    if salvage and yes:
        raise click.UsageError(tr("--salvage makes a new file and replaces none; leave out --yes"))
    passphrase = passphrase_for(wanted, passphrase_file)
    if salvage:
        _salvage(file, season_file, passphrase)
        return
    from evaltrack.store.backups.restoring import bring_back, lost_by, opened_backup
    from evaltrack.words.backups import lost_words

    say(tr("looking through the backup ..."))
    _refuse_itself(file, season_file)
    with opened_backup(file, passphrase) as season:
        if os.path.lexists(season_file):
            tell("\n".join(lost_words(lost_by(season, season_file))))
            if not yes:
                raise EvaltrackError(
                    tr("Nothing was changed. Say --yes to bring the backup back; the file there now is kept.")
                )
        kept = bring_back(season, season_file)
        count = season.log.count()
    tell(
        tr(
            "{season_file}: {count} tallies, as they were in {file}",
            season_file=season_file,
            count=count,
            file=file,
        )
    )
    if kept:
        tell(tr("What was there is kept: {kept}", kept=kept))


def _refuse_itself(file: Path, season_file: Path) -> None:
    with suppress(OSError, ValueError):
        if file.samefile(season_file):
            raise EvaltrackError(
                tr('"{file}" is both the backup and the season; name the backup first', file=season_file)
            )


def _salvage(file: Path, target: Path, passphrase: str | None) -> None:
    from evaltrack.store.salvage.salvaging import salvage
    from evaltrack.words.salvage import loss_words, saved_words

    say(tr("reading what can be read ..."))
    saved = salvage(file, target, passphrase)
    for sentence in loss_words(saved):
        warn(sentence)
    tell(tr("{name}: {what}", name=target, what=saved_words(saved)))
