"""The skills of a family's page as rows: count, share, direction, how far it is known, and the chart."""

from datetime import date

from evaltrack.analysis.standings.standing import Call, Standing, Trend
from evaltrack.language import mark, tr
from evaltrack.rink.skill import Skill
from evaltrack.words.curve import curve
from evaltrack.words.family.counts import share, worked
from evaltrack.words.family.sheet import SkillRow
from evaltrack.words.wording import (
    FRESH_DAYS,
    count_words,
    counted,
    direction_words,
    is_firm,
    short_date,
    tenths_outward,
)

_CHART_DIRECTIONS = {
    Trend.UP: mark("The line goes up."),
    Trend.DOWN: mark("The line goes down."),
    Trend.NO_CLEAR_CHANGE: mark("Its direction is not clear yet."),
}
_NO_READING = mark("There is no clear reading yet.")
_NOT_CLEAR = mark("direction not clear yet")  # on screens: no clear change yet; parents read no progress


def skill_row(skill: Skill, standing: Standing, last: date, away: bool) -> SkillRow:
    """Return the row of a skill; ``last`` is the day up to which the page counts."""
    known = "" if away else range_words(standing, last)
    solid = is_firm(standing) and standing.call is Call.SOLID
    level = _level(solid, known)
    return SkillRow(
        name=skill.name,
        looks_like=skill.looks_like,
        count=count_words(standing.done, standing.tries),
        share=share(standing.done, standing.tries),
        direction=_direction(standing),
        level=level,
        chart_words=_chart_words(skill.name, standing, level),
        path=curve(standing, until_now=not away),
        seen=standing.seen,
        is_solid=solid,
        is_ranged=bool(known),
    )


def _direction(standing: Standing) -> str:
    unclear = is_firm(standing) and standing.trend is Trend.NO_CLEAR_CHANGE
    return tr(_NOT_CLEAR) if unclear else direction_words(standing)


def _level(solid: bool, known: str) -> str:
    if not solid:
        return known
    return tr("solid; {range}", range=known) if known else tr("solid")


def range_words(standing: Standing, last: date) -> str:
    """Return ``now maybe 5 to 8 in 10``, with the day in place of "now" where it is old.

    Not "likely": readers took a likely range for good days and bad days. Empty where nothing is known of it.
    """
    low, high = tenths_outward(standing.low, standing.high)
    if not is_firm(standing) or (low, high) == (0, 10):
        return ""
    watched = standing.path[-1].on if standing.path else last
    if (last - watched).days <= FRESH_DAYS:
        return tr("now maybe {low} to {high} in 10", low=low, high=high)
    day = short_date(watched)
    return tr("on {day} maybe {low} to {high} in 10", day=day, low=low, high=high)


def _chart_words(name: str, standing: Standing, level: str) -> str:
    practices = counted(len(standing.seen), "practice")
    direction = tr(_CHART_DIRECTIONS[standing.trend] if is_firm(standing) else _NO_READING)
    seen = tr("{name}, watched at {practices}.", name=name, practices=practices)
    said = [seen, worked(standing.done, standing.tries), direction]
    return " ".join([*said, f"{level[0].upper()}{level[1:]}."] if level else said)
