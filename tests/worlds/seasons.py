"""Small seasons of invented players for the tests of standings."""

import math
from datetime import date, timedelta

import numpy as np

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.standings.standing import COLUMNS, Call, Trend
from evaltrack.rink.player import Player, Position
from evaltrack.rink.skill import Definition, Skill

FIRST = date(2026, 9, 14)


def skill(key: str, target: float = 0.6) -> Skill:
    """Return a skill of which only the key and the target matter."""
    every = (Position.DEFENCE, Position.FORWARD, Position.GOALIE)
    return Skill(key, key, every, "", Definition("", "", "", ""), "", target=target)


def player(number: int, position: Position = Position.FORWARD) -> Player:
    """Return a player of whom only the number and position matter."""
    return Player(str(number), f"Player {number}", position)


def cell(who: Player, key: str, week: int, tries: int, done: int, **other) -> tuple:
    """Return one cell as the season file gives it."""
    known = {"drill": "breakout_attack", "step": "two_on_one", "pressure": 0, "observer": "Ines"} | other
    held_on = (FIRST + timedelta(weeks=week)).isoformat()
    return (who.id.bytes, key, held_on, held_on, *known.values(), tries, done)


def season(seed: int = 1, players: int = 10, skills: int = 2, practices: int = 8, tries: int = 3):
    """Return cells, players and skills of a random season in which shares rise with the player's number."""
    rng = np.random.default_rng(seed)
    roster, catalogue = [player(n) for n in range(1, players + 1)], [skill(f"s{k}") for k in range(skills)]
    rows = []
    for number, who in enumerate(roster):
        for one in catalogue:
            for week in range(practices):
                done = int(rng.binomial(tries, 0.3 + 0.6 * number / players))
                step = ("two_on_one", "three_on_one")[week % 2]
                rows.append(cell(who, one.key, week, tries, done, step=step, observer="IM"[week % 2]))
    return cells_frame(rows), roster, catalogue


def assert_sound(standings):
    """No figure is impossible, and no call or trend contradicts its interval."""
    for one in standings:
        figures = [getattr(one, name) for name in COLUMNS[4:19]]
        assert all(math.isfinite(figure) for figure in figures), one
        assert 0 <= one.low <= one.low50 <= one.high50 <= one.high <= 1
        # the mean: where all tries failed it may lie above the middle half
        assert one.low <= one.share <= one.high
        assert -1 <= one.change_low <= one.change <= one.change_high <= 1
        assert 0 <= one.p_up <= 1
        assert 0 <= one.p_below <= 1
        assert one.call is not Call.WORK_ON or one.high50 < one.target
        assert one.call is not Call.SOLID or one.low50 > one.target
        assert one.trend is not Trend.UP or (one.p_up >= 0.925 and one.change > 0)
        assert one.trend is not Trend.DOWN or (one.p_up <= 0.075 and one.change < 0)
        assert one.doubt is None or one.call in (Call.TOO_FEW, Call.IN_BETWEEN)
        if one.doubt is None:
            _assert_ends_agree(one.p_below, 1 - one.p_below, one.low - one.target, one.high - one.target)
            _assert_ends_agree(1 - one.p_up, one.p_up, one.change_low, one.change_high)


def _assert_ends_agree(below, above, low, high):
    """A 90 % interval lies to one side of zero just when that side has a probability of .95."""
    assert (below > 0.95) == (high < 0) or min(abs(below - 0.95), abs(high)) < 1e-6
    assert (above > 0.95) == (low > 0) or min(abs(above - 0.95), abs(low)) < 1e-6
