"""What moved a share away from the plain count, in sentences for the staff whose parts add up."""

from collections.abc import Iterable, Mapping, Sequence

from evaltrack.analysis.standings.standing import LEAST_MOVE, Cause, Reason, Standing
from evaltrack.language import tr, tr_many
from evaltrack.rink.drill import Drill
from evaltrack.rink.player import first_group
from evaltrack.words.points import clear_span, moved_words, points, sided_span, signed
from evaltrack.words.reason_words import (
    AGAINST,
    BY_PRESSURE,
    BY_STEP,
    CHANGES,
    DAYS,
    IN_STEP,
    LET_COME_OFF,
    MOSTLY_AGAINST,
    NOTED_BY,
    SHORT,
    STRICTER,
    UNDER,
    WITHOUT,
)
from evaltrack.words.wording import count_words, counted, is_firm, listed, month_name


def step_names(drills: Iterable[Drill]) -> dict[str, str]:
    """Return the names of steps by ``drill/step``, as a reason names them."""
    return {f"{drill.key}/{step.key}": step.name for drill in drills for step in drill.steps}


def reason_heading(standing: Standing) -> str:
    """Return from where to where the share moved; empty where nothing was allowed for."""
    if not standing.reasons:
        return ""
    count = count_words(standing.done, standing.tries)
    raw, share = signed(_raw(standing)), signed(points(standing.share))
    return tr("From {count}, {raw} %, to {share} % now:", count=count, raw=raw, share=share)


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
    return [
        tr("{reason}: {move}", reason=_WORDS[one.cause](standing, one, steps), move=_move(one, whole))
        for one, whole in pairs
    ]


def to_go_words(standing: Standing) -> str:
    """Return how many more tries would make the share known well enough, as far as can be told.

    Empty where it is, and where there is no call yet: what is missing for one comes first.
    """
    if not is_firm(standing) or standing.to_go == 0:
        return ""
    if standing.to_go is None:
        return tr("as many tries again may not be enough to bring it to 15 points either way")
    tries = counted(standing.to_go, "more try", "more tries")
    return tr("about {tries}, if it goes on like that, would bring it to 15 points either way", tries=tries)


def _cost(standing: Standing, one: Reason) -> dict[str, str]:
    """Return whom a kind of try costs how much, with its doubt: ``defenders``, ``about 12 points (5 to 19)``.

    That is reckoned in the mix of steps and pressure of the player's position group, so it is told of these.
    """
    sign = 1 if one.cost > 0 else -1
    return {"group": _group(standing), "points": _span(sign, one.cost, one.cost_low, one.cost_high)}


def _group(standing: Standing) -> str:
    return first_group(standing.position).plural


def _pressure(standing: Standing, reason: Reason, _) -> str:
    if not reason.named:
        return tr(BY_PRESSURE[reason.moved > 0])
    said = UNDER if reason.named == "yes" else WITHOUT
    own, cost = _own(standing, reason), _cost(standing, reason)
    return tr(said[reason.cost > 0], tries=own, **cost)


def _step(standing: Standing, reason: Reason, steps: Mapping[str, str]) -> str:
    if not reason.named:
        return tr(BY_STEP[reason.moved > 0])
    name, own = steps.get(reason.named, reason.named), _own(standing, reason)
    return tr(IN_STEP[reason.cost > 0], step=name, tries=own, **_cost(standing, reason))


def _observer(standing: Standing, reason: Reason, _) -> str:
    if not reason.named:
        return tr(STRICTER[reason.moved > 0])
    noted = _own(standing, reason, tr("all players"))
    cost = _cost(standing, reason)["points"]
    return tr(NOTED_BY[reason.cost > 0], observer=reason.named, tries=noted, points=cost)


def _opponent(standing: Standing, reason: Reason, _) -> str:
    if not reason.named:
        return tr(LET_COME_OFF[reason.moved > 0])
    said = MOSTLY_AGAINST if 2 * reason.tries > standing.tries else AGAINST
    own, cost = _own(standing, reason), _cost(standing, reason)
    return tr(said[reason.cost > 0], opponent=reason.named, tries=own, **cost)


def _days(_, reason: Reason, __) -> str:
    return tr(DAYS[reason.moved > 0])


def _change(_, reason: Reason, __) -> str:
    return tr(CHANGES[reason.moved > 0, _sure(reason)])


def _luck(standing: Standing, reason: Reason, __) -> str:
    if reason.moved > 0:
        return tr_many(
            "{number} try can fall short by luck; the team and the player's other skills say more",
            "{number} tries can fall short by luck; the team and the player's other skills say more",
            standing.tries,
        )
    return tr_many(
        "{number} try can come off too well by luck; the team and the player's other skills say more",
        "{number} tries can come off too well by luck; the team and the player's other skills say more",
        standing.tries,
    )


def _rest(standing: Standing, reason: Reason, _) -> str:
    names = [tr(SHORT[one.cause]) for one in reason.gathered]
    together = tr("{causes} together", causes=listed(names)) if len(names) > 1 else names[0]
    least = counted(round(100 * LEAST_MOVE), "point")
    if len(standing.reasons) == 1:
        return tr("nothing by itself moved it by {least}; {together}", least=least, together=together)
    return tr("the rest, each less than {least}: {together}", least=least, together=together)


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


def _own(standing: Standing, reason: Reason, whose: str = "") -> str:
    told = {"tries": standing.tries, "whose": whose or tr("all {group}", group=_group(standing))}
    told["usual"] = signed(points(reason.usual))
    if reason.month:
        return tr_many(
            "{number} of {tries} tries, mostly in {month} ({whose} {usual} %)",
            "{number} of {tries} tries, mostly in {month} ({whose} {usual} %)",
            reason.tries,
            month=month_name(reason.month),
            **told,
        )
    return tr_many(
        "{number} of {tries} tries ({whose} {usual} %)",
        "{number} of {tries} tries ({whose} {usual} %)",
        reason.tries,
        **told,
    )


def _span(sign: int, middle: float, low: float, high: float) -> str:
    """Return ``about 12 points (5 to 19)``; with signs where its side of zero is not sure."""
    low, high = sorted((sign * low, sign * high))
    ends = signed(points(low)), signed(points(high))
    within = clear_span(low, high) if low > 0 else tr("{low} to {high}", low=ends[0], high=ends[1])
    if points(middle):
        return tr("about {points} ({within})", points=moved_words(middle), within=within)
    return tr("{points} ({within})", points=moved_words(middle), within=within)


def _sure(reason: Reason) -> bool:
    return reason.low > 0 or reason.high < 0


def _move(reason: Reason, whole: int) -> str:
    by = f"{'+' if whole > 0 else ''}{signed(whole)}"
    # the rounding that makes the parts add up must not take a move out of its own range
    within = sided_span(reason.low, reason.high, whole)
    if _sure(reason) or reason.cause is Cause.REST:
        return tr("{points} ({within})", points=by, within=within)
    return tr("perhaps {points} ({within})", points=by, within=within)


def _raw(standing: Standing) -> int:
    return points(standing.done / standing.tries)
