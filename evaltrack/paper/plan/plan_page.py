"""What stands on the pages of a plan, as plain data.

The first page may hang on a wall: numbers and first names, and no call or count beside any of them. The
second one is for the observer: what to watch in each block, and whom to look at first.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID

from evaltrack.language import language, mark, tr
from evaltrack.paper import palette
from evaltrack.paper.plan.rink_drawing import drawing_of, in_words
from evaltrack.paper.render import Printed, print_pdf
from evaltrack.rink.days import in_full
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.ice_time import IceTime
from evaltrack.rink.plain_text import capital
from evaltrack.rink.plan import Part
from evaltrack.rink.plan_card import STEPS, CardBlock, PlanCard
from evaltrack.rink.player import Player, by_number
from evaltrack.rink.short_names import short_names
from evaltrack.words.calendar import when_words
from evaltrack.words.plan_card import (
    GOES_ON,
    ICE,
    clock_words,
    for_words,
    place_words,
    rounds_words,
    step_words,
    summary_words,
    there_words,
    title_of,
    told_apart,
    train_words,
)
from evaltrack.words.planning import CLAIM, PlanNames, plan_names

PAPERS = {"letter": "us-letter", "a4": "a4"}
CAUTION = mark("Who was knocked leaves the ice. Where there is contact, your local rules come first.")
WATCHER = mark(
    "Look at these players first, at the minutes that stand beside them; then at everybody "
    "else. Keep this page to the staff."
)
_LABELS = {
    "ice-time": mark("The ice time"),
    "clock": mark("Clock"),
    "what": mark("What"),
    "groups-heading": mark("Groups"),
    "for-observer": mark("For the observer"),
    "number": mark("No."),
    "player": mark("Player"),
    "minutes": mark("Minutes"),
    "why": mark("Why"),
    "evenly": mark("Nothing stands out: watch everybody evenly."),
}
_TEMPLATE = Path(__file__).resolve().with_name("plan.typ")


@dataclass(frozen=True, slots=True)
class PlanPage:
    """A plan, and the words of the season in which it is told; ``ice`` is its ice time, where it has one."""

    card: PlanCard
    team: str
    names: PlanNames
    steps: Mapping[tuple[str, str], Step]
    players: Mapping[UUID, Player]
    ice: IceTime | None = None


def make_page(team: str, card: PlanCard, skills, drills: Sequence[Drill], players, ice=None) -> PlanPage:
    """Return the pages of a plan for a team with these skills, drills and players."""
    steps = {(drill.key, step.key): step for drill in drills for step in drill.steps}
    return PlanPage(
        card, team, plan_names(skills, drills), steps, {player.id: player for player in players}, ice
    )


def read_page(season, card: PlanCard) -> PlanPage:
    """Return the pages of a plan in the words of a season that is open."""
    catalogue = season.catalogue
    drills = [*catalogue.drills(), *catalogue.drills(retired=True)]
    entries = season.calendar.all() if card.ice_time else ()
    ice = next((one for one in entries if one.uid == card.ice_time), None)
    return make_page(str(season.team), card, catalogue.skills(), drills, season.people.everyone(), ice)


def print_page(page: PlanPage, paper: str) -> Printed:
    """Return the plan as a PDF. ``paper`` is a key of ``PAPERS``."""
    return print_pdf(_TEMPLATE, _words(page, paper), page.card.day)


def _words(page: PlanPage, paper: str) -> dict:
    card = page.card
    train = train_words(card, page.names)
    when = capital(when_words(page.ice) if page.ice else in_full(card.day))
    return {
        "title": tr("Practice plan, {day}: {team}", day=in_full(card.day), team=page.team),
        "language": language().value,
        **{name: tr(words) for name, words in _LABELS.items()},
        "heading": when,
        "team": page.team,
        "paper": PAPERS[paper],
        "palette": palette.NAMES,
        "summary": ", ".join(filter(None, (summary_words(card), page.ice and page.ice.place))),
        "train": tr("Train: {skills}", skills=train) if train else "",
        "blocks": _blocks(page),
        "groups": _groups(page),
        "goes-on": tr(GOES_ON) if card.goes_round else "",
        "drawings": _drawings(page),
        "claim": tr(CLAIM),
        "caution": tr(CAUTION),
        "watcher": tr(WATCHER),
        "watch": _watch(page),
    }


def _blocks(page: PlanPage) -> list[dict]:
    """Return the ice time row by row: the stations run at once, so their rounds have one row before them."""
    card, found = page.card, []
    for at in told_apart(card):
        if at in card.rounds[:1]:
            clock, name = rounds_words(card)
            found.append({"clock": clock, "minutes": "", "name": name, "for": "", "quiet": True})
        found.append(_block(page, at))
    return found


def _block(page: PlanPage, at: int) -> dict:
    card, block = page.card, page.card.blocks[at]
    station = at in card.rounds
    name = title_of(block, page.names)
    name = tr("{step}, all together", step=name) if block.part is Part.TOGETHER else name
    return {
        "clock": "" if station else clock_words(card, at),
        "minutes": "" if station else tr("{number} min", number=block.minutes),
        "name": f"{card.rounds.index(at) + 1}  {name}" if station else name,
        "for": _for(page, block) if block.part in STEPS else "",
        "quiet": block.part is Part.CHANGEOVER,
    }


def _for(page: PlanPage, block: CardBlock) -> str:
    """Return the ice that a step needs, while the season has it, and which skills it is for."""
    step = page.steps.get((block.drill, block.step))
    return ", ".join(filter(None, (step and tr(ICE[step.surface]), for_words(block, page.names))))


def _groups(page: PlanPage) -> list[dict]:
    card, found = page.card, []
    short = short_names(page.players[ident] for ident in card.places)
    for station, group in enumerate(card.groups):
        players = sorted((page.players[ident] for ident in group), key=by_number)
        found.append(
            {
                "name": tr("Group {group}", group=station + 1),
                "begins": tr("begins at {step}", step=step_words(*card.starts[station], page.names)),
                "players": [[player.number, short[player.id]] for player in players],
            }
        )
    return found


def _drawings(page: PlanPage) -> list[dict]:
    """Return a drawing of each step of the plan, once, in order of time."""
    keys = [(block.drill, block.step) for block in page.card.blocks if block.part in STEPS]
    wanted = dict.fromkeys([*keys, *page.card.starts])
    found = [(key, page.steps[key]) for key in wanted if key in page.steps]
    return [
        {**drawing_of(step), "name": step_words(*key, page.names), "alt": in_words(step)}
        for key, step in found
    ]


def _watch(page: PlanPage) -> list[dict]:
    card, found = page.card, []
    short = short_names(page.players[ident] for ident in card.places)
    for at, block in enumerate(card.blocks):
        if block.watch:
            looks = [look for look in card.looks if look.block == at]
            found.append(
                {
                    "place": place_words(card, at),
                    "name": title_of(block, page.names),
                    "skill": page.names.skills.get(block.watch, block.watch),
                    "looks": [
                        [
                            *(page.players[one.player].number, _short(one.player, short, page)),
                            *(there_words(card, one), one.why),
                        ]
                        for one in looks
                    ],
                }
            )
    return found


def _short(player: UUID, short: Mapping[UUID, str], page: PlanPage) -> str:
    return short.get(player) or page.players[player].name.split(" ")[0]
