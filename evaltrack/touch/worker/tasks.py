"""What the process beside the app is asked to do. No Kivy here, and nothing heavy before it is asked."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import UUID

from evaltrack.analysis.standings.standing import Coverage, Standing
from evaltrack.analysis.standings.strict_observer import StrictObserver
from evaltrack.analysis.standings.targets import Below
from evaltrack.analysis.team.course import TeamCourse
from evaltrack.analysis.team.season_view import Part, SeasonView
from evaltrack.language import tr
from evaltrack.paper.pictures import Charts
from evaltrack.rink.plan import Asked
from evaltrack.rink.plan_card import PlanCard
from evaltrack.touch.worker.problems import with_problems

if TYPE_CHECKING:
    from evaltrack.founding.demo import Stage

_TOGETHER = 2  # standings in one piece: less than a millisecond of unpickling for the screens' process


def live_standings(
    path: Path, known: UUID | None
) -> Iterator[UUID | list[Standing] | tuple[StrictObserver, ...]]:
    """Yield the edition of a season file's standings, and unless it is ``known`` these in pieces.

    Last of all, as a tuple, come the observers who are much stricter than the others.
    """
    from evaltrack.analysis.standings.live import live_strict, read_live

    edition, standings = read_live(path, known)
    yield edition
    if standings is not None:
        for start in range(0, max(len(standings), 1), _TOGETHER):
            yield standings[start : start + _TOGETHER]
        yield tuple(live_strict())


def team_in(path: Path, skill: str) -> TeamCourse | None:
    """Return what can be said of the team in a skill of a season file; None where nobody has a try in it."""
    from evaltrack.analysis.team.live_team import read_live_course

    return read_live_course(path, skill)


def below_in(path: Path, skill: str, targets: Sequence[float]) -> tuple[Below, ...]:
    """Return how many of the team are below each of these targets in a skill of a season file."""
    from evaltrack.analysis.standings.below_target import read_live_below

    return read_live_below(path, {skill: targets})[skill]


def agreement_at(path: Path, practice: str) -> list[str]:
    """Return in sentences how far the observers of a practice agreed."""
    from evaltrack.store.opening import open_season
    from evaltrack.words.agreement import of_practice

    with open_season(path) as season:
        return of_practice(season, practice)


def coverage_at(path: Path) -> list[Coverage]:
    """Return how much each player of a season file was watched in each skill."""
    from evaltrack.analysis.standings.live import read_live_coverage

    return read_live_coverage(path)


def agreement_in(path: Path) -> list[tuple[str, list[str]]]:
    """Return what is to be told of the observers of a season file: headings, each with its lines."""
    from evaltrack.store.opening import open_season
    from evaltrack.words.agreement import of_season

    with open_season(path) as season:
        return of_season(season)


def season_view(path: Path) -> SeasonView:
    """Return the season of a season file as a whole."""
    from evaltrack.analysis.team.live_team import read_live_season

    return read_live_season(path)


def save_season_pictures(folder: Path, view: SeasonView, part: Part, form: str) -> str:
    """Save the charts of a part of the season in a folder, and return a sentence that says where."""
    from evaltrack.paper.pictures import save_pictures, team_pictures

    return _where(save_pictures(team_pictures(view, form, [part]), folder))


def save_player_pictures(folder: Path, charts: Charts, names: Mapping[str, str], form: str) -> str:
    """Save a player's charts in a folder, and return a sentence that says where.

    ``names`` are those of the skills, by key.
    """
    from evaltrack.paper.pictures import player_pictures, save_pictures

    return _where(save_pictures(player_pictures(charts, names, form), folder))


def _where(saved: Sequence[Path]) -> str:
    if not saved:
        return tr("There is no chart to save here yet: the tries are too few.")
    if len(saved) == 1:
        return tr("Saved: {file}.", file=saved[0])
    return tr("{number} pictures saved in {folder}.", number=len(saved), folder=saved[0].parent)


def plan_at(path: Path, asked: Asked, day: date) -> PlanCard:
    """Return a plan for the practice of a day; a wish for other groups means those of the plan before it."""
    from dataclasses import replace

    from evaltrack.analysis.planning.planner import read_plan
    from evaltrack.store.opening import open_season
    from evaltrack.words.plan_card import card_of
    from evaltrack.words.planning import plan_names

    with open_season(path) as season:
        plan = read_plan(season, replace(asked, before=season.plans.groups_before(day)))
        names = plan_names(season.catalogue.skills(), season.catalogue.drills())
        return card_of(plan, names, season.people.players(), day)


def demo_at(path: Path, day: date) -> Iterator["Stage"]:
    """Make the season of the invented team, then a plan for its practice of a day; yield each stage.

    The season is there whole before it is planned: the founding of a season knows nothing of plans.
    """
    from evaltrack.founding.demo import Stage, make_demo
    from evaltrack.store.opening import open_season

    for stage in make_demo(path):
        yield Stage(stage.words, stage.share / 2)
    yield Stage(tr("The next practice is planned"), 0.5)
    card = plan_at(path, Asked(), day)
    with open_season(path) as season:
        season.plans.add(card)


def calendar_in(source: Path) -> object:
    """Return the ice times from today on in an iCalendar file, a `Found`."""
    from evaltrack.intake.icalendar_file import read_icalendar

    return read_icalendar(source, date.today())


def print_plan(path: Path, card: PlanCard, paper: str) -> str:
    """Print a plan beside the season files, and return a sentence that says where it is.

    Parameters
    ----------
    paper : ``letter`` or ``a4``.
    """
    from evaltrack.device.season_places import plans_folder
    from evaltrack.intake.saving import make_folder, save
    from evaltrack.paper.plan.plan_page import print_page, read_page
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        made = print_page(read_page(season, card), paper)
    target = make_folder(plans_folder(path)) / f"plan-{card.day.isoformat()}-{paper}.pdf"
    save(target, made.content)
    said = tr("Printed: {file}. The last page is for the observer alone.", file=target)
    return with_problems(said, [made.problem])


def write_out_catalogue(path: Path, place: Path) -> str:
    """Write the skills and drills of a season into a folder in a place; return a sentence that says where."""
    from evaltrack.founding.catalogue_files import DRILLS_FILE, SKILLS_FILE, write_catalogue_in
    from evaltrack.store.opening import open_season

    with open_season(path) as season:
        folder = write_catalogue_in(season, place)
    return tr("{skills} and {drills} are in {folder}.", skills=SKILLS_FILE, drills=DRILLS_FILE, folder=folder)


def write_guide(path: Path | None, folder: Path, paper: str) -> str:
    """Write the guide for observers into a folder, and return a sentence that says where it is.

    Parameters
    ----------
    path : the season file whose words stand in it; None for the words that are shipped.
    paper : ``letter`` or ``a4``.
    """
    from contextlib import nullcontext
    from datetime import date

    from evaltrack.device.season_places import season_stem
    from evaltrack.intake.saving import make_folder, save
    from evaltrack.paper.guide.guide import print_guide, read_guide
    from evaltrack.store.opening import open_season

    with open_season(path) if path else nullcontext() as season:
        guide = read_guide(season)
    made = print_guide(guide, paper, date.today())
    target = make_folder(folder) / f"{season_stem('guide', guide.team)}-{paper}.pdf"
    save(target, made.content)
    return with_problems(tr("The guide is {file}. Print both pages.", file=target), [made.problem])
