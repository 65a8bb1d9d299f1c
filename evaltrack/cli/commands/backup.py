"""The command that writes a backup."""

from pathlib import Path

import click

from evaltrack.cli.asking import argument, command, option, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.passphrases import asked, from_file, passphrase_for
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr

_EXAMPLE = """\b
Example:  evaltrack backup lanterns.db stick/lanterns-2026-11-26.db
          evaltrack backup lanterns.db stick/lanterns.age --passphrase
          evaltrack backup lanterns.db --list
"""


@command(epilog=_EXAMPLE)
@season_file
@argument("file", metavar="[FILE]", type=FILE, required=False)
@asked
@from_file
@option("--list", "listed", is_flag=True, help="Only list the backups that this tablet knows of.")
def backup(season_file: Path, file: Path, wanted: bool, passphrase_file: Path, listed: bool) -> None:
    """Write a whole copy of the season to FILE, also while the app has it open.

    With a passphrase the copy is a file in the age format, which other tools open too; without it anybody who
    has the file can read it. The app keeps backups of its own after each practice.
    """
    if listed == (file is not None or wanted or passphrase_file is not None):
        raise click.UsageError(tr("Say to which FILE, or --list alone."))
    with opened(season_file) as season:
        if listed:
            _list(season)
            return
        from evaltrack.store.backups.keeping import write_backup

        passphrase = passphrase_for(wanted, passphrase_file, new=True)
        say(tr("writing ..."))
        write_backup(season, file, passphrase)
        count = season.log.count()
    how = tr("sealed under the passphrase") if passphrase else tr("not sealed: whoever has it can read it")
    tell(tr("{file}: {count} tallies, {how}", file=file, count=count, how=how))


def _list(season) -> None:
    from evaltrack.device.backup_places import backups_of, copies_elsewhere
    from evaltrack.store.on_disk.left_copies import leftovers
    from evaltrack.words.backups import day_words, when_words, why_words

    ours, elsewhere = backups_of(season.ident), copies_elsewhere(season.ident)
    before = leftovers(season.path)
    if not (ours or elsewhere or before):
        raise EvaltrackError(tr("no backup of this season is known on this tablet"))
    for one in ours:
        tell(f"{when_words(one)}  {one.path}  ({why_words(one.why)})")
    for path in before:
        tell(tr("before it was brought up to date  {path}", path=path))
    for copy in elsewhere:
        tell(f"{day_words(copy.day)}  {copy.path}  ({tr('sealed') if copy.sealed else tr('not sealed')})")
