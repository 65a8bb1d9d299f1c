"""The plan of a practice in sentences that a coach reads. None of them says that players learn most by it."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor

from evaltrack.analysis.standings.standing import ENOUGH_PRACTICES, ENOUGH_TRIES
from evaltrack.rink.drill import Drill
from evaltrack.rink.plan import (
    Basis,
    Block,
    Forecast,
    Grouping,
    Likely,
    Look,
    Need,
    Pace,
    Part,
    Plan,
)
from evaltrack.rink.practice import Surface
from evaltrack.rink.skill import Skill
from evaltrack.words.below import need_below_words
from evaltrack.words.wording import counted

CLAIM = (
    "The plan shares out the ice by where tries come off seldom, or were few. It does not say that players "
    "learn most this way."
)
BY_NOTHING = "Nothing is known of it yet; it comes in its turn, from easy to hard."
NO_NEED = "None of its skills stands out as a need; it comes in its turn."
_SETTLED = 0.8  # the probability of a side from which a call is made
_PARTS = {
    Part.WARM_UP: "Warm-up: everybody moves.",
    Part.BOARD: "At the board: what comes next, in few words.",
    Part.CHANGEOVER: "Everybody goes on to what is next.",
}
_TOO_LARGE = {
    Surface.FULL: "It is drawn on full ice: make it smaller.",
    Surface.HALF: "It is drawn on half ice: make it smaller.",
}
_GROUPINGS = {
    Grouping.NEED: "by need: each begins at the station that serves them",
    Grouping.MIXED: "mixed: of each third of the team, by level, as many in every group",
    Grouping.ALIKE: "alike: players of like level together, the first group at the easiest station",
}


@dataclass(frozen=True)
class PlanNames:
    """The names of skills by key, and of drill and step by both keys."""

    skills: Mapping[str, str]
    steps: Mapping[tuple[str, str], tuple[str, str]]

    def step(self, drill: str, step: str) -> str:
        """Return ``Breakout and attack, 2 against 1``."""
        return ", ".join(self.steps[drill, step])


def plan_names(skills: Iterable[Skill], drills: Iterable[Drill]) -> PlanNames:
    """Return the names that a plan is told in."""
    steps = {(drill.key, step.key): (drill.name, step.name) for drill in drills for step in drill.steps}
    return PlanNames({skill.key: skill.name for skill in skills}, steps)


def need_words(need: Need, names: PlanNames) -> str:
    """Return the reason for training a skill, in one sentence."""
    below, one = need_below_words(need), need.players == 1
    who = "the one player" if one else f"the {need.players} players"
    points = counted(round(need.short.value), "point")
    short = f"{who} with a try in it {'is' if one else 'are'} {points} short of it on average"
    said = f"{names.skills[need.skill]}: {below}; {short} ({_span(need.short)})"
    return f"{said}; {_lately(need)}."


def _lately(need: Need) -> str:
    if not need.practices:
        return "not tallied lately"
    when = "last practice" if need.practices == 1 else f"last {need.practices} practices"
    return f"{need.tallies} of the {need.of} tallies of the {when} were in it"


def named_words(need: Need) -> str:
    """Return whom the call ``work on`` names, for the staff alone; empty where it names nobody."""
    seen = f"{need.unseen} not seen in it yet" if need.unseen else ""
    named = f"work on with {_listed(need.named)}" if need.named else ""
    return "; ".join(filter(None, (named, seen)))


def why_words(block: Block, plan: Plan, names: PlanNames, told: Collection[str] = ()) -> str:
    """Return why a block is in the plan, and what it gives.

    The need in the skills that are ``told`` elsewhere does not stand here.
    """
    if not block.drill:
        said = _own(plan) if block.part is Part.OWN else _PARTS[block.part]
        return " ".join(filter(None, (said, _aside(block, plan, names))))
    return " ".join(filter(None, (_reason(block, plan, names, told), *_of_step(block, plan, names))))


def _own(plan: Plan) -> str:
    if any(block.part is Part.STATION for block in plan.blocks):
        return "Each group is once more at the station where it began."
    return "Each group stays at its station."


def _reason(block: Block, plan: Plan, names: PlanNames, told: Collection[str]) -> str:
    if block.need is None:
        return BY_NOTHING
    if block.need.skill not in {need.skill for need in plan.needs}:
        return NO_NEED
    if block.need.skill in told:
        return "" if block.forecast else f"For {names.skills[block.need.skill]}."
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
    return _TOO_LARGE[block.surface]


def _coach(block: Block) -> str:
    if block.coached:
        return ""
    return "No coach is left for it." if block.contact else "It needs no coach: nobody goes at anybody in it."


def forecast_words(forecast: Forecast, band: tuple[float, float], names: PlanNames) -> str:
    """Return how often a skill is predicted to come off in the step, and whether that is in the band."""
    share, asked = forecast.share, f"{_tenth(band[0])} to {_tenth(band[1])} in 10"
    low, high = floor(round(10 * share.low, 9)), ceil(round(10 * share.high, 9))
    about = round(share.value, 2)  # as it is told
    where = "below" if about < band[0] else "above" if about > band[1] else "within"
    often = f"about {_tenth(share.value)} times in 10 ({low} to {high})"
    said = f"{names.skills[forecast.skill]} is predicted to come off {often} in this step"
    never = "" if forecast.tries else ", where it was never tallied, so that is a guess"
    return f"{said}{never}: {where} the {asked} that were asked for."


def steps_words(forecasts: Sequence[Forecast], names: PlanNames) -> str:
    """Return how often a skill is predicted to come off in each of its steps."""
    told = [f"{names.step(one.drill, one.step)}: {_tenth(one.share.value)}{_guess(one)}" for one in forecasts]
    return f"predicted of 10: {'; '.join(told)}" if told else ""


def _guess(forecast: Forecast) -> str:
    return "" if forecast.tries else " (never tallied there, a guess)"


def _tenth(share: float) -> str:
    return f"{10 * share:.1f}".removesuffix(".0")


def _tries(block: Block, names: PlanNames) -> str:
    wanted = block.need.skill if block.need else next(iter(block.skills), None)
    tries = [one.tries for one in block.tries if one.skill == wanted]
    if not tries or block.pace is None:
        return ""
    fewest, most = round(min(tries)), round(max(tries))
    span = f"{fewest} to {most}" if fewest < most else f"{most}"
    return f"About {span} tries each in {names.skills[wanted]}, at {pace_words(block.pace)}."


def pace_words(pace: Pace) -> str:
    """Return how many reps a minute there are, and how that is known."""
    reps = f"{pace.reps:.1f}".removesuffix(".0")
    if pace.basis is Basis.REPS:
        return f"{reps} reps a minute as this team made them ({counted(pace.counted, 'rep')} counted)"
    if pace.basis is Basis.TALLIES:
        return f"{reps} reps a minute or more, by the times of {counted(pace.counted, 'tally', 'tallies')}"
    return f"{reps} reps a minute, a common default: how many this team makes is not known"


def _aside(block: Block, plan: Plan, names: PlanNames) -> str:
    if not block.stand_aside:
        return ""
    who = f"{_listed(block.stand_aside)} {'takes' if len(block.stand_aside) == 1 else 'take'} no contact"
    calm = [b for b in plan.blocks if b.part is Part.STATION and not b.contact]
    if block.part is Part.STATION and calm:
        return f"{who}: meanwhile at {names.step(calm[0].drill, calm[0].step)}."
    return f"{who} and {'stays' if len(block.stand_aside) == 1 else 'stay'} out of it."


def look_words(look: Look) -> str:
    """Return why a player is to be looked at, in a few words."""
    if look.tries == 0:
        return "never seen in it"
    seen = f"{counted(look.tries, 'try', 'tries')} at {counted(look.practices, 'practice')}"
    if look.tries < ENOUGH_TRIES or look.practices < ENOUGH_PRACTICES:
        return f"{seen}: too few for a call{_due(look)}"
    if not look.visits:
        return f"{seen}{_due(look)}"
    what = "a call to make surer" if look.now >= _SETTLED else "no call yet"
    when = "practice" if look.visits == 1 else f"{look.visits} practices"
    return f"{seen}, {what}: the next {when} may settle it{_due(look)}"


def _due(look: Look) -> str:
    days = look.days_since or 0
    return f"; last seen {days} days before the last practice" if days > 14 else ""


def groups_words(plan: Plan) -> str:
    """Return how the groups were made, and whether there are better ones."""
    best = (
        "none are better by this rule" if plan.optimal else f"they may still be {plan.gap:.2f} from the best"
    )
    return f"{_GROUPINGS[plan.asked.grouping]}; {best}"


def _span(likely: Likely) -> str:
    return f"{floor(round(likely.low, 9))} to {ceil(round(likely.high, 9))}"


def _listed(words: Sequence[str]) -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
