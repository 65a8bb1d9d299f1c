"""What is said of the counts since something was agreed: two counts, and a direction only from the trend."""

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from random_sheets import one_standing
from sample_sheets import DAYS, counted

from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.rink.family_note import Agreed
from evaltrack.words.family.looking_back import looked_back
from evaltrack.words.reading_grade import HARD, reading_grade
from evaltrack.words.wording import is_firm

_AGREED = Agreed("Ten wall passes a day.", "Dad")
_BEFORE = counted("stop", 5, 22, days=DAYS[:9])


def _after(done, tries, **other):
    return replace(counted("stop", 5 + done, 22 + tries), **other)


@pytest.mark.parametrize(
    ("before", "now", "words"),
    [
        (
            _BEFORE,
            _after(9, 14),
            "Since then it worked in 9 of 14 tries. Up to then it had worked in 5 of 22 tries. "
            "Over the whole time there is no clear change yet.",
        ),
        (
            _BEFORE,
            _after(9, 14, trend=Trend.UP),
            "Since then it worked in 9 of 14 tries. Up to then it had worked in 5 of 22 tries. "
            "Over the whole time, from 2 October on, it is going up.",
        ),
        (
            _BEFORE,
            _after(1, 9, trend=Trend.UP),
            "Since then it worked in 1 of 9 tries. Up to then it had worked in 5 of 22 tries. "
            "That is too few to say whether it changed.",
        ),
        (
            _BEFORE,
            _after(0, 1),
            "Since then it has not worked yet in 1 try. Up to then it had worked in 5 of 22 tries. "
            "That is too few to say whether it changed.",
        ),
        (
            None,
            _BEFORE,
            "Since then it worked in 5 of 22 tries. Before that it was not watched. "
            "Over the whole time there is no clear change yet.",
        ),
        (_BEFORE, _BEFORE, "It has not been watched since."),
        (None, None, "It has not been watched since."),
        (
            _BEFORE,
            None,
            "The counts were put right or begun anew, so we cannot tell what came since.",
        ),
        (
            _BEFORE,
            _after(-1, 3),
            "The counts were put right or begun anew, so we cannot tell what came since.",
        ),
    ],
)
def test_both_counts_are_told_and_nothing_is_made_of_them(before, now, words):
    """What was agreed, what was counted since and up to then; what that means only as far as it goes."""
    assert looked_back(before, now, _AGREED) == f"Agreed: Ten wall passes a day. {words}"


def test_the_skill_is_named_where_it_does_not_stand_beside():
    """Or a family takes "it" for the wall passes."""
    told = looked_back(_BEFORE, _after(9, 14), _AGREED, "Outlet pass")
    assert told.startswith(
        "Agreed: Ten wall passes a day. Outlet pass. Since then it worked in 9 of 14 tries."
    )


def test_where_no_call_is_made_no_direction_is_told():
    """Tries enough and an estimate that does not stand: the counts alone."""
    told = looked_back(_BEFORE, _after(9, 14, doubt="It did not settle."), _AGREED)
    assert told.endswith("Up to then it had worked in 5 of 22 tries.")


@settings(deadline=None)  # the first grade loads a dictionary
@given(one_standing("stop"), one_standing("stop"))
def test_no_change_is_claimed_that_the_trend_does_not(before, now):
    """Whatever the two counts: every number is one of theirs, and the words are easy."""
    told = looked_back(before, now, _AGREED)
    assert not re.search(r"\b(better|worse|more|fewer|less|improv\w*|because|helped)\b", told)
    for way, trend in (("up", Trend.UP), ("down", Trend.DOWN)):
        assert (f"going {way}" in told) <= (now.trend is trend and is_firm(now))
    counts = {before.done, before.tries, now.done - before.done, now.tries - before.tries}
    counts |= {point.on.day for point in now.path}
    assert {int(number) for number in re.findall(r"\d+", told)} <= counts
    assert reading_grade(looked_back(before, now, _AGREED)) <= HARD
    assert now.call is not Call.TOO_FEW or "going" not in told
