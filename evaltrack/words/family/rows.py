"""The skills of a family's page as rows: count, share, direction, how far it is known, and the chart."""

from datetime import date

from evaltrack.analysis.standings.standing import Call, Standing, Trend
from evaltrack.rink.skill import Skill
from evaltrack.words.curve import curve
from evaltrack.words.family.counts import share, worked
from evaltrack.words.family.sheet import SkillRow
from evaltrack.words.wording import (
    count_words,
    counted,
    direction_words,
    is_firm,
    level_words,
    now_words,
)

SOLID = "solid"
_NOTHING_KNOWN = "0 to 10 in 10"
_CHART_DIRECTIONS = {
    Trend.UP: "The line goes up.",
    Trend.DOWN: "The line goes down.",
    Trend.NO_CLEAR_CHANGE: "There is no clear change yet.",
}
_NO_READING = "There is no clear reading yet."


def skill_row(skill: Skill, standing: Standing, last: date, away: bool) -> SkillRow:
    """Return the row of a skill; ``last`` is the day up to which the page counts."""
    level = _level(standing, last, away)
    return SkillRow(
        name=skill.name,
        looks_like=skill.looks_like,
        count=count_words(standing.done, standing.tries),
        share=share(standing.done, standing.tries),
        direction=direction_words(standing),
        level=level,
        chart_words=_chart_words(skill.name, standing, level),
        path=curve(standing, until_now=not away),
        seen=standing.seen,
    )


def _level(standing: Standing, last: date, away: bool) -> str:
    known = "" if away else range_words(standing, last)
    if not (is_firm(standing) and standing.call is Call.SOLID):
        return known
    return f"{SOLID}; {known}" if known else SOLID


def range_words(standing: Standing, last: date) -> str:
    """Return ``now likely 5 to 8 in 10``, with the day in place of "now" where it is old.

    Empty where nothing is known of it.
    """
    level = level_words(standing)
    if level in ("", _NOTHING_KNOWN):
        return ""
    return f"{now_words(standing, last)} likely {level}"


def _chart_words(name: str, standing: Standing, level: str) -> str:
    practices = counted(len(standing.seen), "practice")
    direction = _CHART_DIRECTIONS[standing.trend] if is_firm(standing) else _NO_READING
    said = [f"{name}, watched at {practices}.", worked(standing.done, standing.tries), direction]
    return " ".join([*said, f"{level[0].upper()}{level[1:]}."] if level else said)
