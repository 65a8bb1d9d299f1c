"""The command that makes the demo season."""

import os
from datetime import timedelta
from pathlib import Path

import click

from evaltrack.cli.asking import argument, command, option
from evaltrack.cli.commands.plan import keep_or_print
from evaltrack.cli.kinds import FILE
from evaltrack.cli.telling import tell
from evaltrack.cli.working import contents, created, noted, taken_in, worked_out
from evaltrack.errors import EvaltrackError
from evaltrack.founding.demo import DEMO_AGE_CLASS, DEMO_FILE, DEMO_TEAM
from evaltrack.founding.season import shipped
from evaltrack.intake.saving import new_folder, save
from evaltrack.language import tr
from evaltrack.paper.tables.standings import as_csv
from evaltrack.words.wording import counted, long_date


@command(epilog="\b\nExample:  evaltrack demo trial --open")
@argument("folder", metavar="[DIR]", type=FILE, default=Path("demo"), required=False)
@option("--open", "open_after", is_flag=True, help="Open the app on it afterwards.")
@click.pass_context
def demo(ctx: click.Context, folder: Path, open_after: bool) -> None:
    """Make the demo season, whole: season file, standings, notes, plan. Team and tallies are invented."""
    target = folder / DEMO_FILE
    _refuse_taken(target)
    with new_folder(folder):
        season = created(target, DEMO_TEAM, DEMO_AGE_CLASS, shipped("roster.csv"), invented=True)
    with season:
        first_page = _fill(season, folder)
    tell(tr("\nTeam and tallies are invented. Next:\n  evaltrack open {target}", target=target))
    tell(f"  evaltrack standings {target}")
    if first_page:
        tell(tr("  and read {page}", page=first_page))
    if open_after:
        ctx.obj(target)


def _fill(season, folder: Path) -> Path | None:
    """Fill the demo season, tell each stage, and return the first family's page."""
    tell(tr("1 of 5  season file   {path}: {contents}", path=season.path, contents=contents(season)))
    tell(tr("2 of 5  tallies       {what}", what=taken_in(season, shipped("tallies.csv"))))
    standings = worked_out(season)
    save(folder / "standings.csv", as_csv(standings).encode("utf-8"))
    tell(
        tr(
            "3 of 5  standings     {file}: {rows}",
            file=folder / "standings.csv",
            rows=counted(len(standings), "row"),
        )
    )
    pages = [note.path for note in noted(season, standings, folder / "notes") if note.path]
    tell(
        tr(
            "4 of 5  notes         {folder}: {pages}",
            folder=folder / "notes",
            pages=counted(len(pages), "page"),
        )
    )
    tell(tr("5 of 5  plan          {what}", what=_planned(season, folder / "plan.pdf")))
    return pages[0] if pages else None


def _planned(season, target: Path) -> str:
    """Plan a practice two days after the last one, keep it, print it, and say where it is."""
    from evaltrack.analysis.planning.planner import read_plan
    from evaltrack.rink.plan import Asked

    day = max(practice.held_on for practice in season.practices.all()) + timedelta(2)
    keep_or_print(season, read_plan(season, Asked()), day, True, target, "letter")
    return tr("{target}: the practice of {day}", target=target, day=long_date(day))


def _refuse_taken(target: Path) -> None:
    if os.path.lexists(target):
        raise EvaltrackError(
            tr(
                '"{target}" is there already; go on with it by "evaltrack open {target}", or make a '
                'fresh one elsewhere by "evaltrack demo FOLDER"',
                target=target,
            )
        )
