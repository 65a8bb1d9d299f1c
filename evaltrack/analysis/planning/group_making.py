"""Who is put into which group: what each player needs and does well, and the best groups of who is here."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from evaltrack.analysis.planning.conflicts import met_and_unmet
from evaltrack.analysis.planning.group_rules import Grouped, Member, Place, bounds
from evaltrack.analysis.planning.grouping import grouped
from evaltrack.analysis.planning.known_season import KnownSeason
from evaltrack.analysis.planning.needs import SkillNeed
from evaltrack.analysis.planning.station_steps import Choosable
from evaltrack.rink.plan import Asked, Unmet
from evaltrack.rink.player import Player, Status


def is_limited(player: Player) -> bool:
    """Say whether a player takes no contact."""
    return player.status is Status.LIMITED


def places_of(stations: Sequence[Choosable]) -> list[Place]:
    """Return the stations as places for groups."""
    return [Place(one.contact, one.takes) for one in stations]


def members_of(
    known: KnownSeason,
    here: Sequence[Player],
    stations: Sequence[Choosable],
    needs: Sequence[SkillNeed],
    held: Mapping[str, int],
) -> list[Member]:
    """Return everybody who is here with what each station is worth to them, and how well they do.

    Who is ``held`` at a station, by number, is there whether they take contact or not.
    """
    short, levels = {one.need.skill: one.short for one in needs}, _levels(known, here)
    return [
        Member(
            player.number,
            player.position,
            tuple(_gain(player, one, short) for one in stations),
            levels[player.number],
            is_limited(player) and player.number not in held,
            held.get(player.number),
            player.also,
        )
        for player in here
    ]


def _levels(known: KnownSeason, here: Sequence[Player]) -> dict[str, float]:
    """Return by how much each player's shares lie above the targets, on average; 0 where nothing is known."""
    above: dict[str, list[float]] = {player.number: [] for player in here}
    for one in known.standings:
        if one.player in above and one.doubt is None:
            above[one.player].append(one.share - one.target)
    return {number: float(np.mean(each)) if each else 0.0 for number, each in above.items()}


def _gain(player: Player, one: Choosable, short: Mapping[str, Mapping[str, float]]) -> float:
    """Return what a minute of a step is worth to a player: the points short, times the tries."""
    return sum(
        short.get(skill, {}).get(player.number, 0.0)
        * max(one.tries(skill, position, 1) for position in player.positions)
        for skill in one.step.skills
    )


def best_groups(
    members: Sequence[Member], places: Sequence[Place], asked: Asked
) -> tuple[Grouped, list[Unmet]]:
    """Return the best groups, and the wishes that are not met.

    Limited players are kept from contact where there is room enough without it; otherwise they are put
    anywhere, and stand aside.
    """
    if not _room(members, places):
        members = [replace(one, limited=False) for one in members]
    kept, unmet = met_and_unmet(members, places, asked.wishes, asked.before)
    found = grouped(members, places, asked.grouping, kept, seconds=asked.seconds)
    if found is None:  # whether the wishes go together was not found out in time
        return grouped(members, places, asked.grouping), [*unmet, *map(Unmet, kept)]
    return found, unmet


def _room(members: Sequence[Member], places: Sequence[Place]) -> bool:
    """Say whether all who take no contact find room where there is none."""
    ends = bounds(members, len(places))
    calm = [most for place, (_, most) in zip(places, ends, strict=True) if not place.contact]
    rough = [fewest for place, (fewest, _) in zip(places, ends, strict=True) if place.contact]
    held = sum(one.held is not None and not one.limited and not places[one.held].contact for one in members)
    limited = sum(one.limited for one in members)
    return limited + held <= min(sum(calm), len(members) - sum(rough))
