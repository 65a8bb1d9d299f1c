"""What each section of the season shows, made from the season as plain values."""

from collections.abc import Callable

from kivy.uix.gridlayout import GridLayout
from kivy.uix.widget import Widget

from evaltrack.analysis.team.course import Cost, Reached, TeamCourse
from evaltrack.analysis.team.season_view import Part, SeasonView
from evaltrack.language import mark, tr
from evaltrack.rink.targets import Goal
from evaltrack.touch.season_view.attendance import Attendance
from evaltrack.touch.season_view.tallies import Tallies
from evaltrack.touch.season_view.team_card import TeamCard
from evaltrack.touch.season_view.tracks import Group, Track, TrackList
from evaltrack.words.below import NOBODY_JUDGED
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.season import (
    ATTENDED_LEGEND,
    BANDS,
    COSTS_LEGEND,
    GOALS_LEGEND,
    NO_PRACTICE,
    NO_TRY,
    TALLIES_LEGEND,
    target_words,
)
from evaltrack.words.team import TEAM_MEANING, cost_name, cost_words, percent, reached_parts

_WIDEST = 50  # points either way on the scale of what a kind of try costs


_LEGENDS = {
    Part.TEAM: (TEAM_MEANING, BANDS, mark("Mark at the right: the target.")),
    Part.TARGETS: (GOALS_LEGEND, mark("Outline: then; filled: now.")),
    Part.COSTS: (COSTS_LEGEND,),
    Part.ATTENDANCE: (ATTENDED_LEGEND, mark("Dash: not there.")),
    Part.TALLIES: (TALLIES_LEGEND,),
}


def legend_of(section: Part) -> str:
    """Return how to read what a section shows."""
    return " ".join(tr(sentence) for sentence in _LEGENDS[section])


def why_empty(view: SeasonView, section: Part) -> str:
    """Return why there is nothing to show in a section; empty where there is."""
    if not view.practices:
        return tr(NO_PRACTICE)
    of_tries = section in (Part.TEAM, Part.TARGETS, Part.COSTS)
    if of_tries and not view.skills:
        return tr(NO_TRY)
    if section is Part.TALLIES and not view.observers:
        return tr("No tally was made yet.")
    return ""


def widget_of(view: SeasonView, section: Part) -> Widget:
    """Return what shows a section that is not empty."""
    makers: dict[Part, Callable[[SeasonView], Widget]] = {
        Part.TEAM: _team,
        Part.TARGETS: _targets,
        Part.COSTS: _costs,
        Part.ATTENDANCE: Attendance,
        Part.TALLIES: Tallies,
    }
    return makers[section](view)


def axis_of(view: SeasonView) -> DateAxis:
    """Return the axis of dates, from the first practice to the last."""
    days = [one.practice.held_on for one in view.practices]
    return DateAxis(min(days), max(days))


def _team(view: SeasonView) -> GridLayout:
    cards, axis = GridLayout(size_hint_y=None, row_force_default=True, spacing="10dp"), axis_of(view)
    cards.bind(minimum_height=cards.setter("height"))
    for course, goal in zip(view.skills, view.goals, strict=True):
        cards.add_widget(TeamCard(view.skill_names[course.skill], course, axis, goal.today))
    return cards


def _targets(view: SeasonView) -> TrackList:
    pairs = zip(view.skills, view.goals, strict=True)
    return TrackList([_of_target(view.skill_names[one.skill], one, goal) for one, goal in pairs])


def _of_target(name: str, one: TeamCourse, goal: Goal) -> Group:
    if one.doubt:
        return Group(name, target_words(goal), [Track("", tr(one.doubt), drawn=False)])
    tracks = [track for reached in one.reached for track in _of_reached(one, reached, len(one.reached) > 1)]
    judged = one.reached[0].of
    ticks = [(0, "0"), (judged, str(judged))] if judged else []
    return Group(name, target_words(goal), tracks, (0, judged or 1), ticks)


def _of_reached(one: TeamCourse, reached: Reached, several: bool) -> list[Track]:
    level = tr("{percent} or above", percent=percent(reached.target)) if several else ""
    if not reached.of:
        return [Track(level, tr(NOBODY_JUDGED), drawn=False)]
    then, now = reached_parts(reached, one.path[0].on, one.path[-1].on)
    before, by_now = _joined(level, then[0]), _joined(level, now[0])
    return [
        Track(before, then[1], reached.then, reached.then_low, reached.then_high, hollow=True),
        Track(by_now, now[1], reached.now, reached.now_low, reached.now_high),
    ]


def _joined(*words: str) -> str:
    return ", ".join(filter(None, words))


def _costs(view: SeasonView) -> TrackList:
    return TrackList([_of_skill(view, one) for one in view.skills])


def _of_skill(view: SeasonView, one: TeamCourse) -> Group:
    name = view.skill_names[one.skill]
    if one.doubt:
        return Group(name, "", [Track("", tr(one.doubt), drawn=False)])
    tracks = [_of_cost(view, cost) for cost in one.costs]
    ticks = [] if not one.compared else [(-_WIDEST, f"−{_WIDEST}"), (0, "0"), (_WIDEST, f"+{_WIDEST}")]
    return Group(name, "", tracks, (-_WIDEST, _WIDEST), ticks)


def _of_cost(view: SeasonView, cost: Cost) -> Track:
    middle, low, high = -100 * cost.cost, -100 * cost.high, -100 * cost.low
    name, drawn = cost_name(cost, view.step_names), cost.others > 0
    return Track(name, cost_words(cost), middle, low, high, drawn=drawn)
