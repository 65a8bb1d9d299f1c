"""Counts and skills in sentences, one by one."""

from dataclasses import replace
from datetime import timedelta

import pytest
from sample_sheets import DAYS, SKILLS, counted

from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.words.family.counts import worked, worked_so_far
from evaltrack.words.family.rows import skill_row
from evaltrack.words.family.skill_words import next_words, strength_words

_LAST = DAYS[21]  # of the path of what is counted on every third day


@pytest.mark.parametrize(
    ("done", "tries", "sentence"),
    [
        (26, 37, "It worked in 26 of 37 tries, about 7 in 10."),
        (18, 30, "It worked in 18 of 30 tries, 6 in 10."),
        (5, 10, "It worked in 5 of 10 tries."),
        (20, 20, "It worked in 20 of 20 tries, every one."),
        (10, 10, "It worked in 10 of 10 tries."),
        (36, 37, "It worked in 36 of 37 tries, more than 9 in 10."),
        (1, 37, "It worked in 1 of 37 tries, fewer than 1 in 10."),
        (0, 22, "It has not worked yet in 22 tries."),
    ],
)
def test_a_count_keeps_its_denominator_and_is_not_said_twice(done, tries, sentence):
    """The share beside it is "about" only where it is, and is left out where it is the count."""
    assert worked(done, tries) == sentence


def test_of_what_is_being_learned_no_share_is_said():
    """A bare 2 in 10 hurts, and tells no more than the count."""
    assert worked_so_far(5, 22) == "So far, it has worked in 5 of 22 tries."
    assert worked_so_far(0, 22) == "It has not worked yet in 22 tries, so we start here."


def _strength(last=_LAST, **other):
    return strength_words(SKILLS["stop"], counted("stop", 20, 32, **{"p_below": 0.5, **other}), last)


def _next(last=_LAST, skill=SKILLS["stop"], done=9, **other):
    return next_words(skill, counted("stop", done, 32, **{"p_below": 0.5, **other}), last)


_COUNT = "It worked in 20 of 32 tries, about 6 in 10."
_SOLID = {"call": Call.SOLID, "p_below": 0.1}
_ABOVE = "In our usual drills, it likely works more often than the coach asks for."
_STILL = "It likely still works more often than the coach asks for."


@pytest.mark.parametrize(
    ("words", "sentences"),
    [
        (_strength(**_SOLID), f"Stop: solid. {_COUNT} {_ABOVE}"),
        (
            _strength(**_SOLID, trend=Trend.UP),
            f"Stop: solid, and going up since 2 October. {_COUNT} {_ABOVE}",
        ),
        (
            _strength(**_SOLID, trend=Trend.DOWN),
            f"Stop: solid. {_COUNT} It has gone down since 2 October. {_STILL}",
        ),
        (_strength(trend=Trend.UP), f"Stop: going up since 2 October. {_COUNT}"),
        (_strength(), f"Stop: the coach sees this going well. {_COUNT}"),
    ],
)
def test_each_strength_has_its_sentences(words, sentences):
    """By its call, its trend, and whether its count seems to quarrel with them."""
    assert words == sentences


@pytest.mark.parametrize(("days", "old"), [(14, False), (15, True)])
def test_what_is_old_is_told_with_its_last_day(days, old):
    """After two weeks nothing goes on "since": it went from one day to another."""
    last, end = _LAST + timedelta(days=days), f"{_LAST.day} {_LAST:%B}"
    solid, rising, falling = (
        _strength(last, **_SOLID, trend=Trend.UP),
        _strength(last, trend=Trend.UP),
        _strength(last, **_SOLID, trend=Trend.DOWN),
    )
    assert solid.startswith(
        f"Stop: solid, and it went up from 2 October to {end}."
        if old
        else "Stop: solid, and going up since 2"
    )
    assert rising.startswith(
        f"Stop: it went up from 2 October to {end}." if old else "Stop: going up since 2 October."
    )
    assert (f"It went down from 2 October to {end}." in falling) is old
    assert (f"It went up from 2 October to {end}." in _next(last, trend=Trend.UP)) is old
    assert (f"It went down from 2 October to {end}." in _next(last, trend=Trend.DOWN)) is old


_LOOKS = (
    "Stop. When it works, it looks like this: a full stop in a short space, on either side, without a wobble."
)
_SO_FAR = "So far, it has worked in 9 of 32 tries."
_HOME = "See what to try at home."
_CALLED = {"call": Call.WORK_ON, "p_below": 0.9}


@pytest.mark.parametrize(
    ("words", "sentences"),
    [
        (_next(**_CALLED), f"{_LOOKS} {_SO_FAR} {_HOME}"),
        (_next(**_CALLED, trend=Trend.UP), f"{_LOOKS} {_SO_FAR} It has gone up since 2 October. {_HOME}"),
        (_next(**_CALLED, trend=Trend.DOWN), f"{_LOOKS} {_SO_FAR} {_HOME}"),
        (_next(trend=Trend.DOWN), f"{_LOOKS} {_SO_FAR} It has gone down since 2 October. {_HOME}"),
        (_next(p_below=0.8), f"{_LOOKS} {_SO_FAR} {_HOME}"),
        (_next(), f"{_LOOKS} {_SO_FAR} The coach chose this one. {_HOME}"),
        (_next(skill=replace(SKILLS["stop"], at_home=())), f"{_LOOKS} {_SO_FAR} The coach chose this one."),
        (
            _next(skill=replace(SKILLS["stop"], looks_like=f"{SKILLS['stop'].looks_like}."), p_below=0.8),
            f"{_LOOKS} {_SO_FAR} {_HOME}",
        ),
    ],
)
def test_each_next_step_has_its_sentences(words, sentences):
    """What it looks like first; of a skill that is called, a fall is not rubbed in."""
    assert words == sentences


def _row(last=_LAST, away=False, **other):
    return skill_row(SKILLS["stop"], counted("stop", 20, 32, low=0.42, high=0.77, **other), last, away)


@pytest.mark.parametrize(
    ("row", "level"),
    [
        (_row(), "now maybe 4 to 8 in 10"),
        (_row(_LAST + timedelta(days=14)), "now maybe 4 to 8 in 10"),
        (_row(_LAST + timedelta(days=15)), f"on {_LAST.day} {_LAST:%b} maybe 4 to 8 in 10"),
        (_row(away=True), ""),
        (_row(call=Call.SOLID), "solid; now maybe 4 to 8 in 10"),
        (_row(call=Call.SOLID, away=True), "solid"),
        (_row(doubt="It did not settle."), ""),
        (_row(call=Call.SOLID, doubt="It did not settle."), ""),
    ],
)
def test_a_row_says_how_often_it_could_be(row, level):
    """As a range, with its day where it is old, and not at all where nothing is known of now."""
    assert row.level == level
    assert row.chart_words.endswith(f" {level[:1].upper()}{level[1:]}." if level else "yet.")


def test_a_row_tells_the_share_as_the_sentence_does():
    """6 of 30 is 2 in 10, and 20 of 32 about 6."""
    exact = skill_row(SKILLS["stop"], counted("stop", 6, 30), _LAST, away=False)
    assert (exact.count, exact.share, _row().share) == ("6 of 30", "2 in 10", "about 6 in 10")


def test_a_range_of_everything_is_not_told():
    """0 to 10 in 10 is what everybody knew before."""
    one = counted("stop", 20, 32, low=0.04, high=0.95)
    assert skill_row(SKILLS["stop"], one, _LAST, away=False).level == ""


def test_a_chart_is_told_in_words():
    """For those who do not see it: when it was watched, the count, the direction, the range."""
    assert _row(trend=Trend.DOWN).chart_words == (
        "Stop, watched at 8 practices. It worked in 20 of 32 tries, about 6 in 10. The line goes down. "
        "Now maybe 4 to 8 in 10."
    )
    assert "The line goes up." in _row(trend=Trend.UP).chart_words
    assert "Its direction is not clear yet." in _row().chart_words
