"""The season as a whole in words: its sections and their legends, targets, attendance, tallies."""

from collections.abc import Sequence

from evaltrack.analysis.team.season_view import Part, SeasonView
from evaltrack.rink.targets import Goal
from evaltrack.words.below import WHO_IS_JUDGED
from evaltrack.words.team import VERY_LIKELY, percent
from evaltrack.words.wording import short_date

NO_PRACTICE = "There is no practice in this season yet. What is tallied at the bench is told here."
NO_TRY = "No try was tallied yet, so nothing can be said of the team."
BANDS = (
    f"Bands: where it very likely is, {VERY_LIKELY} and 50\N{NO-BREAK SPACE}%."
    " Rings: practices, larger with more tries."
)
COSTS_LEGEND = (
    "How many points higher or lower the team's share is in a step than in the other steps in which the skill"
    " was watched, and under pressure than without, and where that very likely is"
    f" ({VERY_LIKELY}). Players, observers and days are allowed for."
)
GOALS_LEGEND = (
    "Nobody's share is known for certain, so the number of players is an estimate too: the one to expect, and"
    f" where it very likely is ({VERY_LIKELY}). {WHO_IS_JUDGED}"
)
TALLIES_LEGEND = "Tallies as they stand after what was put right; those that were unseen are among them."
TITLES = {
    Part.TEAM: "The team",
    Part.TARGETS: "Targets",
    Part.COSTS: "Steps and pressure",
    Part.ATTENDANCE: "Attendance",
    Part.TALLIES: "Tallies",
}
ATTENDED_LEGEND = "There: noted as here, or with a tally at that practice."


def target_words(goal: Goal) -> str:
    """Return ``Target 60 % since the first day, 9 Sep``, and each change of it."""
    if not goal.since:
        return f"Target {percent(goal.first)}, the same all season"
    changes = [f"{percent(target)} since {short_date(day)}" for day, target in goal.since]
    return f"Target {percent(goal.first)} at first, {', '.join(changes)}"


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
