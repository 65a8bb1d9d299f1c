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
AGAINST = -1  # the very last, only where any opponent is known


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
    opponent: bytes = b""


@dataclass
class SeasonByHand:
    """The tries of a season and a fit of them. ``positions`` are the players' position groups by id."""

    tried: list[Tried]
    fit: MixedFit
    positions: dict[bytes, str]
    shared: bool

    def __post_init__(self):
        self.skills = sorted({t.skill for t in self.tried})
        self.players = sorted({t.player for t in self.tried})
        self.means = self._in_skill(lambda t: self.is_goalie(t.player))
        self.levels = self._in_skill(lambda t: t.player)
        self.steps = self._in_skill(lambda t: t.step)
        self.observers = self._in_skill(lambda t: t.observer)
        self.days = self._in_skill(lambda t: t.day)
        self.opponents = sorted({(t.skill, t.opponent) for t in self.tried if t.opponent})

    def _in_skill(self, thing) -> list[tuple]:
        return sorted({(t.skill, thing(t)) for t in self.tried})

    def is_goalie(self, player: bytes) -> bool:
        """Say whether a player is a goalie: they have a mean of their own."""
        return self.positions[player] == "G"

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

    def mix(self, skill: str, player: bytes | None = None) -> dict[tuple[str, float], float]:
        """Return how often each step and pressure occurs in a skill, over the whole team.

        With a player it is over their position group, if that has any tries in the skill.
        """
        own = [t for t in self.tried if t.skill == skill]
        group = [t for t in own if player and self.positions[t.player] == self.positions[player]]
        count = Counter()
        for t in group or own:
            count[t.step, self.pressed(t)] += t.tries
        return {kind: tries / count.total() for kind, tries in count.items()}

    def seen_by(self, skill: str) -> dict[str, float]:
        """Return which share of a skill's tries each observer noted."""
        count = Counter()
        for t in self.tried:
            if t.skill == skill:
                count[t.observer] += t.tries
        return {observer: tries / count.total() for observer, tries in count.items()}

    def met(self, skill: str, player: bytes) -> dict[bytes, float]:
        """Return against whom which share of a skill's tries of the player's group was, b"" for nobody known.

        Where the group has no tries in the skill, it is that of all.
        """
        own = [t for t in self.tried if t.skill == skill]
        group = [t for t in own if self.positions[t.player] == self.positions[player]]
        count = Counter()
        for t in group or own:
            count[t.opponent] += t.tries
        return {opponent: tries / count.total() for opponent, tries in count.items()}

    def now(self, skill: str, player: bytes) -> float:
        """Return the last moment of a player's own time in a skill, without tries the skill's."""
        return self._end(skill, player, max, min)

    def start(self, skill: str, player: bytes) -> float:
        """Return the first moment of a player's own time in a skill in which they have tries."""
        return self._end(skill, player, min, max)

    def _end(self, skill: str, player: bytes, of_days, of_both) -> float:
        of_skill = of_days(self.time(t.day) for t in self.tried if t.skill == skill)
        if not any((t.skill, t.player) == (skill, player) for t in self.tried):
            return of_skill
        return of_both(of_skill, of_days(self.time(t.day) for t in self.tried if t.player == player))

    def logit(self, beta, skill, player, time, step, pressed, observer=None, day=None, opponent=b"") -> float:
        """Return one row's logit: every coefficient that the model names, each looked up by what it is of."""
        fixed, effects = beta
        number, skills, means = self.skills.index(skill), len(self.skills), len(self.means)
        group = (skill, self.is_goalie(player))
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
        row += effects[AGAINST][self.opponents.index((skill, opponent))] if opponent else 0.0
        return row

    def share(self, skill: str, player: bytes, time: float, beta=None) -> float:
        """Return the share under the group's mix, as the season's observers see it on an ordinary day."""
        return sum(part * share for part, share in self._rows(skill, player, time, beta))

    def _rows(self, skill: str, player: bytes, time: float, beta=None) -> list[tuple[float, float]]:
        """Return the share in each kind of try under each observer and against each opponent.

        Before it stands how often that occurs.
        """
        beta, of = beta or (self.fit.fixed, self.fit.effects), (skill, player, time)
        return [
            (often * part * met, expit(self.logit(beta, *of, *kind, observer, opponent=opponent)))
            for kind, often in self.mix(skill, player).items()
            for observer, part in self.seen_by(skill).items()
            for opponent, met in self.met(skill, player).items()
        ]

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
        if (skill, self.is_goalie(player)) not in self.means:
            variance += MEAN_SD**2
        if (skill, player) not in self.levels:
            variance += sd[LEVEL] ** 2 + (sd[SLOPE] * time) ** 2
        if self.shared and player not in self.players:
            variance += sd[OWN_LEVEL] ** 2 + (sd[OWN_SLOPE] * time) ** 2
        parts, shares = np.array(self._rows(skill, player, time)).T
        whole = parts @ shares
        return float(np.sqrt(variance) * (parts @ (shares * (1 - shares))) / (whole * (1 - whole)))

    def stages(self, skill: str, player: bytes, now: float, beta=None) -> list[float]:
        """Return the player's share in his own tries, and as one thing after the other becomes usual."""
        beta, mix = beta or (self.fit.fixed, self.fit.effects), self.mix(skill, player)
        own = [t for t in self.tried if (t.player, t.skill) == (player, skill)]
        total, found = sum(t.tries for t in own), np.zeros(7)
        for t in own:
            time, pressed = self.time(t.day), self.pressed(t)
            usual = Counter()
            for (_, under), part in mix.items():
                usual[under] += part
            seen_by = self.seen_by(skill).items()
            usual, mixed = usual.items(), [(*kind, part) for kind, part in mix.items()]
            met = t.opponent
            rows = [
                [(1.0, time, t.step, pressed, t.observer, t.day, met)],
                [(w, time, t.step, pressed, who, t.day, met) for who, w in seen_by],
                [(w, time, t.step, pressed, who, None, met) for who, w in seen_by],
                [
                    (w * part, time, t.step, under, who, None, met)
                    for under, part in usual
                    for who, w in seen_by
                ],
                [
                    (w * part, time, step, under, who, None, met)
                    for step, under, part in mixed
                    for who, w in seen_by
                ],
            ]
            rows += [
                [
                    (w * part * often, moment, step, under, who, None, against)
                    for step, under, part in mixed
                    for who, w in seen_by
                    for against, often in self.met(skill, player).items()
                ]
                for moment in (time, now)
            ]
            for stage, kinds in enumerate(rows):
                shares = [part * expit(self.logit(beta, skill, player, *row)) for part, *row in kinds]
                found[stage] += t.tries / total * sum(shares)
        return found.tolist()

    def team(self, skill: str, kinds: dict[tuple[str, float], float], met, seen_by=None, beta=None) -> float:
        """Return the mean share of the skill's players in such tries, at the middle of its tries.

        They are against opponents in the shares ``met``, and seen by the season's observers in their shares,
        or in the shares ``seen_by``.
        """
        seen_by = seen_by or self.seen_by(skill)
        beta = beta or (self.fit.fixed, self.fit.effects)
        tried = [t for t in self.tried if t.skill == skill]
        middle = sum(self.time(t.day) * t.tries for t in tried) / sum(t.tries for t in tried)
        total, players = sum(kinds.values()), sorted({t.player for t in tried})
        rows = [
            weight * part * often / total
            * expit(self.logit(beta, skill, who, middle, *kind, observer, opponent=opponent))
            for who in players
            for kind, part in kinds.items()
            for observer, weight in seen_by.items()
            for opponent, often in met.items()
        ]  # fmt: skip
        return sum(rows) / len(players)
