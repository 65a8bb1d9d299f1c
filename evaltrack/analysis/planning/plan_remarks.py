"""What must be said of a plan as a whole: what is lacking, and what was asked for and cannot be."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from evaltrack.analysis.planning.station_steps import Choosable
from evaltrack.rink.plan import Asked, Block, Part, Remark
from evaltrack.rink.player import Position

SAME_SURFACE = 0.5  # of the tallies: with fewer on the surface that is asked for, that is said


@dataclass(frozen=True)
class Circumstances:
    """What remarks are made of.

    Attributes
    ----------
    tallied, proposals : whether there is any tally, and any proposal.
    stations : the steps of the stations; ``steps`` has also those that come after them.
    positions : how many are here who play in each.
    limited : whether anybody takes no contact.
    on_surface : which part of the tallies was on the surface that is asked for; None without any.
    """

    asked: Asked
    tallied: bool
    proposals: bool
    stations: Sequence[Choosable]
    steps: Sequence[Choosable]
    blocks: Sequence[Block]
    positions: Mapping[Position, int]
    limited: bool
    on_surface: float | None


def remarks_on(one: Circumstances) -> Iterator[tuple[Remark, int]]:
    """Yield what must be said, each with a number that belongs to it."""
    if not one.proposals:
        yield (Remark.NOTHING_STANDS_OUT if one.tallied else Remark.NOTHING_TALLIED), 0
    yield from _stations(one)
    yield from _ice(one)
    yield from _who_is_missing(one.positions)
    if one.limited and all(station.contact for station in one.stations):
        yield Remark.CONTACT_EVERYWHERE, 0
    if one.on_surface is not None and one.on_surface < SAME_SURFACE:
        yield Remark.OTHER_SURFACE, round(100 * one.on_surface)


def _stations(one: Circumstances) -> Iterator[tuple[Remark, int]]:
    count = len(one.stations)
    if count < one.asked.stations:
        yield Remark.FEWER_STATIONS, count
    if (different := len({station.key for station in one.stations})) < count:
        yield Remark.FEWER_STEPS, different
    if count > 1 and not any(block.part is Part.STATION for block in one.blocks):
        yield Remark.NO_ROTATION, count
    if (alone := sum(station.contact for station in one.stations) - one.asked.coaches) > 0:
        yield Remark.NO_COACH, alone


def _ice(one: Circumstances) -> Iterator[tuple[Remark, int]]:
    room = one.asked.surface.room
    if larger := len({step.key for step in one.steps if step.step.surface.need > room}):
        yield Remark.LARGER_STEPS, larger
    elif len(one.stations) > 1 and sum(station.step.surface.need for station in one.stations) > room:
        yield Remark.CROWDED_ICE, 0


def _who_is_missing(positions: Mapping[Position, int]) -> Iterator[tuple[Remark, int]]:
    defenders, forwards, goalies = (positions[position] for position in Position)
    if not defenders and not forwards:
        yield Remark.NO_SKATER, 0
    elif not defenders or not forwards:
        yield (Remark.NO_FORWARD if defenders else Remark.NO_DEFENDER), 0
    if goalies <= 1:
        yield (Remark.ONE_GOALIE if goalies else Remark.NO_GOALIE), 0
