"""The team in one skill, in words that claim no more than the numbers do: wherever it is told, these."""

from collections.abc import Mapping
from datetime import date

from evaltrack.analysis.standings.standing import Cause, Trend
from evaltrack.analysis.team.course import Cost, Reached, TeamCourse
from evaltrack.rink.skill import Skill
from evaltrack.words.below import NOBODY_JUDGED, likely_words
from evaltrack.words.points import clear_span, moved_words, points, signed
from evaltrack.words.wording import about_words, count_words, counted, short_date, span_words

NO_TRY_OF_PLAYER = "no try yet"
VERY_LIKELY = "90\N{NO-BREAK SPACE}%"  # no line ends within
TEAM_MEANING = (
    "The team's share is the mean of its players', each counted alike, allowing for harder steps, pressure"
    " and luck. It tells how the players changed, not who was there."
)
IN_BRACKETS = f"In brackets: where it very likely is ({VERY_LIKELY})."
_OTHERS = {Cause.STEP: ("in the others", "the others"), Cause.PRESSURE: ("without", "tries without")}


def team_lines(one: TeamCourse) -> list[str]:
    """Return what was counted, and where the team's share is and is heading, or why that cannot be said."""
    return [team_count(one), team_state(one)]


def team_count(one: TeamCourse) -> str:
    """Return ``233 of 400 by 7 players at 20 practices``."""
    players, practices = counted(one.players, "player"), counted(one.practices, "practice")
    return f"{count_words(one.done, one.tries)} by {players} at {practices}"


def team_state(one: TeamCourse) -> str:
    """Return where the team's share is and where it is heading, or why that cannot be said."""
    if one.doubt or not one.path:
        return one.doubt or ""
    last = one.path[-1]
    about = f"{about_words(last.share)} ({span_words(last.low, last.high).removesuffix(' in 10')})"
    return f"{about} on {short_date(last.on)}; {change_words(one)}"


def change_words(one: TeamCourse) -> str:
    """Return ``up by 8 points since 9 Sep (1 to 15)``; no direction where none is clear."""
    since = short_date(one.path[0].on)
    if one.trend is not Trend.NO_CLEAR_CHANGE:
        sign = 1 if one.trend is Trend.UP else -1
        low, high = sorted((sign * one.change_low, sign * one.change_high))
        return f"{one.trend} by {moved_words(one.change)} since {since} ({clear_span(low, high)})"
    if one.change_low > 0 or one.change_high < 0:  # practices are too few for a direction, however clear
        return f"too few practices to tell a change since {since}"
    low, high = points(one.change_low), points(one.change_high)
    return f"no clear change since {since} ({_plus(low)} to {_plus(high)} points)"


def cost_words(one: Cost) -> str:
    """Return by how much tries of a kind come off better or worse than the others, with the doubt of that."""
    if not one.others:
        return "the only step in which it was watched"
    others, without = _OTHERS[one.cause]
    if one.low > 0:
        return f"{moved_words(one.cost)} lower than {others} ({clear_span(one.low, one.high)})"
    if one.high < 0:
        return f"{moved_words(one.cost)} higher than {others} ({clear_span(-one.high, -one.low)})"
    low, high = points(-one.high), points(-one.low)
    return f"no clear difference from {without} ({_plus(low)} to {_plus(high)} points)"


def cost_name(one: Cost, steps: Mapping[str, str]) -> str:
    """Return the kind of try and its count: ``Wall work, free: 24 of 40``, ``Under pressure: 9 of 20``.

    ``steps`` has the names of steps by ``drill/step``.
    """
    name = steps.get(one.named, one.named) if one.cause is Cause.STEP else "Under pressure"
    return f"{name}: {count_words(one.done, one.tries)}"


def cost_lines(one: TeamCourse, steps: Mapping[str, str]) -> list[str]:
    """Return what each step and pressure cost the team; nothing where that cannot be said."""
    return [f"{cost_name(cost, steps)}; {cost_words(cost)}" for cost in one.costs]


def reached_lines(one: TeamCourse) -> list[str]:
    """Return how many players are at each target that was asked for; nothing where that cannot be said."""
    return [reached_words(reached, one.path[0].on, one.path[-1].on) for reached in one.reached]


def reached_words(one: Reached, first: date, last: date) -> str:
    """Return how many of the players are at a target then and now, each with where that very likely is."""
    if not one.of:
        return f"At {percent(one.target)} or above: {NOBODY_JUDGED}"
    then, now = (f"{when} {words}" for when, words in reached_parts(one, first, last))
    return f"At {percent(one.target)} or above, of those who can be judged: {then}; {now}"


def reached_parts(one: Reached, first: date, last: date) -> list[tuple[str, str]]:
    """Return when, and how many of those who can be judged were at a target, for then and for now."""
    days, about = (first, last), one.about
    spans = ((one.then_low, one.then_high), (one.now_low, one.now_high))
    return [
        (f"around {short_date(day)}", f"about {number} of {one.of} ({likely_words(*span)})")
        for day, number, span in zip(days, about, spans, strict=True)
    ]


def definition_lines(skill: Skill) -> list[str]:
    """Return the definition as the season has it: when a try starts, what is done, missed, not counted."""
    said = skill.definition
    parts = (("Starts", said.starts), ("Done", said.done), ("Missed", said.missed))
    return [f"{word}: {text}" for word, text in (*parts, ("Not counted", said.not_counted))]


def whom_words(skill: Skill) -> str:
    """Return for whom a skill is and what the coach asks for: ``Defenders and forwards; target 60 %``."""
    *others, last = (f"{group.word}s" for group in skill.positions)
    who = f"{', '.join(others)} and {last}" if others else last
    return f"{who.capitalize()}; target {percent(skill.target)}"


def percent(share: float) -> str:
    """Return ``60 %``."""
    return f"{100 * share:.0f} %"


def _plus(whole: int) -> str:
    return f"+{whole}" if whole > 0 else signed(whole)
