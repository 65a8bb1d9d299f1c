"""The commands that make and fill a season file."""

import os
from pathlib import Path

import click

from evaltrack.cli.asking import command, season_file
from evaltrack.cli.kinds import FILE, Words
from evaltrack.cli.telling import tell
from evaltrack.cli.working import created, noted, opened, shipped, taken_in, worked_out
from evaltrack.errors import EvaltrackError
from evaltrack.intake.roster import LONGEST_NAME
from evaltrack.intake.saving import make_folder, save
from evaltrack.paper.tables.standings import as_csv
from evaltrack.words.wording import counted

DEMO_TEAM, DEMO_AGE_CLASS = "Kettle Bay Lanterns", "12U"
DEMO_FILE = "kettle-bay-lanterns-12u.db"
_NEW = """\b
Example:  evaltrack new lanterns.db --team "Kettle Bay Lanterns" --age-class 12U \\
              --roster roster.csv
"""


@command(epilog="\b\nExample:  evaltrack demo trial --open")
@click.argument("folder", metavar="[DIR]", type=FILE, default=Path("demo"), required=False)
@click.option("--open", "open_after", is_flag=True, help="Open the app on it afterwards.")
@click.pass_context
def demo(ctx: click.Context, folder: Path, open_after: bool) -> None:
    """Make the demo season, whole: season file, standings, notes. Team and tallies are invented."""
    target = folder / DEMO_FILE
    _make_room(folder, target)
    with created(target, DEMO_TEAM, DEMO_AGE_CLASS, shipped("roster.csv")) as season:
        first_page = _fill(season, folder)
    tell(f"\nTeam and tallies are invented. Next:\n  evaltrack open {target}")
    tell(f"  evaltrack standings {target}")
    if first_page:
        tell(f"  and read {first_page}")
    if open_after:
        ctx.obj(target)


@command(epilog=_NEW)
@season_file
@click.option("--team", required=True, metavar="NAME", type=Words("the team", LONGEST_NAME))
@click.option("--age-class", required=True, metavar="CLASS", type=Words("the age class", LONGEST_NAME))
@click.option(
    "--roster", required=True, type=FILE, metavar="CSV", help="number,name,position[,birth_year][,status]"
)
@click.option("--skills", type=FILE, metavar="TOML", help="Your own skills instead of those shipped.")
@click.option("--drills", type=FILE, metavar="TOML", help="Your own drills instead of those shipped.")
def new(season_file: Path, team: str, age_class: str, roster: Path, skills: Path, drills: Path) -> None:
    """Make a new season file from a roster."""
    with created(season_file, team, age_class, roster, skills, drills) as season:
        tell(f"{season_file}: {season.team}, {_contents(season)}")


@command(epilog="\b\nExample:  evaltrack load lanterns.db tallies.csv")
@season_file
@click.argument("tallies", metavar="TALLIES.csv", type=FILE)
def load(season_file: Path, tallies: Path) -> None:
    """Take in tallies from a CSV file: all of it or, when a line is wrong, nothing.

    Its columns are date,drill,step,skill,player,outcome[,pressure][,observer][,time][,times]: a line is
    one try, or as many as `times` says, and none when that is empty. Loading the same file again adds
    nothing.
    """
    with opened(season_file) as season:
        tell(taken_in(season, tallies))


def _fill(season, folder: Path) -> Path | None:
    """Fill the demo season, tell each stage, and return the first family's page."""
    tell(f"1 of 4  season file   {season.path}: {_contents(season)}")
    tell(f"2 of 4  tallies       {taken_in(season, shipped('tallies.csv'))}")
    standings = worked_out(season)
    save(folder / "standings.csv", as_csv(standings).encode("utf-8"))
    tell(f"3 of 4  standings     {folder / 'standings.csv'}: {counted(len(standings), 'row')}")
    pages = [note.path for note in noted(season, standings, folder / "notes") if note.path]
    tell(f"4 of 4  notes         {folder / 'notes'}: {counted(len(pages), 'page')}")
    return pages[0] if pages else None


def _contents(season) -> str:
    parts = (
        (season.people.players(), "player"),
        (season.catalogue.skills(), "skill"),
        (season.catalogue.drills(), "drill"),
    )
    return ", ".join(counted(len(found), noun) for found, noun in parts)


def _make_room(folder: Path, target: Path) -> None:
    if os.path.lexists(target):
        raise EvaltrackError(
            f'"{target}" is there already; go on with it by "evaltrack open {target}", '
            'or make a fresh one elsewhere by "evaltrack demo FOLDER"'
        )
    make_folder(folder)
