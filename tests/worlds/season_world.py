"""How a simulated season comes about: the numbers that everything else is drawn from."""

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class World:
    """How seasons come about. All effects are on the logit scale, and normal with the SD named.

    Attributes
    ----------
    players, skills, practices : how many. ``tries`` is how many a player has in a skill on average.
    steps, observers : how many drill steps and observers there are.
    rho : correlation of a player's levels, and of their slopes, in different skills.
    sd_player, sd_slope : SD of the players' levels, and of how far each moves in half a season.
    sd_step, sd_observer, sd_practice : SDs of the steps, observers and practices, each skill's own.
    sd_spread : lets the SDs of the skills differ: each skill's are multiplied by exp of a normal with
        this SD.
    mean, team_slope : the level of an average player, and how far the team moves in half a season. With
        ``sd_slope`` and ``team_slope`` 0 nobody changes.
    pressure_effect : what pressure adds.
    defenders : how many of the players are defenders; the others are forwards.
    days_apart : days from one practice to the next.
    change_from : the part of the season (0 to 1) before which nobody changes yet.
    still : the part of the players (0 to 1) who do not change at all.
    jump, sd_jump : mean and SD of one jump that each player's levels make at a random practice.
    strict : by how much the last observer is stricter than the others, in all skills.
    noted : which part of the dones the last observer notes. A miss is always noted.
    drift : by how much every observer grows stricter from the first to the last practice.
    own_group : whether each position group has its own observer, and no other.
    forwards_step : where it is not 0, it is added to the last step; that step runs at every practice, only
        forwards do it, and defenders do the others.
    joiners, absent : how many players join after a third of the season, and how many others are away for
        the last quarter.
    uneven : the fewest and most tries of a player in a skill, spread evenly on the log scale; empty for
        tries that fall on players and skills by chance.
    """

    players: int = 18
    skills: int = 8
    practices: int = 24
    tries: int = 20
    steps: int = 4
    observers: int = 2
    rho: float = 0.5
    sd_player: float = 0.7
    sd_slope: float = 0.35
    sd_step: float = 0.5
    sd_observer: float = 0.2
    sd_practice: float = 0.2
    sd_spread: float = 0.0
    mean: float = 0.4
    team_slope: float = 0.25
    pressure_effect: float = -0.6
    defenders: int = 0
    days_apart: float = 7.0
    change_from: float = 0.0
    still: float = 0.0
    jump: float = 0.0
    sd_jump: float = 0.0
    strict: float = 0.0
    noted: float = 1.0
    drift: float = 0.0
    own_group: bool = False
    forwards_step: float = 0.0
    joiners: int = 0
    absent: int = 0
    uneven: tuple[int, ...] = ()

    @property
    def defender(self) -> np.ndarray:
        """Whether each player (players,) is a defender: the last ones are."""
        return np.arange(self.players) >= self.players - self.defenders


DEFAULT = World()
