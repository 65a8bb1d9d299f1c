"""The plan of a practice in sentences that a coach reads. None of them says that players learn most by it."""

from collections.abc import Collection
from math import ceil, floor

from evaltrack.analysis.standings.standing import ENOUGH_PRACTICES, ENOUGH_TRIES
from evaltrack.language import mark, tr, tr_many
from evaltrack.rink.plan import (
    Block,
    Grouping,
    Likely,
    Look,
    Need,
    Part,
    Plan,
)
from evaltrack.rink.practice import Surface
from evaltrack.words.below import need_below_words
from evaltrack.words.plan_forecasts import forecast_words, pace_words, steps_words, tries_each  # noqa: F401
from evaltrack.words.plan_names import PlanNames, plan_names  # noqa: F401  asked for here
from evaltrack.words.wording import FRESH_DAYS, counted, decimal, listed

CLAIM = mark(
    "The plan shares out the ice by where tries come off seldom, or were few. It does not say that players "
    "learn most this way."
)
BY_NOTHING = mark("Nothing is known of it yet; it comes in its turn, from easy to hard.")
NO_NEED = mark("None of its skills stands out as a need; it comes in its turn.")
_SETTLED = 0.8  # the probability of a side from which a call is made
_PARTS = {
    Part.WARM_UP: mark("Warm-up: everybody moves."),
    Part.BOARD: mark("At the board: what comes next, in few words."),
    Part.CHANGEOVER: mark("Everybody goes on to what is next."),
}
_TOO_LARGE = {
    Surface.FULL: mark("It is drawn on full ice: make it smaller."),
    Surface.HALF: mark("It is drawn on half ice: make it smaller."),
}
_GROUPINGS = {
    Grouping.NEED: mark("by need: each begins at the station that serves them"),
    Grouping.MIXED: mark("mixed: of each third of the team, by level, as many in every group"),
    Grouping.ALIKE: mark("alike: players of like level together, the first group at the easiest station"),
}


def need_words(need: Need, names: PlanNames) -> str:
    """Return the reason for training a skill, in one sentence."""
    short = tr_many(
        "the one player with a try in it is {points} short of it on average",
        "the {number} players with a try in it are {points} short of it on average",
        need.players,
        points=counted(round(need.short.value), "point"),
    )
    return tr(
        "{skill}: {below}; {short} ({span}); {lately}.",
        skill=names.skills[need.skill],
        below=need_below_words(need),
        short=short,
        span=_span(need.short),
        lately=_lately(need),
    )


def _lately(need: Need) -> str:
    if not need.practices:
        return tr("not tallied lately")
    return tr_many(
        "{tallies} of the {of} tallies of the last practice were in it",
        "{tallies} of the {of} tallies of the last {number} practices were in it",
        need.practices,
        tallies=need.tallies,
        of=need.of,
    )


def named_words(need: Need) -> str:
    """Return whom the call ``work on`` names, for the staff alone; empty where it names nobody."""
    seen = tr("{number} not seen in it yet", number=need.unseen) if need.unseen else ""
    named = tr("work on with {players}", players=listed(need.named)) if need.named else ""
    return "; ".join(filter(None, (named, seen)))


def why_words(block: Block, plan: Plan, names: PlanNames, told: Collection[str] = ()) -> str:
    """Return why a block is in the plan, and what it gives.

    The need in the skills that are ``told`` elsewhere does not stand here.
    """
    if not block.drill:
        said = _own(plan) if block.part is Part.OWN else tr(_PARTS[block.part])
        return " ".join(filter(None, (said, _aside(block, plan, names))))
    return " ".join(filter(None, (_reason(block, plan, names, told), *_of_step(block, plan, names))))


def _own(plan: Plan) -> str:
    if any(block.part is Part.STATION for block in plan.blocks):
        return tr("Each group is once more at the station where it began.")
    return tr("Each group stays at its station.")


def _reason(block: Block, plan: Plan, names: PlanNames, told: Collection[str]) -> str:
    if block.need is None:
        return tr(BY_NOTHING)
    if block.need.skill not in {need.skill for need in plan.needs}:
        return tr(NO_NEED)
    if block.need.skill in told:
        return "" if block.forecast else tr("For {skill}.", skill=names.skills[block.need.skill])
    return need_words(block.need, names)


def _of_step(block: Block, plan: Plan, names: PlanNames) -> tuple[str, ...]:
    return (
        forecast_words(block.forecast, plan.asked.band, names) if block.forecast else "",
        _tries(block, names),
        _aside(block, plan, names),
        _coach(block),
        _ice(block, plan),
    )


def _ice(block: Block, plan: Plan) -> str:
    if block.surface is None or block.surface.need <= plan.asked.surface.room:
        return ""
    return tr(_TOO_LARGE[block.surface])


def _coach(block: Block) -> str:
    if block.coached:
        return ""
    if block.contact:
        return tr("No coach is left for it.")
    return tr("It needs no coach: nobody goes at anybody in it.")


def _tries(block: Block, names: PlanNames) -> str:
    wanted = block.need.skill if block.need else next(iter(block.skills), None)
    tries = [one.tries for one in block.tries if one.skill == wanted]
    if not tries or block.pace is None:
        return ""
    return tries_each(round(min(tries)), round(max(tries)), names.skills[wanted], pace_words(block.pace))


def _aside(block: Block, plan: Plan, names: PlanNames) -> str:
    if not block.stand_aside:
        return ""
    who, number = listed(block.stand_aside), len(block.stand_aside)
    calm = [b for b in plan.blocks if b.part is Part.STATION and not b.contact]
    if block.part is Part.STATION and calm:
        return tr_many(
            "{players} takes no contact: meanwhile at {step}.",
            "{players} take no contact: meanwhile at {step}.",
            number,
            players=who,
            step=names.step(calm[0].drill, calm[0].step),
        )
    return tr_many(
        "{players} takes no contact and stays out of it.",
        "{players} take no contact and stay out of it.",
        number,
        players=who,
    )


def look_words(look: Look) -> str:
    """Return why a player is to be looked at, in a few words."""
    if look.tries == 0:
        return tr("never seen in it")
    seen = tr(
        "{tries} at {practices}",
        tries=counted(look.tries, "try", "tries"),
        practices=counted(look.practices, "practice"),
    )
    if look.tries < ENOUGH_TRIES or look.practices < ENOUGH_PRACTICES:
        said = tr("{seen}: too few for a call", seen=seen)
    else:
        said = _may_settle(look, seen) if look.visits else seen
    days = look.days_since or 0
    if days <= FRESH_DAYS:
        return said
    return tr("{seen}; last seen {days} days before the last practice", seen=said, days=days)


def _may_settle(look: Look, seen: str) -> str:
    if look.now >= _SETTLED:
        return tr_many(
            "{seen}, a call to make surer: the next practice may settle it",
            "{seen}, a call to make surer: the next {number} practices may settle it",
            look.visits,
            seen=seen,
        )
    return tr_many(
        "{seen}, no call yet: the next practice may settle it",
        "{seen}, no call yet: the next {number} practices may settle it",
        look.visits,
        seen=seen,
    )


def groups_words(plan: Plan) -> str:
    """Return how the groups were made, and whether there are better ones."""
    grouping = tr(_GROUPINGS[plan.asked.grouping])
    if plan.optimal:
        return tr("{grouping}; none are better by this rule", grouping=grouping)
    gap = decimal(plan.gap, 2)
    return tr("{grouping}; they may still be {gap} from the best", grouping=grouping, gap=gap)


def _span(likely: Likely) -> str:
    low, high = floor(round(likely.low, 9)), ceil(round(likely.high, 9))
    return tr("{low} to {high}", low=low, high=high)
