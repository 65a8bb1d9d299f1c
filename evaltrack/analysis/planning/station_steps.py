"""Which steps are trained: one for each proposed skill, then what gives most tries to most need."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.plan import Forecast, Pace
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Surface

SERVED = 0.5  # of a need is left when a step has been chosen that shows the skill
LEAST_NEED = Surface.CROSS.need
MOST_TURNS = 2.0  # a minute of one player: a rep and the way back take half of one, common practice

Key = tuple[str, str]


@dataclass(frozen=True)
class Choosable:
    """A step that may be chosen.

    ``contact`` is whether one player goes at another in it. Such a step needs a coach; one without may be
    left to itself.
    """

    drill: str
    step: Step
    pace: Pace
    place: int  # in its drill, from the easiest

    @property
    def key(self) -> Key:
        """Drill and step."""
        return self.drill, self.step.key

    @property
    def contact(self) -> bool:
        """Whether one player goes at another."""
        return self.step.has_contact

    @property
    def skaters(self) -> int:
        """How many skaters a rep takes."""
        return sum(slot.position is not Position.GOALIE for slot in self.step.slots)

    @property
    def takes(self) -> frozenset[Position]:
        """The positions that have a slot."""
        return frozenset(slot.position for slot in self.step.slots)

    def tries(self, skill: str, position: Position, players: int) -> float:
        """Return how many tries in a skill a minute gives each of so many players of a position."""
        own = [slot for slot in self.step.slots if slot.position is position]
        showing = sum(skill in slot.skills for slot in own)
        if not showing:
            return 0.0
        turns = min(self.pace.reps * len(own) / max(players, len(own)), MOST_TURNS)
        return turns * showing / len(own)


NOTHING_HELD: Mapping[int, Choosable] = MappingProxyType({})


@dataclass(frozen=True)
class Wanted:
    """What steps are chosen by.

    Attributes
    ----------
    proposed : the skills that are proposed, the most needed first.
    short : of each skill by how many points all players together are short of the target; empty when
        nothing is known.
    forecasts : of each skill its steps, those that fit most players first.
    group : how many skaters a group has.
    contact : how many steps with contact may be chosen.
    suited : how many players are here who play in each position.
    ice : on which surface; steps ``at_once`` share it, others have it one after another.
    """

    proposed: Sequence[str]
    short: Mapping[str, float]
    forecasts: Mapping[str, Sequence[Forecast]]
    group: int
    contact: int
    suited: Mapping[Position, int]
    ice: Surface = Surface.FULL
    at_once: int = 1
    fits: Mapping[tuple[str, Key], float] = field(init=False)

    def __post_init__(self):
        fits = {(f.skill, (f.drill, f.step)): f.fits for each in self.forecasts.values() for f in each}
        object.__setattr__(self, "fits", fits)

    def leaves_room(self, one: "Choosable", found: Sequence["Choosable"]) -> bool:
        """Say whether a step fits on the ice beside those that are found and the least of those to come."""
        beside = found if self.at_once > 1 else ()
        to_come = max(self.at_once - len(beside) - 1, 0) * LEAST_NEED
        return sum(other.step.surface.need for other in (one, *beside)) + to_come <= self.ice.room


def choosable(
    drills: Sequence[Drill], paces: Mapping[Key, Pace], here: Collection[Position]
) -> list[Choosable]:
    """Return the steps in which somebody of these positions has a part."""
    return [
        Choosable(drill.key, step, paces[drill.key, step.key], place)
        for drill in drills
        for place, step in enumerate(drill.steps)
        if any(slot.position in here for slot in step.slots)
    ]


def chosen(
    steps: Sequence[Choosable], wanted: Wanted, count: int, held: Mapping[int, Choosable] = NOTHING_HELD
) -> list[Choosable]:
    """Return the steps of so many stations, each another as far as there are others.

    First each proposed skill gets the step that fits most players; then come the steps with most tries for
    what is needed. Where nothing is known it is the easiest step of each drill, then the next ones. As long
    as there are others, none is taken that has too much contact, needs more ice than is left or more players
    than a group has, or is of a drill that is at another station already: two of one drill get into each
    other's way.

    Steps that are ``held``, by place, are there whatever they are, and the others in the places left.
    """
    kept = {place: one for place, one in held.items() if place < count}
    found = list(kept.values())
    short = dict(wanted.short)
    for one in found:
        _serve(one, short)
    _add(found, steps, wanted, count, short)
    others = iter(found[len(kept) :])
    return [kept.get(place) or next(others) for place in range(count)]


def _add(
    found: list[Choosable], steps: Sequence[Choosable], wanted: Wanted, count: int, short: dict[str, float]
) -> None:
    """Add to the steps that are found until there are enough."""
    shown = {skill for one in found for skill in one.step.skills}
    for skill in [skill for skill in wanted.proposed if skill not in shown][: count - len(found)]:
        left = [one for one in steps if skill in one.step.skills and one not in found]
        if any(skill in one.step.skills for one in found):  # then it need not have one that is too large
            left = [one for one in left if wanted.leaves_room(one, found)]
        if left := _preferred(left, found, wanted):
            found.append(max(left, key=lambda one: wanted.fits.get((skill, one.key), 0.0)))
            _serve(found[-1], short)
    while len(found) < count:
        left = _preferred([one for one in steps if one not in found], found, wanted)
        if not left:
            found += [found[number % len(found)] for number in range(count - len(found))]
            return
        found.append(max(left, key=lambda one: _order(one, wanted, short, found)))
        _serve(found[-1], short)


def _preferred(left: list[Choosable], found: Sequence[Choosable], wanted: Wanted) -> list[Choosable]:
    """Return those of the steps that are left which meet the conditions, one after the other if any does."""
    drills = {one.drill for one in found}
    full = sum(one.contact for one in found) >= wanted.contact
    conditions: tuple[Callable[[Choosable], bool], ...] = (
        lambda one: not (full and one.contact),
        lambda one: one.step.surface.need <= wanted.ice.room,
        lambda one: wanted.leaves_room(one, found),
        lambda one: one.skaters <= wanted.group,
        lambda one: one.drill not in drills,
    )
    for condition in conditions:
        left = [one for one in left if condition(one)] or left
    return left


def _order(
    one: Choosable, wanted: Wanted, short: Mapping[str, float], found: Sequence[Choosable]
) -> tuple[float, int, int]:
    """Return what a step is worth; where nothing is known easy ones of other drills come first."""
    same = sum(other.drill == one.drill for other in found)
    return worth(one, wanted, short), -same, -one.place


def worth(one: Choosable, wanted: Wanted, short: Mapping[str, float]) -> float:
    """Return the tries that a minute gives to what is needed, where it fits."""
    return sum(
        short.get(skill, 0.0)
        * wanted.fits.get((skill, one.key), 0.0)
        * max(one.tries(skill, position, count) for position, count in wanted.suited.items())
        for skill in one.step.skills
    )


def _serve(one: Choosable, short: dict[str, float]) -> None:
    for skill in one.step.skills:
        if skill in short:
            short[skill] *= SERVED


def for_all(
    steps: Sequence[Choosable], found: Sequence[Choosable], wanted: Wanted, count: int = 1
) -> list[Choosable]:
    """Return steps for all together, that show proposed skills, the largest first.

    Those of the stations are among them only where no others fit on the ice, or are without contact.
    """
    calm = [one for one in steps if wanted.contact or not one.contact] or list(steps)
    fitting = [one for one in calm if one.step.surface.need <= wanted.ice.room] or calm
    left = [one for one in fitting if one not in found] or fitting
    proposed = set(wanted.proposed)

    def order(one: Choosable) -> tuple[int, int, float]:
        return len(proposed & set(one.step.skills)), one.skaters, worth(one, wanted, wanted.short)

    return sorted(left, key=order, reverse=True)[:count]
