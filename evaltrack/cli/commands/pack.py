"""The command that writes what a season file has for another tablet."""

from datetime import datetime
from pathlib import Path

from evaltrack.cli.asking import command, option, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.passphrases import asked, from_file, passphrase_for
from evaltrack.cli.telling import say, tell
from evaltrack.cli.working import opened
from evaltrack.language import tr

_EXAMPLE = """\b
Example:  evaltrack pack lanterns.db --out bench.pack
          evaltrack pack lanterns.db --out bench-2.pack --since bench.pack
          evaltrack pack lanterns.db --out stick/bench.age --passphrase
"""


@command(epilog=_EXAMPLE)
@season_file
@option("--out", "target", type=FILE, required=True, metavar="FILE", help="Write the pack here.")
@option("--since", type=FILE, metavar="PACK", help="Only what is new since this pack of the season.")
@asked
@from_file
def pack(
    season_file: Path, target: Path, since: Path | None, wanted: bool, passphrase_file: Path | None
) -> None:
    """Write all that was noted into one file for another tablet, which takes it in with `join`.

    The other tablet needs a copy of this season's file, made while the season was at rest. A pack since an
    earlier one is for tablets that have joined that one.

    The file has the names of the players in it. With a passphrase it is a file in the age format, which other
    tools open too; without one hand it from hand to hand. A sealed earlier pack is opened with the same one.
    """
    from evaltrack.device.backup_places import note_elsewhere
    from evaltrack.device.sealing import sealed
    from evaltrack.device.tablet import load_tablet
    from evaltrack.intake.saving import save
    from evaltrack.store.packs.pack_file import read_pack
    from evaltrack.store.packs.season_packs import pack_in
    from evaltrack.words.packs import content_words

    passphrase = passphrase_for(wanted, passphrase_file, new=True)
    with opened(season_file, loan=True) as season:
        earlier = pack_in(since, lambda: passphrase_for(True, passphrase_file)) if since else None
        say(tr("packing ..."))
        content, ident = season.packs.pack(load_tablet().id, earlier), season.ident
    made = read_pack(str(target), content)  # what could not be read again is not given away
    save(target, sealed(content, passphrase) if passphrase else content)
    note_elsewhere(ident, target.absolute(), bool(passphrase), datetime.now())
    how = tr("sealed under the passphrase") if passphrase else tr("not sealed: whoever has it can read it")
    tell(tr("{name}: {what}; {how}", name=target, what=content_words(made.counts()), how=how))
