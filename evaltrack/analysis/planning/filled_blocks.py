"""The parts of the ice time filled: steps, skills, reasons, coaches, and the tries that each player gets."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from evaltrack.analysis.planning.ice_time import Stretch
from evaltrack.analysis.planning.station_steps import Choosable
from evaltrack.rink.plan import Block, Forecast, Group, Need, Part, Tries
from evaltrack.rink.player import Player, Status
from evaltrack.rink.rotation.lines import lines_joined


@dataclass(frozen=True)
class Filling:
    """What blocks are made of.

    Attributes
    ----------
    stretches : the parts of the ice time.
    steps : what their numbers stand for: the stations, then what is for all together.
    stations : how many of the steps are stations.
    groups : who begins where.
    here : everybody in them.
    needs : what is known of skills, the most needed first, of which the first ``proposed`` are proposed.
    forecasts : of skills in steps.
    coaches : how many; stations with contact get one first.
    """

    stretches: Sequence[Stretch]
    steps: Sequence[Choosable]
    stations: int
    groups: Sequence[Group]
    here: Sequence[Player]
    needs: Sequence[Need]
    proposed: int
    forecasts: Mapping[str, Sequence[Forecast]]
    coaches: int

    @cached_property
    def players(self) -> dict[str, Player]:
        """Everybody by number."""
        return {player.number: player for player in self.here}

    @cached_property
    def coached(self) -> set[int]:
        """The stations that have a coach."""
        by_contact = sorted(range(self.stations), key=lambda at: not self.steps[at].contact)
        return set(by_contact[: self.coaches])


def filled(filling: Filling) -> tuple[Block, ...]:
    """Return the blocks, in order of time. Each has another need as its reason, as long as there are some."""
    found: list[Block] = []
    for stretch in filling.stretches:
        found.append(_block(filling, stretch, {block.need.skill for block in found if block.need}))
    return tuple(found)


def _block(filling: Filling, stretch: Stretch, told: Collection[str]) -> Block:
    if stretch.part is Part.OWN:
        return _at_own(filling, stretch.minutes)
    if stretch.station is None:
        return Block(stretch.part, stretch.minutes)
    one = filling.steps[stretch.station]
    skills = _skills(filling, one)
    need = _reason(filling, skills, told)
    forecast = _forecast(filling, one, need) if need else None
    who = [g.players for g in filling.groups] if stretch.part is Part.STATION else [tuple(filling.players)]
    return Block(
        stretch.part,
        stretch.minutes,
        one.drill,
        one.step.key,
        skills,
        need,
        forecast,
        one.pace,
        tuple(tries for each in who for tries in _tries(filling, one, each, stretch.minutes)),
        _aside(filling, one, tuple(filling.players)),
        stretch.part is not Part.STATION or stretch.station in filling.coached,
        one.contact,
        one.step.surface,
    )


def _reason(filling: Filling, skills: Sequence[str], told: Collection[str]) -> Need | None:
    """Return why these skills: a proposal that no block has told yet, then another one, then any need."""
    shown = [need for need in filling.needs if need.skill in skills]
    meant = [need for need in shown if need in filling.needs[: filling.proposed]]
    return next((need for need in meant or shown if need.skill not in told), (meant or shown or [None])[0])


def _at_own(filling: Filling, minutes: int) -> Block:
    pairs = [(filling.steps[group.station], group.players) for group in filling.groups]
    skills = dict.fromkeys(skill for one, _ in pairs for skill in _skills(filling, one))
    tries = tuple(tries for one, each in pairs for tries in _tries(filling, one, each, minutes))
    aside = tuple(number for one, each in pairs for number in _aside(filling, one, each))
    return Block(Part.OWN, minutes, skills=tuple(skills), tries=tries, stand_aside=aside)


def _skills(filling: Filling, one: Choosable) -> tuple[str, ...]:
    """Return the skills that somebody who is here can show in a step, the most needed first."""
    here = {position for player in filling.here for position in player.positions}
    shown = dict.fromkeys(key for slot in one.step.slots if slot.position in here for key in slot.skills)
    order = [need.skill for need in filling.needs]
    return tuple(sorted(shown, key=lambda key: order.index(key) if key in order else len(order)))


def _forecast(filling: Filling, one: Choosable, need: Need) -> Forecast | None:
    found = filling.forecasts.get(need.skill, ())
    return next((f for f in found if (f.drill, f.step) == one.key), None)


def _aside(filling: Filling, one: Choosable, numbers: Sequence[str]) -> tuple[str, ...]:
    """Return the limited players among these who stay out of a step."""
    if not one.contact:
        return ()
    return tuple(number for number in numbers if filling.players[number].status is Status.LIMITED)


def _tries(filling: Filling, one: Choosable, numbers: Sequence[str], minutes: int) -> list[Tries]:
    """Return what each of these players can expect from so many minutes of a step."""
    aside = set(_aside(filling, one, numbers))
    playing = [filling.players[number] for number in numbers if number not in aside]
    lines = lines_joined(one.step, playing)
    count = Counter(lines.values())
    return [
        Tries(player.number, skill, expected)
        for player in playing
        for skill in _skills(filling, one)
        if (expected := minutes * one.tries(skill, lines[player.id], count[lines[player.id]])) > 0
    ]
