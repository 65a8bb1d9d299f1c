"""A step on the ice as the template draws it: points in metres, from the top left corner of the surface."""

from collections.abc import Iterable

from evaltrack.language import tr, tr_many
from evaltrack.rink.drill import Step
from evaltrack.rink.ice_plan.ice import Point
from evaltrack.rink.ice_plan.plan_geometry import Plan, plan_of
from evaltrack.rink.player import Position
from evaltrack.words.wording import listed

_WHO = {
    Position.DEFENCE: lambda n: tr_many("{number} defender", "{number} defenders", n),
    Position.FORWARD: lambda n: tr_many("{number} forward", "{number} forwards", n),
    Position.GOALIE: lambda n: tr_many("{number} goalie", "{number} goalies", n),
}


def drawing_of(step: Step) -> dict:
    """Return what is painted on the surface of a step, who stands where, and who goes where."""
    plan = plan_of(step)
    ways = [
        {"from": start, "to": end, "stays": slot.next in plan.places}
        for slot in step.slots
        if slot.next != slot.key
        for start, end in [_turned(plan.arrow(slot), plan)]
    ]
    return {
        "width": plan.ice.length,
        "height": plan.ice.width,
        "radius": plan.radius,
        "marks": [{"kind": mark.value, "points": _turned(points, plan)} for mark, points in plan.ice.marks],
        "discs": [
            {"at": _turned([plan.places[slot.key]], plan)[0], "letter": str(slot.position)}
            for slot in step.slots
        ],
        "lines": [
            {"at": _turned([at], plan)[0], "letter": str(position)} for position, at in plan.lines.items()
        ],
        "ways": ways,
    }


def _turned(points: Iterable[Point], plan: Plan) -> list[list[float]]:
    """Return points with y downwards, as paper has it, to the centimetre."""
    return [[round(x, 2), round(plan.ice.width - y, 2)] for x, y in points]


def in_words(step: Step) -> str:
    """Return a drawing in words, for whoever cannot see it: ``2 defenders and 1 forward on the ice``."""
    count = {position: sum(slot.position is position for slot in step.slots) for position in Position}
    who = [_WHO[position](n) for position, n in count.items() if n]
    if not who:
        return tr("{step}: the ice, nobody has a place of their own", step=step.name)
    return tr("{step}: {players} on the ice", step=step.name, players=listed(who))
