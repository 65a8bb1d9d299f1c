"""The command that shows the roster, writes it out, and changes it in mid-season."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click

from evaltrack.cli.asking import command, dry_run, option, season_file
from evaltrack.cli.kinds import FILE, Day, NumberAsWorn, SameAs
from evaltrack.cli.telling import tell
from evaltrack.cli.working import opened, refuse_open_window
from evaltrack.errors import EvaltrackError
from evaltrack.language import tr
from evaltrack.rink.days import SEASON_YEARS, in_full

_ROSTER = """\b
Example:  evaltrack roster lanterns.db --out roster.csv
          evaltrack roster lanterns.db --set roster.csv --dry-run
          evaltrack roster lanterns.db --set roster.csv --same 12=3 --new 7
"""


@command(epilog=_ROSTER)
@season_file
@option("--set", "wanted", type=FILE, metavar="CSV", help="The roster from now on, whole.")
@option("--out", "target", type=FILE, metavar="CSV", help="Write the roster, as --set reads it.")
@option("--from", "day", type=Day(), metavar="DATE", help="From this day on; today, if not said.")
@option("--same", multiple=True, type=SameAs(), metavar="NEW=NOW", help="NEW in the file is who wears NOW.")
@option("--new", multiple=True, type=NumberAsWorn(), metavar="NUMBER", help="A new player.")
@dry_run
def roster(
    season_file: Path,
    wanted: Path | None,
    target: Path | None,
    day: date | None,
    same: tuple[tuple[str, str], ...],
    new: tuple[str, ...],
    dry_run: bool,
) -> None:
    """Show the roster, write it to a file, or change it to what a file says, whole or not at all.

    A player of the file is recognised by the name, also with another number. Who has no line in it has left:
    what was tallied stays, and old practices show the number of their day.

    The position is D, F or G, or D/F or F/D for one who plays both defence and forward: skills of both are
    watched, and the share goes by the steps and the pressure that the one named first gets.
    """
    if wanted and target:
        raise click.UsageError(tr("name one of --set and --out"))
    if not wanted and (day or same or new or dry_run):
        raise click.UsageError(tr("--from, --same, --new and --dry-run belong to --set"))
    with opened(season_file, of_children=True) as season:
        if wanted:
            said = _changed(season, wanted, day or date.today(), (same, new), dry_run)
        else:
            said = _written(season, target) if target else _shown(season)
    tell(said)


def _shown(season) -> str:
    from evaltrack.paper.tables.roster import as_table

    return as_table(season.people.everyone(), season.people.changes())


def _written(season, target: Path) -> str:
    from evaltrack.intake.roster import roster_text
    from evaltrack.intake.saving import save
    from evaltrack.words.wording import counted

    team = season.people.players()
    save(target, roster_text(team).encode("utf-8"))
    return tr("{name}: {what}", name=target, what=counted(len(team), "player"))


def _changed(season, path: Path, day: date, told: tuple, dry_run: bool) -> str:
    """Change the roster, or work out what would change, and return it in words."""
    from evaltrack.device.tablet import load_tablet
    from evaltrack.intake.roster import read_roster_file
    from evaltrack.intake.roster_matching import next_roster
    from evaltrack.rink.roster_change import changes_between
    from evaltrack.words.roster import change_lines

    if day > date.today():
        raise EvaltrackError(
            tr("{day} has not come yet; name a day up to today with --from", day=in_full(day))
        )
    if day.year not in SEASON_YEARS:
        raise EvaltrackError(tr("{day} is in no season; name another day with --from", day=in_full(day)))
    same, new = told
    before = season.people.everyone()
    known, tablet = {player.id: player for player in before}, load_tablet().id
    after = next_roster(read_roster_file(path), before, dict(same), new).players
    changes = [c for p in after for c in changes_between(known.get(p.id), p, day, tablet)]
    if changes and not dry_run:
        with refuse_open_window(season, tr("the roster")):
            changes = season.people.change(after, day, tablet)
    return _told(path, change_lines(changes, before, after), dry_run)


def _told(path: Path, lines: Sequence[str], dry_run: bool) -> str:
    if not lines:
        return tr("{path} is the roster as it is; nothing is to be changed", path=path)
    if dry_run:
        return "\n".join([tr("would change:"), *(f"  {line}" for line in lines), tr("Nothing was changed.")])
    return "\n".join([tr("changed:"), *(f"  {line}" for line in lines)])
