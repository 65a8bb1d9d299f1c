"""What moved a share away from the plain count, in sentences for the staff whose parts add up."""

from collections.abc import Iterable, Mapping, Sequence

from evaltrack.analysis.standings.standing import LEAST_MOVE, Cause, Reason, Standing
from evaltrack.rink.drill import Drill
from evaltrack.rink.player import first_group
from evaltrack.words.points import clear_span, moved_words, points, sided_span, signed
from evaltrack.words.wording import count_words, counted, is_firm, month_name

_LEAST = counted(round(100 * LEAST_MOVE), "point")


def step_names(drills: Iterable[Drill]) -> dict[str, str]:
    """Return the names of steps by ``drill/step``, as a reason names them."""
    return {f"{drill.key}/{step.key}": step.name for drill in drills for step in drill.steps}


def reason_heading(standing: Standing) -> str:
    """Return from where to where the share moved; empty where nothing was allowed for."""
    if not standing.reasons:
        return ""
    count = count_words(standing.done, standing.tries)
    return f"From {count}, {signed(_raw(standing))} %, to {signed(points(standing.share))} % now:"


def whole_moves(standing: Standing) -> list[int]:
    """Return the moves of the standing's reasons in whole points, which add up to that of its heading."""
    whole = points(standing.share) - _raw(standing)
    return apportioned([100 * reason.moved for reason in standing.reasons], whole)


def apportioned(parts: Sequence[float], whole: int) -> list[int]:
    """Return whole numbers close to the parts that add up to ``whole``, by the largest remainders.

    Each part is rounded; then those that rounding moved farthest go one further the other way, as many as
    the sum is off.
    """
    near = [round(part) for part in parts]
    off = whole - sum(near)
    step = 1 if off > 0 else -1
    for _ in range(abs(off) if near else 0):
        at = max(range(len(near)), key=lambda number: step * (parts[number] - near[number]))
        near[at] += step
    return near


def reason_sentences(standing: Standing, steps: Mapping[str, str]) -> list[str]:
    """Return what moved the share, the largest move first, each with its likely range in points.

    The points add up to the move from the plain count to the share now, as the heading rounds them.

    Parameters
    ----------
    standing : the standing; one that shows the plain count gives no sentence.
    steps : names of steps by ``drill/step``.
    """
    pairs = zip(standing.reasons, whole_moves(standing), strict=True)
    return [f"{_WORDS[one.cause](standing, one, steps)}: {_move(one, whole)}" for one, whole in pairs]


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


def _cost(standing: Standing, one: Reason) -> str:
    """Return what a kind of try costs, with its doubt: ``costs defenders about 12 points (5 to 19)``.

    That is reckoned in the mix of steps and pressure of the player's position group, so it is told of these.
    """
    group = f"{first_group(standing.position).word}s"
    if one.cost > 0:
        return f"costs {group} {_span(1, one.cost, one.cost_low, one.cost_high)}"
    return f"is {_span(-1, one.cost, one.cost_low, one.cost_high)} easier for {group}"


def _pressure(standing: Standing, reason: Reason, _) -> str:
    if not reason.named:
        return _unnamed(reason, "pressure")
    under = "under pressure" if reason.named == "yes" else "without pressure"
    what = "pressure" if reason.named == "yes" else "that"
    return f"{under} in {_own(standing, reason)}; {what} {_cost(standing, reason)}"


def _step(standing: Standing, reason: Reason, steps: Mapping[str, str]) -> str:
    if not reason.named:
        return _unnamed(reason, "step of the drill")
    name = steps.get(reason.named, reason.named)
    return f"{name} in {_own(standing, reason)}; it {_cost(standing, reason)}"


def _observer(standing: Standing, reason: Reason, _) -> str:
    if not reason.named:
        manner = "stricter" if reason.moved > 0 else "more lenient"
        return f"whoever noted these tries was, taken together, {manner} than the others who noted the skill"
    manner, cost = ("stricter", 1) if reason.cost > 0 else ("more lenient", -1)
    span = _span(cost, reason.cost, reason.cost_low, reason.cost_high)
    noted = _own(standing, reason, "all players")
    return f"{reason.named} noted {noted} and is {span} {manner} than the others who noted the skill"


def _opponent(standing: Standing, reason: Reason, _) -> str:
    if not reason.named:
        manner = "let fewer come off" if reason.moved > 0 else "let more come off"
        return f"those whom they met, taken together, {manner} than the others"
    mostly = "mostly " if 2 * reason.tries > standing.tries else ""
    group = f"{first_group(standing.position).word}s"
    held, more, sign = (
        (f"holds {group} to", "fewer", 1) if reason.cost > 0 else (f"lets {group} have", "more", -1)
    )
    span = _span(sign, reason.cost, reason.cost_low, reason.cost_high)
    return f"{mostly}against {reason.named} in {_own(standing, reason)}, who {held} {span} {more}"


def _unnamed(reason: Reason, what: str) -> str:
    return f"by {what} these tries were {'harder' if reason.moved > 0 else 'easier'} than usual"


def _days(_, reason: Reason, __) -> str:
    return f"the days of these tries were {'harder' if reason.moved > 0 else 'better'} than usual for all"


def _change(_, reason: Reason, __) -> str:
    to = "up" if reason.moved > 0 else "down"
    return f"since these tries, on average, the share {'has' if _sure(reason) else 'may have'} gone {to}"


def _luck(standing: Standing, reason: Reason, __) -> str:
    manner = "fall short" if reason.moved > 0 else "come off too well"
    tries = counted(standing.tries, "try", "tries")
    return f"{tries} can {manner} by luck; the team and the player's other skills say more"


def _rest(standing: Standing, reason: Reason, _) -> str:
    names = [_SHORT[one.cause] for one in reason.gathered]
    together = f"{', '.join(names[:-1])} and {names[-1]} together" if len(names) > 1 else names[0]
    if len(standing.reasons) == 1:
        return f"nothing by itself moved it by {_LEAST}; {together}"
    return f"the rest, each less than {_LEAST}: {together}"


_WORDS = {
    Cause.PRESSURE: _pressure,
    Cause.STEP: _step,
    Cause.OPPONENT: _opponent,
    Cause.OBSERVER: _observer,
    Cause.DAYS: _days,
    Cause.CHANGE: _change,
    Cause.LUCK: _luck,
    Cause.REST: _rest,
}
_SHORT = {
    Cause.PRESSURE: "pressure",
    Cause.STEP: "steps",
    Cause.OPPONENT: "opponents",
    Cause.OBSERVER: "observers",
    Cause.DAYS: "good and bad days",
    Cause.CHANGE: "change since",
    Cause.LUCK: "luck",
}


def _own(standing: Standing, reason: Reason, whose: str = "") -> str:
    whose = whose or f"all {first_group(standing.position).word}s"
    month = f", mostly in {month_name(reason.month)}" if reason.month else ""
    tries = f"{count_words(reason.tries, standing.tries)} tries"
    return f"{tries}{month} ({whose} {signed(points(reason.usual))} %)"


def _span(sign: int, middle: float, low: float, high: float) -> str:
    """Return ``about 12 points (5 to 19)``; with signs where its side of zero is not sure."""
    low, high = sorted((sign * low, sign * high))
    within = clear_span(low, high) if low > 0 else f"{signed(points(low))} to {signed(points(high))}"
    about = f"about {moved_words(middle)}" if points(middle) else moved_words(middle)
    return f"{about} ({within})"


def _sure(reason: Reason) -> bool:
    return reason.low > 0 or reason.high < 0


def _move(reason: Reason, whole: int) -> str:
    unsure = "" if _sure(reason) or reason.cause is Cause.REST else "perhaps "
    # the rounding that makes the parts add up must not take a move out of its own range
    return f"{unsure}{'+' if whole > 0 else ''}{signed(whole)} ({sided_span(reason.low, reason.high, whole)})"


def _raw(standing: Standing) -> int:
    return points(standing.done / standing.tries)
