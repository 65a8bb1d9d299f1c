"""Shares of a season written out by hand, row by row, from nothing but the fit's own coefficients.

It knows the tries as they were noted and in which order the coefficients are promised to stand, and asks
none of the code that turns coefficients into shares. The positions and the prior SD below are bare numbers on
purpose: were they the names of ``effects``, a fault there would be a fault here too.
"""

from collections import Counter
from dataclasses import dataclass
from datetime import date

import numpy as np
from scipy.special import expit, logit

from evaltrack.analysis.mixed_logit import MixedFit

MEAN_SD = 1.2
LEVEL, SLOPE, STEP, OBSERVER, DAY, OWN_LEVEL, OWN_SLOPE = range(7)  # the last two only where skills share


@dataclass(frozen=True)
class Tried:
    """Tries of one player in one skill that were noted alike; ``pressure`` 0, 1 or None."""

    player: bytes
    skill: str
    day: str
    step: str
    pressure: int | None
    observer: str
    tries: int
    done: int


@dataclass
class SeasonByHand:
    """The tries of a season and a fit of them. ``goalies`` are the ids of the goalies."""

    tried: list[Tried]
    fit: MixedFit
    goalies: frozenset[bytes]
    shared: bool

    def __post_init__(self):
        self.skills = sorted({t.skill for t in self.tried})
        self.players = sorted({t.player for t in self.tried})
        self.means = self._in_skill(lambda t: t.player in self.goalies)
        self.levels = self._in_skill(lambda t: t.player)
        self.steps = self._in_skill(lambda t: t.step)
        self.observers = self._in_skill(lambda t: t.observer)
        self.days = self._in_skill(lambda t: t.day)

    def _in_skill(self, thing) -> list[tuple]:
        return sorted({(t.skill, thing(t)) for t in self.tried})

    def time(self, day: str) -> float:
        """Return a day's place on the axis from -1 to 1, which fewer than 8 practices do not fill."""
        number = [date.fromisoformat(t.day).toordinal() for t in self.tried]
        first, last, practices = min(number), max(number), len(set(number))
        half = max((last - first) / 2, 0.5) / min(1.0, max((practices - 1) / 7, 1e-3))
        return (date.fromisoformat(day).toordinal() - (first + last) / 2) / half

    def pressed(self, tried: Tried) -> float:
        """Return under how much pressure it was; where that was not noted, the skill's usual share."""
        if tried.pressure is not None:
            return tried.pressure
        noted = [t for t in self.tried if t.skill == tried.skill and t.pressure is not None]
        return sum(t.pressure * t.tries for t in noted) / max(sum(t.tries for t in noted), 1)

    def mix(self, skill: str) -> dict[tuple[str, float], float]:
        """Return how often each step and pressure occurs in a skill, over the whole team."""
        count = Counter()
        for t in self.tried:
            if t.skill == skill:
                count[t.step, self.pressed(t)] += t.tries
        return {kind: tries / count.total() for kind, tries in count.items()}

    def logit(self, beta, skill, player, time, step, pressed, observer=None, day=None) -> float:
        """Return one row's logit: every coefficient that the model names, each looked up by what it is of."""
        fixed, effects = beta
        number, skills, means = self.skills.index(skill), len(self.skills), len(self.means)
        group = (skill, player in self.goalies)
        row = fixed[self.means.index(group)] if group in self.means else 0.0
        row += (fixed[means + number] + fixed[means + 2 * skills]) * time
        row += (fixed[means + skills + number] + fixed[means + 2 * skills + 1]) * pressed
        row += effects[STEP][self.steps.index((skill, step))]
        if (skill, player) in self.levels:
            own = self.levels.index((skill, player))
            row += effects[LEVEL][own] + effects[SLOPE][own] * time
        if self.shared and player in self.players:
            own = self.players.index(player)
            row += effects[OWN_LEVEL][own] + effects[OWN_SLOPE][own] * time
        row += effects[OBSERVER][self.observers.index((skill, observer))] if observer else 0.0
        row += effects[DAY][self.days.index((skill, day))] if day else 0.0
        return row

    def share(self, skill: str, player: bytes, time: float, beta=None) -> float:
        """Return the share under the season's own mix, with an average observer on an ordinary day."""
        beta = beta or (self.fit.fixed, self.fit.effects)
        kinds = self.mix(skill).items()
        return sum(m * expit(self.logit(beta, skill, player, time, *kind)) for kind, m in kinds)

    def moments(self) -> tuple[np.ndarray, np.ndarray]:
        """Return mean and covariance of every coefficient of the season: the fixed ones, then the effects."""
        return self.fit.posterior.moments(np.arange(sum(self._sizes())))

    def _sizes(self) -> list[int]:
        return [len(self.fit.fixed), *map(len, self.fit.effects)]

    def slopes(self, figure) -> np.ndarray:
        """Return by how much a figure moves with each coefficient, by small steps along each in turn.

        ``figure`` takes coefficients as `logit` does and returns a number or several.
        """

        def at(coefficients):
            fixed, *effects = np.split(coefficients, np.cumsum(self._sizes())[:-1])
            return np.array(figure((fixed, effects)))

        mean, _ = self.moments()
        return np.array([(at(mean + step) - at(mean - step)) / 2e-5 for step in 1e-5 * np.eye(len(mean))])

    def logit_slopes(self, skill: str, player: bytes, time: float) -> np.ndarray:
        """Return by how much the share's logit moves with each coefficient."""
        return self.slopes(lambda beta: logit(self.share(skill, player, time, beta)))

    def sd(self, skill: str, player: bytes, time: float) -> float:
        """Return the SD of the share's logit."""
        slope, (_, cov) = self.logit_slopes(skill, player, time), self.moments()
        return float(np.sqrt(slope @ cov @ slope))

    def spread(self, skill: str, player: bytes, time: float) -> float:
        """Return the SD that the share's logit has beyond ``sd`` where the player has no coefficients yet."""
        sd, variance = self.fit.term_sd, 0.0
        if (skill, player in self.goalies) not in self.means:
            variance += MEAN_SD**2
        if (skill, player) not in self.levels:
            variance += sd[LEVEL] ** 2 + (sd[SLOPE] * time) ** 2
        if self.shared and player not in self.players:
            variance += sd[OWN_LEVEL] ** 2 + (sd[OWN_SLOPE] * time) ** 2
        mix, beta = self.mix(skill).items(), (self.fit.fixed, self.fit.effects)
        shares = np.array([expit(self.logit(beta, skill, player, time, *kind)) for kind, _ in mix])
        parts = np.array([part for _, part in mix])
        whole = parts @ shares
        return float(np.sqrt(variance) * (parts @ (shares * (1 - shares))) / (whole * (1 - whole)))

    def stages(self, skill: str, player: bytes, now: float, beta=None) -> list[float]:
        """Return the player's share in his own tries, and as one thing after the other becomes usual."""
        beta, mix = beta or (self.fit.fixed, self.fit.effects), self.mix(skill)
        own = [t for t in self.tried if (t.player, t.skill) == (player, skill)]
        total, found = sum(t.tries for t in own), np.zeros(6)
        for t in own:
            time, pressed = self.time(t.day), self.pressed(t)
            usual = Counter()
            for (_, under), part in mix.items():
                usual[under] += part
            rows = [
                [(1.0, time, t.step, pressed, t.observer, t.day)],
                [(1.0, time, t.step, pressed, None, t.day)],
                [(1.0, time, t.step, pressed, None, None)],
                [(part, time, t.step, under, None, None) for under, part in usual.items()],
                [(part, time, step, under, None, None) for (step, under), part in mix.items()],
                [(part, now, step, under, None, None) for (step, under), part in mix.items()],
            ]
            for stage, kinds in enumerate(rows):
                shares = [part * expit(self.logit(beta, skill, player, *row)) for part, *row in kinds]
                found[stage] += t.tries / total * sum(shares)
        return found.tolist()

    def team(self, skill: str, kinds: dict[tuple[str, float], float], observer=None, beta=None) -> float:
        """Return the mean share of the skill's players in such tries, at the middle of its tries."""
        beta = beta or (self.fit.fixed, self.fit.effects)
        tried = [t for t in self.tried if t.skill == skill]
        middle = sum(self.time(t.day) * t.tries for t in tried) / sum(t.tries for t in tried)
        total, players = sum(kinds.values()), sorted({t.player for t in tried})
        rows = [
            part / total * expit(self.logit(beta, skill, who, middle, *kind, observer))
            for who in players
            for kind, part in kinds.items()
        ]
        return sum(rows) / len(players)

    def told(self, skill: str, share: float) -> float:
        """Return what one more try tells of a share's logit, as precision; tries of a day share that day."""
        own = [t for t in self.tried if t.skill == skill]
        each = sum(t.tries for t in own) / len({(t.player, t.day) for t in own})
        plain = each * share * (1 - share)
        return plain / (1 + plain * self.fit.term_sd[DAY] ** 2) / each
