"""The commands that say what was seen: standings, notes and coverage."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click

from evaltrack.analysis.standing import Standing
from evaltrack.cli.asking import as_of, command, one_form, one_paper, one_player, one_skill, season_file
from evaltrack.cli.kinds import FILE
from evaltrack.cli.season_days import tell_strays
from evaltrack.cli.telling import say, tell, warn
from evaltrack.cli.working import asked_for, noted, opened, refuse_unknown, worked_out
from evaltrack.errors import EvaltrackError
from evaltrack.paper.tables import coverage as coverage_listing
from evaltrack.paper.tables.standings import as_csv, as_json, as_table
from evaltrack.rink.player import Status
from evaltrack.words.reasons import step_names
from evaltrack.words.wording import counted

_FORMS = {"table": as_table, "csv": as_csv, "json": as_json}


@command(epilog="\b\nExample:  evaltrack standings lanterns.db --skill outlet_pass --as-of 2026-01-31")
@season_file
@one_skill
@one_player
@as_of
@click.option("--why", is_flag=True, help="Say what moved each share away from the plain count.")
@one_form
def standings(
    season_file: Path, skill: str | None, number: str | None, as_of: date | None, why: bool, form: str
) -> None:
    """Print what can be said of each player in each skill, by number."""
    if why and form == "csv":
        raise click.UsageError("--why has no columns in CSV; take --format table or json")
    with opened(season_file) as season:
        wanted = {player.number for player in asked_for(season, number)}
        _refuse_unknown_skill(season, skill)
        found = [s for s in worked_out(season, as_of, skill) if s.player in wanted]
        told = {"why": step_names(season.catalogue.drills())} if why else {}
        tell_strays(season)
    _warn(found)
    tell(_FORMS[form](found, **told), end="")


@command(epilog="\b\nExample:  evaltrack notes lanterns.db --out notes --player 14")
@season_file
@click.option("--out", "folder", required=True, type=FILE, metavar="DIR", help="Where the pages go.")
@one_player
@as_of
@one_paper
def notes(season_file: Path, folder: Path, number: str | None, as_of: date | None, paper: str) -> None:
    """Write one page for each family, each its own PDF: a draft until the coach has read it."""
    with opened(season_file) as season:
        players = asked_for(season, number)
        written = noted(season, worked_out(season, as_of), folder, players, as_of, paper)
    pages = [note for note in written if note.path]
    troubled = [
        f"{note.player.number} {note.player.name}: {note.problem}" for note in written if note.problem
    ]
    if not pages:
        raise EvaltrackError("\n".join(["no page was written", *troubled]))
    for line in troubled:
        warn(line)
    tell(f"{folder}: {counted(len(pages), 'page')}; read each before you give it away")


@command(epilog="\b\nExample:  evaltrack coverage lanterns.db --skill gap_at_line")
@season_file
@one_skill
@one_player
@as_of
@one_form
def coverage(season_file: Path, skill: str | None, number: str | None, as_of: date | None, form: str) -> None:
    """Print what is too little known, how many more tries mend that, and whom to watch next."""
    from evaltrack.analysis.coverage import read_coverage

    with opened(season_file) as season:
        wanted = {player.number for player in asked_for(season, number)}
        _refuse_unknown_skill(season, skill)
        say("working out what is known ...")
        found = [row for row in read_coverage(season, as_of) if row.player in wanted]
        away = {player.number for player in season.people.players() if player.status is Status.AWAY}
    found = [row for row in found if skill in (None, row.skill)]
    known = {"away": away} if form == "table" else {}
    tell(getattr(coverage_listing, f"as_{form}")(found, **known), end="")


def _refuse_unknown_skill(season, skill: str | None) -> None:
    if skill is not None:
        refuse_unknown("skill", skill, [known.key for known in season.catalogue.skills()])


def _warn(found: Sequence[Standing]) -> None:
    if not found:
        warn("nothing has been tallied yet, so there are no standings")
    for doubt in dict.fromkeys(s.doubt for s in found if s.doubt):
        warn(f"not to be relied on: {doubt}")
