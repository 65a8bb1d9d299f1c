"""A plan as a coach has it in hand, made from one that was worked out; its blocks and groups in words."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from evaltrack.language import mark, tr
from evaltrack.rink.plan import Block, Part, Plan
from evaltrack.rink.plan_card import STEPS, CardBlock, CardLook, CardPlace, PlanCard
from evaltrack.rink.player import Player, by_number
from evaltrack.words.plan_remarks import remark_words
from evaltrack.words.plan_wishes import card_wishes
from evaltrack.words.planning import (
    CLAIM,
    PlanNames,
    groups_words,
    look_words,
    named_words,
    need_words,
    pace_words,
    steps_words,
    tries_each,
    why_words,
)
from evaltrack.words.wording import counted

ICE = {"full": mark("full ice"), "half": mark("half ice"), "cross": mark("cross ice")}
PARTS = {
    Part.WARM_UP: mark("Warm-up"),
    Part.BOARD: mark("At the board"),
    Part.CHANGEOVER: mark("Changeover"),
    Part.OWN: mark("Each group at its own station"),
}
GOES_ON = mark("After each round every group goes on to the next station, from the last one to the first.")


def card_of(plan: Plan, names: PlanNames, players: Iterable[Player], day: date) -> PlanCard:
    """Return a plan that was worked out as it is kept. ``players`` are the roster."""
    by_shirt = {player.number: player for player in players}
    watched = {watch.block: watch.skill for watch in plan.watch}
    stations = {number: group.station for group in plan.groups for number in group.players}
    held = {number for number, _ in plan.asked.held_players}
    expected = sorted((by_shirt[number] for number in stations), key=by_number)
    told = {need.skill for need in plan.needs}
    return PlanCard(
        day=day,
        blocks=tuple(
            _block(block, plan, names, watched.get(at, ""), told) for at, block in enumerate(plan.blocks)
        ),
        starts=plan.starts,
        places={p.id: CardPlace(stations[p.number], p.number in held) for p in expected},
        looks=tuple(
            CardLook(watch.block, by_shirt[look.player].id, look_words(look))
            for watch in plan.watch
            for look in watch.looks
        ),
        train=tuple((need.skill, _reason(need, plan, names)) for need in plan.needs),
        remarks=_remarks(plan),
        stations=plan.asked.stations,
        coaches=plan.asked.coaches,
        surface=plan.asked.surface,
        grouping=plan.asked.grouping,
        band=plan.asked.band,
        wishes=card_wishes(plan, by_shirt),
    )


def _block(block: Block, plan: Plan, names: PlanNames, watch: str, told: Iterable[str]) -> CardBlock:
    wanted = block.need.skill if block.need else next(iter(block.skills), "")
    skills = tuple(dict.fromkeys(filter(None, (wanted, *block.skills))))
    tries = [one.tries for one in block.tries if one.skill == wanted] if block.pace else []
    return CardBlock(
        part=block.part,
        minutes=block.minutes,
        drill=block.drill,
        step=block.step,
        skills=skills,
        watch=watch,
        why=why_words(replace(block, tries=()), plan, names, told),
        pace=pace_words(block.pace) if block.pace else "",
        fewest=min(tries, default=0.0),
        most=max(tries, default=0.0),
    )


def _reason(need, plan: Plan, names: PlanNames) -> str:
    steps = steps_words([one for one in plan.forecasts if one.skill == need.skill], names)
    return " ".join(
        _sentence(words) for words in (need_words(need, names), named_words(need), steps) if words
    )


def _remarks(plan: Plan) -> tuple[str, ...]:
    told = [remark_words(*remark) for remark in plan.remarks]
    return (*told, _sentence(tr("Groups {how}", how=groups_words(plan))), tr(CLAIM))


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:] + ("" if words.endswith(".") else ".")


def step_words(drill: str, step: str, names: PlanNames) -> str:
    """Return the names of drill and step; of one that is gone from the catalogue the keys."""
    return ", ".join(names.steps.get((drill, step), (drill, step)))


def title_of(block: CardBlock, names: PlanNames) -> str:
    """Return what is done in a block: ``Breakout and attack, 2 against 1``."""
    return tr(PARTS[block.part]) if block.part in PARTS else step_words(block.drill, block.step, names)


def tries_words(block: CardBlock, names: PlanNames) -> str:
    """Return how many tries each player can expect; empty where nothing is known of it."""
    fewest, most = round(block.fewest), round(block.most)
    if not (block.skills and block.pace and most):
        return ""
    return tries_each(fewest, most, names.skills.get(block.skills[0], block.skills[0]), block.pace)


def clock_words(card: PlanCard, at: int) -> str:
    """Return the minutes on the clock between which a block runs: ``10–19``."""
    start = card.starts_at(at)
    return f"{start}–{start + card.blocks[at].minutes}"


def place_words(card: PlanCard, at: int) -> str:
    """Return which station a block is, or between which minutes on the clock it runs.

    A station runs in every round, so it has no minutes of its own.
    """
    if at not in card.rounds:
        return clock_words(card, at)
    return tr("Station {number}", number=card.rounds.index(at) + 1)


def rounds_words(card: PlanCard) -> tuple[str, str]:
    """Return between which minutes the groups go round the stations, and how; empty if they do not."""
    if not card.rounds:
        return "", ""
    first, last = card.rounds[0], card.rounds[-1]
    clock = f"{card.starts_at(first)}–{card.starts_at(last) + card.blocks[last].minutes}"
    each = ", ".join(clock_words(card, at) for at in card.rounds)
    return clock, tr("{number} stations at once, in rounds: {clocks}", number=len(card.rounds), clocks=each)


def minutes_words(card: PlanCard, at: int) -> str:
    """Return how long a block is; of a station how long a round is."""
    if at not in card.rounds:
        return tr("{minutes} min", minutes=card.blocks[at].minutes)
    rounds = [card.blocks[n].minutes for n in card.rounds]
    if min(rounds) == max(rounds):
        return tr("{minutes} min a round", minutes=rounds[0])
    return tr("{low} to {high} min a round", low=min(rounds), high=max(rounds))


def there_words(card: PlanCard, look: CardLook) -> str:
    """Return when a player who is to be looked at is in the step: ``10–17, 34–41``."""
    return ", ".join(clock_words(card, at) for at in card.times_of(look.player, look.block))


def told_apart(card: PlanCard) -> list[int]:
    """Return the blocks that are told one by one: not the changeovers between the rounds."""
    within = range(card.rounds[0], card.rounds[-1]) if card.rounds else ()
    return [at for at in range(len(card.blocks)) if at not in within or at in card.rounds]


def for_words(block: CardBlock, names: PlanNames, most: int = 3) -> str:
    """Return which skills a block is for, most needed first, so many at most."""
    return ", ".join(names.skills.get(key, key) for key in block.skills[:most])


def summary_words(card: PlanCard, place: str = "") -> str:
    """Return ice time, surface, and how many players; then the place, or how many stations without one."""
    players, stations = len(card.places), len(card.starts)
    parts = (
        counted(card.minutes, "minute"),
        tr(ICE[card.surface]),
        counted(players, "player"),
        place or counted(stations, "station"),
    )
    return ", ".join(parts)


def train_words(card: PlanCard, names: PlanNames) -> str:
    """Return the names of the skills that are to be trained."""
    return ", ".join(names.skills.get(skill, skill) for skill, _ in card.train)


def steps_of(blocks: Sequence[CardBlock]) -> list[int]:
    """Return the places of the blocks that have a step."""
    return [at for at, block in enumerate(blocks) if block.part in STEPS]
