"""Small seasons drawn from a seed, each fitted, and the same written out by hand."""

import numpy as np
from by_hand import SeasonByHand, Tried
from scipy.special import expit, ndtri
from seasons import cell, player, skill

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.rink.player import Position

SKILLS = ("gap_up", "start", "stop")
DEFENCE, FORWARD, GOALIE = Position.DEFENCE, Position.FORWARD, Position.GOALIE
LINEUP = (FORWARD, GOALIE, DEFENCE, FORWARD, GOALIE, DEFENCE, FORWARD)
Z = float(ndtri(0.95))


class World:
    """A season drawn from a seed, the fit of it, and the same by hand. The last player was never seen.

    With ``met`` it is known of some tries against whom they were.
    """

    def __init__(self, seed: int, shared: bool, met: bool = False):
        rng = np.random.default_rng(seed)
        self.shared = shared
        self.roster = [player(9 + number, position) for number, position in enumerate(LINEUP)]
        self.skills = [skill(key, float(rng.uniform(0.4, 0.8))) for key in SKILLS[: rng.integers(1, 4)]]
        rows = _rows(rng, self.roster[:-1], self.skills)
        rows = _against(rng, rows, self.roster) if met else rows
        self.cells = cells_frame(rows)
        positions = {p.id.bytes: p.position for p in self.roster}
        self.fits = fit_season(self.cells, positions, shared)
        tried = [
            Tried(row[0], row[1], row[3], f"{row[4]}/{row[5]}", row[6], row[7], *row[-2:], *_opponent(row))
            for row in rows
        ]
        self.by_hand = SeasonByHand(tried, next(iter(self.fits.values())).fit, positions, shared)


def _rows(rng, roster, skills) -> list[tuple]:
    """Draw cells: a player's share differs by skill, step, pressure, week and observer; some are left out."""
    weeks, steps, found = rng.integers(3, 11), ("chaser", "gates", "two_on_one")[: rng.integers(1, 4)], {}
    noted = [(0,), (0, 1), (0, 1, None), (1, None)][rng.integers(4)]
    skaters_only = rng.integers(2)
    for number, who in enumerate(roster):
        # the first player was seen in one skill only, in half of the seasons the goalies too
        few = number == 0 or (skaters_only and who.position == "G")
        for one in skills[: 1 if few else None]:
            own = rng.normal(0.4 * (who.position == "G"), 0.8)
            for _ in range(rng.integers(4, 13)):
                week, step, pressure = (int(rng.integers(weeks)), str(rng.choice(steps)), rng.choice(noted))
                observer = "IMT"[rng.integers(3)]
                push = own + 0.15 * week - 0.9 * (pressure or 0) - 0.5 * steps.index(step)
                tries = int(rng.integers(1, 6))
                done = int(rng.binomial(tries, expit(push - 0.4 * (observer == "T"))))
                other = {"step": step, "pressure": pressure, "observer": observer}
                found[number, one.key, week, step, pressure, observer] = cell(
                    who, one.key, week, tries, done, **other
                )
    return list(found.values())


def _against(rng, rows: list[tuple], roster) -> list[tuple]:
    """Return the rows with whom they were against: one of three, also of one's own group, or nobody known."""
    some = [roster[number].id.bytes for number in rng.choice(len(roster), 3, replace=False)]
    return [(*row[:-2], [*some, None][rng.integers(4)], *row[-2:]) for row in rows]


def _opponent(row: tuple) -> tuple[bytes, ...]:
    return (row[8] or b"",) if len(row) == 11 else ()
