"""Seasons of ten players in which some skills are hardly watched, for tests of what is told of them."""

from dataclasses import replace
from datetime import date, timedelta
from uuid import UUID

import numpy as np
from seasons_for_touch import new_season, roster

from evaltrack.rink.player import Position, Status
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.opening import open_season

FIRST = date(2025, 10, 1)
STEPS = "two_on_one", "three_on_one"
PRESSURES = None, True, False
TABLET = UUID(int=5).hex
WATCHED = {
    Position.DEFENCE: ("outlet_pass", "gap_up", "stop"),
    Position.FORWARD: ("wall_puck_feet", "stop", "start"),
    Position.GOALIE: ("rebound_control",),
}


def random_season(path, seed):
    """Make a season of ten players and two observers: some skills hardly watched, shares low and high.

    Some tries are in a harder step, some under pressure. In every other season somebody has left, in the rest
    a target was changed.
    """
    rng = np.random.default_rng(seed)
    players = [*roster()[:4], *roster()[7:11], *roster()[18:20]]
    new_season(path, players)
    practices = [
        Practice((FIRST + timedelta(days=5 * n)).isoformat(), FIRST + timedelta(days=5 * n))
        for n in range(int(rng.integers(2, 11)))
    ]
    with open_season(path) as season:
        known = season.people.players()
        own = {
            (p.id, key): (rng.uniform(0.05, 0.98), rng.choice([0.3, 2, 4]))
            for p in known
            for key in WATCHED[p.position]
        }
        tallies = [
            Tally(
                practice.key, who, key, Outcome.DONE if rng.random() < share - harder else Outcome.MISSED,
                "breakout_attack", step, str(rng.choice(["Marit", "Ines"])), pressure=pressure,
            )
            for practice in practices
            for (who, key), (share, each) in own.items()
            for _ in range(rng.poisson(each))
            for step, pressure in [(STEPS[rng.integers(2)], PRESSURES[rng.integers(3)])]
            for harder in [0.2 * (step == STEPS[1]) + 0.2 * (pressure is True)]
        ]  # fmt: skip
        season.log.add_many(practices, tallies)
        if seed % 2:
            gone, day = replace(known[4], status=Status.LEFT), FIRST + timedelta(days=1)
            season.people.change([gone], day, TABLET)
        else:
            skills = [
                replace(one, target=0.75) if one.key == "stop" else one for one in season.catalogue.skills()
            ]
            season.catalogue_changes.set_to(skills, None, (), TABLET)
    return path
