"""The season as a whole in words: its sections and their legends, targets, attendance, tallies."""

from collections.abc import Sequence

from evaltrack.analysis.team.season_view import Part, SeasonView
from evaltrack.language import mark, tr
from evaltrack.rink.targets import Goal
from evaltrack.words.team import percent
from evaltrack.words.wording import count_words, counted, short_date

NO_PRACTICE = mark("There is no practice in this season yet. What is tallied at the bench is told here.")
NO_TRY = mark("No try was tallied yet, so nothing can be said of the team.")
BANDS = mark(
    "Bands: where it very likely is, 90\u00a0% and 50\u00a0%. Rings: practices, larger with more tries."
)
COSTS_LEGEND = mark(
    "How many points higher or lower the team's share is in a step than in the other steps in which the skill"
    " was watched, and under pressure than without, and where that very likely is"
    " (90\u00a0%). Players, observers and days are allowed for."
)
GOALS_LEGEND = mark(
    "Nobody's share is known for certain, so the number of players is an estimate too: the one to expect, and"
    " where it very likely is (90\u00a0%). Those can be judged who have 10 tries over 3 practices, once the"
    " season tells of the skill."
)
TALLIES_LEGEND = mark(
    "Tallies as they stand after what was put right; those that were unseen are among them."
)
TITLES = {
    Part.TEAM: mark("The team"),
    Part.TARGETS: mark("Targets"),
    Part.COSTS: mark("Steps and pressure"),
    Part.ATTENDANCE: mark("Attendance"),
    Part.TALLIES: mark("Tallies"),
}
ATTENDED_LEGEND = mark("There: noted as here, or with a tally at that practice.")


def target_words(goal: Goal) -> str:
    """Return ``Target 60 % since the first day, 9 Sep``, and each change of it."""
    if not goal.since:
        return tr("Target {share}, the same all season", share=percent(goal.first))
    changes = [
        tr("{share} since {day}", share=percent(target), day=short_date(day)) for day, target in goal.since
    ]
    return tr("Target {share} at first, {changes}", share=percent(goal.first), changes=", ".join(changes))


def attended_words(view: SeasonView, player) -> str:
    """Return ``22 of 24``, and since when for one who came later."""
    there, could, since = view.attended(player)
    if since:
        return tr("{done} of {tries} since {day}", done=there, tries=could, day=short_date(since))
    return count_words(there, could)


def tally_panels(view: SeasonView) -> list[tuple[str, list[int]]]:
    """Return how many tallies each practice has: of all observers, where there are several, and of each."""
    own = [(name, [dict(one.tallies).get(name, 0) for one in view.practices]) for name in view.observers]
    return own if len(own) == 1 else [(tr("All observers"), [one.total for one in view.practices]), *own]


def panel_title(name: str, counts: Sequence[int]) -> str:
    """Return ``Ines: 2,832 tallies``."""
    return tr("{name}: {tallies}", name=name, tallies=counted(sum(counts), "tally", "tallies"))
