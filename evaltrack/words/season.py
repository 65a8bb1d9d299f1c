"""The season as a whole in words that claim no more than the numbers do: the team, its steps, its targets."""

from datetime import date

from evaltrack.analysis.standings.season_view import SeasonView
from evaltrack.analysis.standings.standing import Trend
from evaltrack.analysis.standings.team_course import Reached, StepCost, TeamCourse
from evaltrack.rink.targets import Goal
from evaltrack.words.wording import about_words, count_words, counted, short_date, span_words

NO_PRACTICE = "There is no practice in this season yet. What is tallied at the bench is told here."
NO_TRY = "No try was tallied yet, so nothing can be said of the team."
TEAM_MEANING = (
    "The team's share is the mean of its players', each counted alike, allowing for harder steps, pressure"
    " and luck. It tells how the players changed, not who was there."
)
IN_BRACKETS = "In brackets: where it very likely is (90 %)."
BANDS = "Bands: where it very likely is, 90 % and 50 %. Rings: practices, larger with more tries."
STEPS_LEGEND = (
    "How many points higher or lower the team's share is in a step than in the other steps in which the skill"
    " was watched, and where that very likely is (90 %). Players, pressure, observers and days are allowed"
    " for."
)
GOALS_LEGEND = (
    "Nobody's share is known for certain, so the number of players is an estimate too: the one to expect, and"
    " where it very likely is (90 %)."
)
ATTENDED_LEGEND = "There: noted as here, or with a tally at that practice."


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
    since, sign = short_date(one.path[0].on), 1 if one.trend is not Trend.DOWN else -1
    low, high = sorted(round(100 * sign * bound) for bound in (one.change_low, one.change_high))
    if one.trend is Trend.NO_CLEAR_CHANGE:
        return f"no clear change since {since} ({_signed(low)} to {_signed(high)} points)"
    moved = counted(abs(round(100 * one.change)), "point")
    return f"{one.trend} by {moved} since {since} ({low} to {high})"


def step_words(one: StepCost, alone: bool) -> str:
    """Return what a step costs; ``alone`` says that the skill was watched in no other one."""
    if alone:
        return "the only step in which it was watched"
    cost, low, high = (round(100 * value) for value in (one.cost, one.low, one.high))
    if one.low > 0:
        return f"{counted(cost, 'point')} lower than in the others ({low} to {high})"
    if one.high < 0:
        return f"{counted(-cost, 'point')} higher than in the others ({-high} to {-low})"
    return f"no clear difference from the others ({_signed(-high)} to {_signed(-low)} points)"


def target_words(goal: Goal) -> str:
    """Return ``Target 60 % since the first day, 9 Sep``, and each change of it."""
    if not goal.since:
        return f"Target {percent(goal.first)}, the same all season"
    changes = [f"{percent(target)} since {short_date(day)}" for day, target in goal.since]
    return f"Target {percent(goal.first)} at first, {', '.join(changes)}"


def reached_words(one: Reached, players: int, first: date, last: date) -> str:
    """Return how many of the players are at a target then and now, each with where that very likely is."""
    then = f"{round(one.then)} of {players} around {short_date(first)}"
    then_likely = f"very likely {_between(one.then_low, one.then_high)}"
    now = f"{round(one.now)} around {short_date(last)} ({_between(one.now_low, one.now_high)})"
    return f"At {percent(one.target)} or above: about {then} ({then_likely}), about {now}"


def attended_words(view: SeasonView, player) -> str:
    """Return ``22 of 24``, and since when for one who came later."""
    there, could, since = view.attended(player)
    return f"{there} of {could}" + (f" since {short_date(since)}" if since else "")


def percent(share: float) -> str:
    """Return ``60 %``."""
    return f"{100 * share:.0f} %"


def _between(low: int, high: int) -> str:
    return f"{low}" if low == high else f"{low} to {high}"


def _signed(points: int) -> str:
    return f"+{points}" if points > 0 else f"−{-points}" if points < 0 else "0"
