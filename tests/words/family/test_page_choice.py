"""What a page leads with and works on: few skills, each on a call, a trend or a likely side of its target."""

from dataclasses import replace

import pytest
from sample_sheets import counted

from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.words.family.choice import Step, Strength, choose, next_step, strength

_UP, _DOWN = Trend.UP, Trend.DOWN


def _one(key="stop", done=20, tries=33, **other):
    return counted(key, done, tries, **{"p_below": 0.5, "low": 0.4, "high": 0.8, **other})


def _keys(standings):
    return [one.skill for one in standings]


@pytest.mark.parametrize(
    ("one", "as_strength", "as_step"),
    [
        (_one(call=Call.SOLID, p_below=0.1), Strength.SOLID, None),
        (_one(call=Call.SOLID, p_below=0.1, trend=_DOWN), Strength.SOLID, None),
        (_one(call=Call.WORK_ON, p_below=0.9), None, Step.CALLED),
        (_one(call=Call.WORK_ON, p_below=0.9, trend=_UP), None, Step.CALLED),
        (_one(trend=_UP), Strength.RISING, Step.PICKED),
        (_one(trend=_DOWN), None, Step.FALLING),
        (_one(done=22, p_below=0.3), Strength.LIKELY, Step.PICKED),
        (_one(done=22, p_below=0.31), Strength.PICKED, Step.PICKED),
        (_one(done=19, p_below=0.3), Strength.PICKED, Step.PICKED),
        (_one(done=19, p_below=0.7), Strength.PICKED, Step.LIKELY),
        (_one(done=19, p_below=0.69), Strength.PICKED, Step.PICKED),
        (_one(done=22, p_below=0.7), Strength.PICKED, Step.PICKED),
        (_one(call=Call.TOO_FEW), None, None),
        (_one(doubt="It did not settle."), None, None),
        (_one(call=Call.SOLID, doubt="It did not settle."), None, None),
    ],
)
def test_on_what_a_skill_stands(one, as_strength, as_step):
    """A call before a trend, a trend before a likely side of the target, and else by the coach's pick."""
    assert (strength(one), next_step(one)) == (as_strength, as_step)


def test_what_is_surest_leads_and_three_are_enough():
    """Solid before rising before likely; of the solid ones the highest first, one that falls last."""
    solid = [
        _one("stop", call=Call.SOLID, low=0.7, trend=_DOWN),
        _one("start", call=Call.SOLID, low=0.62),
        _one("gap_up", call=Call.SOLID, low=0.66),
    ]
    rising, likely = _one("gap_at_line", trend=_UP), _one("outlet_pass", done=30, p_below=0.1)
    assert _keys(choose([likely, rising, *solid]).strengths) == ["gap_up", "start", "stop"]
    assert _keys(choose([likely, rising, solid[0]]).strengths) == ["stop", "gap_at_line", "outlet_pass"]


def test_what_needs_it_most_comes_first_and_two_are_enough():
    """Called before falling before likely, the lowest first."""
    called = [_one(key, call=Call.WORK_ON, high=high) for key, high in (("stop", 0.5), ("start", 0.4))]
    falling, likely = _one("gap_up", trend=_DOWN), _one("gap_at_line", done=12, p_below=0.8)
    assert _keys(choose([likely, falling, *called]).next_skills) == ["start", "stop"]
    assert _keys(choose([likely, falling]).next_skills) == ["gap_up", "gap_at_line"]


def test_nothing_is_chosen_for_want_of_a_better_one():
    """Highest and lowest of those that are neither here nor there are neither praised nor corrected."""
    even = [_one(key, done=done) for key, done in zip(("stop", "start", "gap_up"), (12, 20, 28), strict=True)]
    assert choose(even) == choose([])


def test_no_skill_stands_in_both():
    """One that rises, and lies low still, is told once."""
    both = replace(_one(done=8, trend=_UP), p_below=0.9)
    assert strength(both)
    assert next_step(both)
    chosen = choose([both])
    assert (_keys(chosen.strengths), chosen.next_skills) == (["stop"], ())
