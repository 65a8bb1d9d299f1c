"""The worlds that the estimates are judged in: what they were made for, and what they were not."""

from season_world import World

DESIGNED = {
    "as designed, 20 tries": World(),
    "10 tries": World(tries=10),
    "nobody changes": World(sd_slope=0.0, team_slope=0.0),
    "skills differ in their SDs": World(sd_spread=0.4),
    "a short season: 10 players, 3 skills, 8 practices": World(players=10, skills=3, practices=8),
}

HARD = {
    "late: all change comes in the last third": World(change_from=2 / 3),
    "half still: half of the players do not change": World(still=0.5),
    "jump: each player's levels jump once, by .5 +- .5": World(
        sd_slope=0.0, team_slope=0.0, jump=0.5, sd_jump=0.5
    ),
    "selective: one of two observers notes 45 % of the dones": World(noted=0.45),
    "drift: observers grow .5 stricter, half of the players are still": World(drift=0.5, still=0.5),
    "one observer": World(observers=1),
    "an observer for each position group": World(defenders=6, own_group=True),
    "one strict of two observers, by .6 in all skills": World(strict=0.6),
    "a hard step for forwards only": World(defenders=6, forwards_step=-1.0),
    "4 of 18 join after a third, 4 are away in the last 6 weeks": World(joiners=4, absent=4),
    "uneven: 2 to 120 tries": World(uneven=(2, 120)),
    "8 players, 3 skills": World(players=8, skills=3),
    "camp: 8 practices in 4 weeks, half the change": World(
        practices=8, days_apart=3.5, sd_slope=0.175, team_slope=0.125
    ),
}
