"""The command for the clipboard: the board on paper, and the form that brings its ticks in."""

import os
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click

from evaltrack.cli.asking import command, one_paper, option, season_file
from evaltrack.cli.kinds import FILE, Day, Words
from evaltrack.cli.season_days import refuse_another_season
from evaltrack.cli.telling import say, tell, warn
from evaltrack.cli.watched import watched
from evaltrack.cli.working import opened
from evaltrack.errors import EvaltrackError
from evaltrack.intake.saving import save
from evaltrack.intake.tally_columns import LONGEST_OBSERVER
from evaltrack.intake.tally_form import form_text, kinds_of_try
from evaltrack.language import mark, tr
from evaltrack.paper.clipboard.board_sheet import Place, make_board, read_places
from evaltrack.paper.clipboard.occasion import PAPERS, Occasion
from evaltrack.paper.clipboard.rep_sheet import make_reps
from evaltrack.rink.player import Player
from evaltrack.rink.skill import Skill
from evaltrack.words.wording import counted

_EXAMPLE = """\b
Example:  evaltrack sheet lanterns.db --out sheet.pdf --drill wall_work
          evaltrack sheet lanterns.db --out form.csv --drill wall_work --observer Ines
          evaltrack load lanterns.db form.csv
"""


@command(epilog=_EXAMPLE)
@season_file
@option(
    *("--out", "target"),
    required=True,
    type=FILE,
    metavar="FILE",
    help="FILE.pdf to print, FILE.csv to type into.",
)
@option("--drill", metavar="KEY", help="The drill; without one, the one watched last.")
@option("--step", metavar="KEY", help="The step of the drill.")
@option("--skill", metavar="KEY", help="This skill only, instead of all those of the step.")
@option(
    "--board",
    type=click.Choice(["group", "rep"]),
    default="group",
    show_default=True,
    help="Every player in their place, or the slots rep by rep.",
)
@one_paper
@option("--date", "day", type=Day(), metavar="DATE", help="The day of the practice.")
@option("--observer", type=Words(mark("the observer"), LONGEST_OBSERVER), metavar="NAME", help="Who ticks.")
def sheet(
    season_file: Path,
    target: Path,
    drill: str | None,
    step: str | None,
    skill: str | None,
    board: str,
    paper: str,
    day: date | None,
    observer: str | None,
) -> None:
    """Print the board for a clipboard, or make the form into which its ticks are typed.

    FILE.pdf has a page for each skill: the players in the places of the board on a 10-inch tablet that is
    held on its side, with boxes for done and missed. FILE.csv has a line for each player and outcome: write
    in `times` how often it was ticked, leave the others empty, and load it.
    """
    make = {".pdf": _print, ".csv": _form}.get(target.suffix.casefold())
    if not make:
        raise click.BadParameter(tr("write a name that ends in .pdf or .csv"), param_hint="'--out'")
    with opened(season_file, of_children=True) as season:
        *at, skills = watched(season, drill, step, skill)
        running = season.practices.running()
        day = day or (running and running.held_on)
        occasion = Occasion(str(season.team), *at, day, observer or "")
        tell(make(season, occasion, skills, target, paper, board))


def _print(season, occasion: Occasion, skills: Sequence[Skill], target: Path, paper: str, board: str) -> str:
    from evaltrack.paper.clipboard.pdf import print_boards, print_reps

    places, roster, on = _places(season), season.people.players(), PAPERS[paper]
    say(tr("printing ..."))
    if board == "rep":
        made = print_reps(make_reps(occasion, skills, [at.player for at in places if at.here], on))
    else:
        made = print_boards([make_board(occasion, skill, places, roster, on) for skill in skills])
    save(target, made.content)
    if made.problem:
        warn(made.problem)
    pages = counted(made.pages, "page")
    return tr("{name}: {what}", name=target, what=f"{pages} ({paper}), {_what(occasion, skills)}")


def _form(season, occasion: Occasion, skills: Sequence[Skill], target: Path, *_) -> str:
    if os.path.lexists(target):
        raise EvaltrackError(
            tr('"{target}" is there already; load it if it is filled in, or name another file', target=target)
        )
    day = occasion.day or date.today()
    refuse_another_season(season, day)
    kinds = [kind for skill in skills for kind in kinds_of_try(skill, *_likely(_places(season), skill))]
    text = form_text(kinds, (occasion.drill, occasion.step), day, occasion.observer)
    save(target, text.encode("utf-8-sig"))  # the mark in front tells a spreadsheet that this is UTF-8
    return tr(
        "{target}: {lines} for {day}, {what}\nWrite in `times` how often each was ticked, leave "
        "the others empty, save it as CSV UTF-8, then:\n  evaltrack load {path} {target}",
        target=target,
        lines=counted(len(kinds), "line"),
        day=day,
        what=_what(occasion, skills),
        path=season.path,
    )


def _places(season) -> list[Place]:
    places = read_places(season)
    if not places:
        raise EvaltrackError(tr("every player of the season is away, so there is nobody to put on a sheet"))
    return places


def _likely(places: Sequence[Place], skill: Skill) -> tuple[list[Player], list[Player]]:
    """Return the players in the order of the sheet: those to be watched in the skill, and the others."""
    likely = [at.player for at in places if at.here and skill.suits(*at.player.positions)]
    return likely, [at.player for at in places if at.player not in likely]


def _what(occasion: Occasion, skills: Sequence[Skill]) -> str:
    names = ", ".join(skill.name for skill in skills)
    return tr("{name}: {what}", name=f"{occasion.drill.name}, {occasion.step.name}", what=names)
