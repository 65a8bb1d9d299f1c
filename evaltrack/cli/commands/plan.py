"""The command that plans the next practice."""

from datetime import date
from pathlib import Path

import click

from evaltrack.cli.asking import command, one_paper, option, season_file
from evaltrack.cli.kinds import FILE, Band, Day, Numbers
from evaltrack.cli.telling import say, tell, warn
from evaltrack.cli.working import opened
from evaltrack.language import tr
from evaltrack.words.wording import counted, long_date

# as the choices of `rink.plan` and `rink.practice` are, which no other command waits for
GROUPS, SURFACES, BAND = ("need", "mixed", "alike"), ("full", "half", "cross"), "6-8"


_EXAMPLE = """\b
Example:  evaltrack plan lanterns.db --minutes 50 --stations 3 --here 2,4,8,10,11,13
          evaltrack plan lanterns.db --date 2026-01-31 --keep --out plan.pdf --paper a4
"""


@command(epilog=_EXAMPLE)
@season_file
@option("--minutes", type=click.IntRange(10, 240), default=60, show_default=True, help="The ice time.")
@option("--stations", type=click.IntRange(1, 12), default=3, show_default=True)
@option("--coaches", type=click.IntRange(0, 30), default=3, show_default=True)
@option("--surface", type=click.Choice(SURFACES), default=SURFACES[0], show_default=True)
@option("--here", type=Numbers(), metavar="NUMBERS", help="Who comes, as 2,4,8; else all not away.")
@option("--groups", type=click.Choice(GROUPS), default=GROUPS[0], show_default=True)
@option("--wishes", type=FILE, metavar="CSV", help="wish,player,other: together, apart, not again.")
@option(
    "--band",
    type=Band(),
    default=BAND,
    show_default=True,
    help="Of 10 tries in a step so many are to come off.",
)
@option("--format", "form", type=click.Choice(["table", "json"]), default="table", show_default=True)
@option("--date", "day", type=Day(), metavar="DATE", help="The day of the practice; else today.")
@option("--keep", is_flag=True, help="Keep the plan with the season, as the app does.")
@option("--out", "target", type=FILE, metavar="FILE", help="The PDF to write: to hang up, to watch by.")
@one_paper
def plan(
    season_file: Path,
    wishes: Path | None,
    form: str,
    surface: str,
    groups: str,
    day: date | None,
    keep: bool,
    target: Path | None,
    paper: str,
    **asked,
) -> None:
    """Plan the next practice: what to train, in which step and groups, for how long, whom to watch.

    A wish not to be together again looks at the groups of the last plan that was kept for an earlier day.
    """
    from evaltrack.analysis.planning.planner import read_plan
    from evaltrack.paper.tables.plan import as_json, as_table
    from evaltrack.rink.plan import Asked, Grouping
    from evaltrack.rink.practice import Surface
    from evaltrack.words.plan_remarks import remark_words
    from evaltrack.words.planning import plan_names

    if target and target.suffix.casefold() != ".pdf":
        raise click.BadParameter(tr("write a name that ends in .pdf"), param_hint="'--out'")
    day = day or date.today()
    with opened(season_file, of_children=True) as season:
        kinds = {"surface": Surface(surface), "grouping": Grouping(groups), "wishes": _wishes(wishes, season)}
        say(tr("working out the plan ..."))
        found = read_plan(season, Asked(**asked, **kinds, before=season.plans.groups_before(day)))
        names = plan_names(season.catalogue.skills(), season.catalogue.drills())
        players = {player.number: player.name for player in season.people.players()}
        done = keep_or_print(season, found, day, keep, target, paper)
    if form == "table":
        tell(as_table(found, names, players), end="")
        for sentence in done:
            tell(sentence)
        return
    for remark in found.remarks:
        warn(remark_words(*remark))
    tell(as_json(found, names), end="")


def keep_or_print(season, found, day: date, keep: bool, target: Path | None, paper: str) -> list[str]:
    """Keep a plan with an open season, write its pages, whichever is wanted, and say what was done."""
    if not (keep or target):
        return []
    from evaltrack.device.tablet import load_tablet
    from evaltrack.words.plan_card import card_of
    from evaltrack.words.planning import plan_names

    names = plan_names(season.catalogue.skills(), season.catalogue.drills())
    card = card_of(found, names, season.people.players(), day)
    said = []
    if keep:
        season.plans.add(card, load_tablet().id)
        said.append(tr("kept with the season for {day}", day=long_date(day)))
    if target:
        said.append(_print(season, card, target, paper))
    return said


def _print(season, card, target: Path, paper: str) -> str:
    from evaltrack.intake.saving import save
    from evaltrack.paper.plan.plan_page import print_page, read_page

    say(tr("printing ..."))
    made = print_page(read_page(season, card), paper)
    save(target, made.content)
    if made.problem:
        warn(made.problem)
    pages = counted(made.pages, "page")
    return tr("{name}: {what}", name=target, what=f"{pages} ({paper})")


def _wishes(path: Path | None, season) -> tuple:
    from evaltrack.intake.wishes import read_wishes

    roster = [player.number for player in season.people.players()]
    return tuple(read_wishes(path, roster)) if path else ()
