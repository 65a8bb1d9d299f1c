"""What moved a share away from the plain count, in sentences for the staff."""

from collections.abc import Iterable, Mapping

from evaltrack.analysis.standings.standing import Cause, Reason, Standing
from evaltrack.rink.drill import Drill
from evaltrack.words.wording import count_words, counted, is_firm, month_name

LEAST = 0.02  # a move of less than two points is not worth a sentence
UNSURE = 0.05  # nor one of less than five that may as well have been none


def step_names(drills: Iterable[Drill]) -> dict[str, str]:
    """Return the names of steps by ``drill/step``, as a reason names them."""
    return {f"{drill.key}/{step.key}": step.name for drill in drills for step in drill.steps}


def reason_heading(standing: Standing) -> str:
    """Return from where to where the share moved; empty where nothing was allowed for."""
    if not standing.reasons:
        return ""
    count = count_words(standing.done, standing.tries)
    raw = standing.done / standing.tries
    return f"From {count}, {_whole(raw)} %, to {_whole(standing.share)} % now:"


def reason_sentences(standing: Standing, steps: Mapping[str, str]) -> list[str]:
    """Return what moved the share, the largest move first, each with its likely range in points.

    Parameters
    ----------
    standing : the standing; one that shows the plain count gives no sentence.
    steps : names of steps by ``drill/step``.
    """
    told = [
        reason for reason in standing.reasons if abs(reason.moved) >= (LEAST if _sure(reason) else UNSURE)
    ]
    if standing.reasons and not told:
        return ["nothing is known to have moved it by as much as 2 points"]
    ranked = sorted(told, key=lambda reason: -abs(reason.moved))
    return [f"{_WORDS[reason.cause](standing, reason, steps)}: {_move(reason)}" for reason in ranked]


def to_go_words(standing: Standing) -> str:
    """Return how many more tries would make the share known well enough, as far as can be told.

    Empty where it is, and where there is no call yet: what is missing for one comes first.
    """
    if not is_firm(standing) or standing.to_go == 0:
        return ""
    if standing.to_go is None:
        return "as many tries again may not be enough to bring it to 15 points either way"
    tries = counted(standing.to_go, "more try", "more tries")
    return f"about {tries}, if it goes on like that, would bring it to 15 points either way"


def _pressure(standing: Standing, reason: Reason, _) -> str:
    seen = f"under pressure in {_own(standing, reason)}"
    return f"{seen}; pressure {_costs(reason)}"


def _step(standing: Standing, reason: Reason, steps: Mapping[str, str]) -> str:
    name = steps.get(reason.named, reason.named)
    return f"{name} in {_own(standing, reason)}; it {_costs(reason)}"


def _observer(standing: Standing, reason: Reason, _) -> str:
    manner, cost = ("stricter", 1) if reason.cost > 0 else ("more lenient", -1)
    span = _span(cost, reason.cost, reason.cost_low, reason.cost_high)
    return f"{reason.named} noted {_own(standing, reason)} and is {span} {manner} than the average observer"


def _days(_, reason: Reason, __) -> str:
    return f"the days of these tries were {'harder' if reason.moved > 0 else 'better'} than usual for all"


def _change(_, reason: Reason, __) -> str:
    to = "up" if reason.moved > 0 else "down"
    return f"since these tries, on average, the share {'has' if _sure(reason) else 'may have'} gone {to}"


def _luck(standing: Standing, reason: Reason, __) -> str:
    manner = "fall short" if reason.moved > 0 else "come off too well"
    tries = counted(standing.tries, "try", "tries")
    return f"{tries} can {manner} by luck; the team and the player's other skills say more"


_WORDS = {
    Cause.PRESSURE: _pressure,
    Cause.STEP: _step,
    Cause.OBSERVER: _observer,
    Cause.DAYS: _days,
    Cause.CHANGE: _change,
    Cause.LUCK: _luck,
}


def _own(standing: Standing, reason: Reason) -> str:
    month = f", mostly in {month_name(reason.month)}" if reason.month else ""
    return f"{count_words(reason.tries, standing.tries)} tries{month} (the team {_whole(reason.usual)} %)"


def _costs(reason: Reason) -> str:
    if reason.cost > 0:
        return f"costs the team {_span(1, reason.cost, reason.cost_low, reason.cost_high)}"
    return f"is {_span(-1, reason.cost, reason.cost_low, reason.cost_high)} easier for the team"


def _span(sign: int, middle: float, low: float, high: float) -> str:
    """Return ``about 12 points (5 to 19)``."""
    low, high = sorted((sign * low, sign * high))
    points = "point" if _whole(abs(middle)) == "1" else "points"
    return f"about {_whole(sign * middle)} {points} ({_whole(low)} to {_whole(high)})"


def _sure(reason: Reason) -> bool:
    return reason.low > 0 or reason.high < 0


def _move(reason: Reason) -> str:
    moved = f"{'+' if reason.moved > 0 else ''}{_whole(reason.moved)}"
    if reason.cause is Cause.LUCK:
        return moved
    unsure = "" if _sure(reason) else "perhaps "
    return f"{unsure}{moved} ({_whole(reason.low)} to {_whole(reason.high)})"


def _whole(share: float) -> str:
    points = round(100 * share)
    return f"−{-points}" if points < 0 else str(points)
