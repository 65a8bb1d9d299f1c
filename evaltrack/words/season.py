"""The season as a whole in words that claim no more than the numbers do: the team, its steps, its targets."""

from collections.abc import Sequence
from datetime import date

from evaltrack.analysis.standings.standing import Trend
from evaltrack.analysis.team.course import Reached, StepCost, TeamCourse
from evaltrack.analysis.team.season_view import Part, SeasonView
from evaltrack.rink.targets import Goal
from evaltrack.words.wording import about_words, count_words, counted, short_date, span_words

_90, _50 = "90\N{NO-BREAK SPACE}%", "50\N{NO-BREAK SPACE}%"  # no line ends within
NO_PRACTICE = "There is no practice in this season yet. What is tallied at the bench is told here."
NO_TRY = "No try was tallied yet, so nothing can be said of the team."
TEAM_MEANING = (
    "The team's share is the mean of its players', each counted alike, allowing for harder steps, pressure"
    " and luck. It tells how the players changed, not who was there."
)
IN_BRACKETS = f"In brackets: where it very likely is ({_90})."
BANDS = f"Bands: where it very likely is, {_90} and {_50}. Rings: practices, larger with more tries."
STEPS_LEGEND = (
    "How many points higher or lower the team's share is in a step than in the other steps in which the skill"
    f" was watched, and where that very likely is ({_90}). Players, pressure, observers and days are allowed"
    " for."
)
GOALS_LEGEND = (
    "Nobody's share is known for certain, so the number of players is an estimate too: the one to expect, and"
    f" where it very likely is ({_90})."
)
TALLIES_LEGEND = "Tallies as they stand after what was put right; those that were unseen are among them."
TITLES = {
    Part.TEAM: "The team",
    Part.TARGETS: "Targets",
    Part.STEPS: "Steps",
    Part.ATTENDANCE: "Attendance",
    Part.TALLIES: "Tallies",
}
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
    then, now = (f"{when} {words}" for when, words in reached_parts(one, players, first, last))
    return f"At {percent(one.target)} or above {then}; {now}"


def reached_parts(one: Reached, players: int, first: date, last: date) -> list[tuple[str, str]]:
    """Return when, and how many were at a target, for then and for now."""
    then, now = _between(one.then_low, one.then_high), _between(one.now_low, one.now_high)
    return [
        (f"around {short_date(first)}", f"about {round(one.then)} of {players} (very likely {then})"),
        (f"around {short_date(last)}", f"about {round(one.now)} of {players} (very likely {now})"),
    ]


def attended_words(view: SeasonView, player) -> str:
    """Return ``22 of 24``, and since when for one who came later."""
    there, could, since = view.attended(player)
    return f"{there} of {could}" + (f" since {short_date(since)}" if since else "")


def tally_panels(view: SeasonView) -> list[tuple[str, list[int]]]:
    """Return how many tallies each practice has: of all observers, where there are several, and of each."""
    own = [(name, [dict(one.tallies).get(name, 0) for one in view.practices]) for name in view.observers]
    return own if len(own) == 1 else [("All observers", [one.total for one in view.practices]), *own]


def panel_title(name: str, counts: Sequence[int]) -> str:
    """Return ``Ines: 2,832 tallies``."""
    tallies = sum(counts)
    return f"{name}: {tallies:,} {'tally' if tallies == 1 else 'tallies'}"


def percent(share: float) -> str:
    """Return ``60 %``."""
    return f"{100 * share:.0f} %"


def _between(low: int, high: int) -> str:
    return f"{low}" if low == high else f"{low} to {high}"


def _signed(points: int) -> str:
    return f"+{points}" if points > 0 else f"−{-points}" if points < 0 else "0"
