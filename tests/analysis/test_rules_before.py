"""A rule that is put back changes what it names, nothing else, and only for as long as the block runs."""

import numpy as np
import pytest
import rules_before
from season_world import World
from simulated_season import catalogue, cells, roster, simulate

from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.analysis.standings.standings import standings_of

WORLD = World(
    players=12, skills=2, practices=9, tries=18, defenders=4, forwards_step=-1.5, joiners=2, absent=2,
    strict=1.5, team_slope=1.0, sd_player=1.2,
)  # fmt: skip
SHARES = ("share", "low", "high", "p_below")
CHANGES = ("start_share", "change", "change_low", "change_high", "p_up")
# what of a standing each rule may change
CHANGED = {
    rules_before.calls_from_20_tries: ("call",),
    rules_before.calls_at_8_percent: ("call",),
    rules_before.calls_from_20_at_8: ("call",),
    rules_before.trends_from_95: ("trend",),
    rules_before.average_observer: (*SHARES, *CHANGES, "call", "trend"),
    rules_before.one_mix_for_all: (*SHARES, *CHANGES, "call", "trend"),
    rules_before.the_skills_time: (*SHARES, *CHANGES, "call", "trend"),
    rules_before.the_mode: (*SHARES, *CHANGES, "call", "trend"),
}
NAMES = ("player", "skill", "tries", "done", *SHARES, *CHANGES, "call", "trend")


@pytest.fixture(scope="module")
def seasons():
    """Return what the house says of two seasons, as a function of no arguments."""
    players = roster(WORLD)
    frames = [cells(simulate(np.random.default_rng(seed), WORLD), players) for seed in (0, 1)]
    return lambda: [one for frame in frames for one in standings_of(frame, players, catalogue(WORLD))]


def plain(standings):
    return [[getattr(one, name) for name in NAMES] for one in standings]


@pytest.mark.parametrize("before", CHANGED, ids=lambda before: before.__name__)
def test_a_rule_is_put_back_and_then_no_more(before, seasons):
    """Inside the block only what the rule is about differs, and something does; after it nothing does."""
    now = seasons()
    with before():
        then = seasons()
    assert plain(seasons()) == plain(now)
    changed = {name for name in NAMES for one, other in zip(now, then, strict=True)
               if getattr(one, name) != getattr(other, name)}  # fmt: skip
    assert changed
    assert changed <= set(CHANGED[before])


def test_calls_are_fewer_as_they_were(seasons):
    """From 20 tries nobody with fewer is called; a trend from .95 is one from .925 too."""
    with rules_before.calls_from_20_tries():
        assert all(one.tries >= 20 for one in seasons() if one.call in (Call.WORK_ON, Call.SOLID))
    now = seasons()
    with rules_before.trends_from_95():
        then = seasons()
    assert all(
        one.trend in (other.trend, Trend.NO_CLEAR_CHANGE) for one, other in zip(then, now, strict=True)
    )


def test_the_average_observer_and_the_one_mix_are_nobodys_own(seasons):
    """Beside a strict observer the average one sees more; without a step of their own forwards do better."""
    now = seasons()
    with rules_before.average_observer():
        assert np.mean([one.share for one in seasons()]) > np.mean([one.share for one in now])
    with rules_before.one_mix_for_all():
        gain = {
            position: np.mean([a.share - b.share for a, b in zip(seasons(), now, strict=True)
                               if a.position == position])
            for position in "FD"
        }  # fmt: skip
    assert gain["F"] > 0.02
    assert gain["D"] < -0.02


def test_the_skills_time_goes_beyond_a_players_own():
    """Who was there on the skill's first and last day is told the same; the others are not."""
    players, season = roster(WORLD), simulate(np.random.default_rng(0), WORLD)
    frame = cells(season, players)
    now = standings_of(frame, players, catalogue(WORLD))
    with rules_before.the_skills_time():
        then = standings_of(frame, players, catalogue(WORLD))
    for one, other in zip(now, then, strict=True):
        own = season.practice[season.player == int(one.player) - 1]
        days = season.practice[season.skill == int(one.skill[1:])]
        throughout = own.min() <= days.min() and own.max() >= days.max()
        assert throughout == ((one.share, one.change) == (other.share, other.change))
        assert not (throughout and int(one.player) <= WORLD.joiners + WORLD.absent)
