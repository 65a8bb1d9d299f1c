"""The command that prints standings."""

from collections.abc import Sequence
from datetime import date
from functools import partial
from pathlib import Path

import click

from evaltrack.analysis.standings.standing import Standing
from evaltrack.cli.asking import as_of, command, one_form, one_player, one_skill, option, season_file
from evaltrack.cli.no_tries import why_none
from evaltrack.cli.season_days import tell_strays
from evaltrack.cli.telling import say, tell, warn
from evaltrack.cli.working import (
    asked_for,
    opened,
    refuse_unknown_skill,
    tell_strict,
    worked_out_with_observers,
)
from evaltrack.errors import NotSavedError
from evaltrack.language import tr
from evaltrack.paper.tables.standings import as_csv, as_json, as_table
from evaltrack.rink.drill import steps_by_drill
from evaltrack.words.reasons import step_names

_FORMS = {"table": as_table, "csv": as_csv, "json": as_json}


@command(epilog="\b\nExample:  evaltrack standings lanterns.db --skill outlet_pass --as-of 2026-01-31")
@season_file
@one_skill
@one_player
@as_of
@option("--left", is_flag=True, help="Also players who have left.")
@option("--why", is_flag=True, help="Say what moved each share off the plain count, and whom they met.")
@option("--team", is_flag=True, help="The team in each skill: its trend, what steps and pressure cost.")
@one_form
def standings(
    season_file: Path,
    skill: str | None,
    number: str | None,
    as_of: date | None,
    left: bool,
    why: bool,
    team: bool,
    form: str,
) -> None:
    """Print what can be said of each player in each skill, by number."""
    if why and form == "csv":
        raise click.UsageError(tr("--why has no columns in CSV; take --format table or json"))
    if team:
        _tell_team(season_file, number, skill, as_of, form)
        return
    with opened(season_file, of_children=True) as season:
        wanted = {player.number for player in asked_for(season, number, left)}
        refuse_unknown_skill(season, skill)
        found, strict = worked_out_with_observers(season, as_of, skill, left)
        if as_of is None and skill is None:
            _keep_look(season, found)
        found = [s for s in found if s.player in wanted]
        told = {"why": step_names(season.catalogue.drills(retired=True))} if why else {}
        tell_strays(season)
        comments = _comments(season, number) if form == "table" else []
        if not found:
            warn(tr("{why}, so there are no standings", why=why_none(season, number, skill, as_of)))
    _warn(found)
    tell(_FORMS[form](found, **told), end="")
    for words in comments:
        tell(words)
    tell_strict(strict, form)


def _keep_look(season, found: list[Standing]) -> None:
    """Keep what is shown for whoever opens the file with another program."""
    held = [practice.held_on for practice in season.practices.all()]
    if held:
        try:
            season.last_look.keep(found, max(held))
        except NotSavedError as error:  # they are worked out, and can be printed all the same
            warn(str(error))


def _comments(season, number: str | None) -> list[str]:
    """Return what the staff wrote of the one player who is asked for."""
    if number is None:
        return []
    comments = season.player_comments.all()
    return [comments[one.id] for one in asked_for(season, number) if one.id in comments]


def _tell_team(path: Path, number: str | None, skill: str | None, as_of: date | None, form: str) -> None:
    from evaltrack.analysis.team.courses import read_courses
    from evaltrack.paper.tables import team

    if number:
        raise click.UsageError(tr("--team is of all players; leave out --player"))
    with opened(path) as season:
        refuse_unknown_skill(season, skill)
        say(tr("working out how the team goes ..."))
        found, _ = read_courses(season, as_of, skill)
        if not found:
            warn(
                tr(
                    "{why}, so there is nothing to tell of the team",
                    why=why_none(season, None, skill, as_of),
                )
            )
        steps = steps_by_drill(season.catalogue.drills(retired=True))
    forms = {"table": partial(team.as_table, steps=steps), "csv": team.as_csv, "json": team.as_json}
    tell(forms[form](found), end="")


def _warn(found: Sequence[Standing]) -> None:
    for doubt in dict.fromkeys(s.doubt for s in found if s.doubt):
        warn(tr("not to be relied on: {doubt}", doubt=tr(doubt)))
