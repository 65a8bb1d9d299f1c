"""The team in one skill, in words that claim no more than the numbers do: wherever it is told, these."""

from collections.abc import Mapping
from datetime import date

from evaltrack.analysis.standings.standing import Cause, Trend
from evaltrack.analysis.team.course import Cost, Reached, TeamCourse
from evaltrack.language import mark, tr
from evaltrack.rink.skill import Skill
from evaltrack.words.below import likely_words
from evaltrack.words.points import clear_span, moved_words, points, signed
from evaltrack.words.wording import (
    about_words,
    count_words,
    counted,
    in_percent,
    listed,
    short_date,
    tenths_words,
)

NO_TRY_OF_PLAYER = mark("no try yet")
TEAM_MEANING = mark(
    "The team's share is the mean of its players', each counted alike, allowing for harder steps, pressure"
    " and luck. It tells how the players changed, not who was there."
)
IN_BRACKETS = mark("In brackets: where it very likely is (90\u00a0%).")  # no line ends within a share
_HIGHER = {
    Cause.STEP: mark("{points} higher than in the others ({span})"),
    Cause.PRESSURE: mark("{points} higher than without ({span})"),
}
_LOWER = {
    Cause.STEP: mark("{points} lower than in the others ({span})"),
    Cause.PRESSURE: mark("{points} lower than without ({span})"),
}
_NO_CLEAR_DIFFERENCE = {
    Cause.STEP: mark("no clear difference from the others ({low} to {high} points)"),
    Cause.PRESSURE: mark("no clear difference from tries without ({low} to {high} points)"),
}


def team_lines(one: TeamCourse) -> list[str]:
    """Return what was counted, and where the team's share is and is heading, or why that cannot be said."""
    return [team_count(one), team_state(one)]


def team_count(one: TeamCourse) -> str:
    """Return ``233 of 400 by 7 players at 20 practices``."""
    players, practices = counted(one.players, "player"), counted(one.practices, "practice")
    count = count_words(one.done, one.tries)
    return tr("{count} by {players} at {practices}", count=count, players=players, practices=practices)


def team_state(one: TeamCourse) -> str:
    """Return where the team's share is and where it is heading, or why that cannot be said."""
    if one.doubt or not one.path:
        return tr(one.doubt or "")
    last = one.path[-1]
    return tr(
        "{share} ({tenths}) on {day}; {change}",
        share=about_words(last.share),
        tenths=tenths_words(last.low, last.high),
        day=short_date(last.on),
        change=change_words(one),
    )


def change_words(one: TeamCourse) -> str:
    """Return ``up by 8 points since 9 Sep (1 to 15)``; no direction where none is clear."""
    since = short_date(one.path[0].on)
    if one.trend is not Trend.NO_CLEAR_CHANGE:
        sign = 1 if one.trend is Trend.UP else -1
        span = clear_span(*sorted((sign * one.change_low, sign * one.change_high)))
        moved = {"points": moved_words(one.change), "day": since, "span": span}
        if sign > 0:
            return tr("up by {points} since {day} ({span})", **moved)
        return tr("down by {points} since {day} ({span})", **moved)
    if one.change_low > 0 or one.change_high < 0:  # practices are too few for a direction, however clear
        return tr("too few practices to tell a change since {day}", day=since)
    low, high = _plus(points(one.change_low)), _plus(points(one.change_high))
    return tr("no clear change since {day} ({low} to {high} points)", day=since, low=low, high=high)


def cost_words(one: Cost) -> str:
    """Return by how much tries of a kind come off better or worse than the others, with the doubt of that."""
    if not one.others:
        return tr("the only step in which it was watched")
    if one.low > 0:
        span = clear_span(one.low, one.high)
        return tr(_LOWER[one.cause], points=moved_words(one.cost), span=span)
    if one.high < 0:
        span = clear_span(-one.high, -one.low)
        return tr(_HIGHER[one.cause], points=moved_words(one.cost), span=span)
    low, high = _plus(points(-one.high)), _plus(points(-one.low))
    return tr(_NO_CLEAR_DIFFERENCE[one.cause], low=low, high=high)


def cost_name(one: Cost, steps: Mapping[str, str]) -> str:
    """Return the kind of try and its count: ``Wall work, free: 24 of 40``, ``Under pressure: 9 of 20``.

    ``steps`` has the names of steps by ``drill/step``.
    """
    name = steps.get(one.named, one.named) if one.cause is Cause.STEP else tr("Under pressure")
    return tr("{name}: {count}", name=name, count=count_words(one.done, one.tries))


def cost_lines(one: TeamCourse, steps: Mapping[str, str]) -> list[str]:
    """Return what each step and pressure cost the team; nothing where that cannot be said."""
    return [f"{cost_name(cost, steps)}; {cost_words(cost)}" for cost in one.costs]


def reached_lines(one: TeamCourse) -> list[str]:
    """Return how many players are at each target that was asked for; nothing where that cannot be said."""
    return [reached_words(reached, one.path[0].on, one.path[-1].on) for reached in one.reached]


def reached_words(one: Reached, first: date, last: date) -> str:
    """Return how many of the players are at a target then and now, each with where that very likely is."""
    if not one.of:
        return tr("At {share} or above: nobody can be judged in it yet", share=percent(one.target))
    then, now = (f"{when} {words}" for when, words in reached_parts(one, first, last))
    return tr(
        "At {share} or above, of those who can be judged: {then}; {now}",
        share=percent(one.target),
        then=then,
        now=now,
    )


def reached_parts(one: Reached, first: date, last: date) -> list[tuple[str, str]]:
    """Return when, and how many of those who can be judged were at a target, for then and for now."""
    days, about = (first, last), one.about
    spans = ((one.then_low, one.then_high), (one.now_low, one.now_high))
    return [
        (
            tr("around {day}", day=short_date(day)),
            tr("about {done} of {of} ({likely})", done=number, of=one.of, likely=likely_words(*span)),
        )
        for day, number, span in zip(days, about, spans, strict=True)
    ]


def definition_lines(skill: Skill) -> list[str]:
    """Return the definition as the season has it: when a try starts, what is done, missed, not counted."""
    said = skill.definition
    return [
        tr("Starts: {words}", words=said.starts),
        tr("Done: {words}", words=said.done),
        tr("Missed: {words}", words=said.missed),
        tr("Not counted: {words}", words=said.not_counted),
    ]


def whom_words(skill: Skill) -> str:
    """Return for whom a skill is and what the coach asks for: ``Defenders and forwards; target 60 %``."""
    who = listed([group.plural for group in skill.positions])
    return tr("{who}; target {share}", who=who[:1].upper() + who[1:], share=percent(skill.target))


def percent(share: float) -> str:
    """Return ``60 %``."""
    return in_percent(share)


def _plus(whole: int) -> str:
    return f"+{whole}" if whole > 0 else signed(whole)
