"""Any chart as a picture of its own: which there are, their words, their names, and where they go.

A chart of one player names that player alone. One of the team may name them all: it is for the staff.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from evaltrack.analysis.standings.standing import Standing
from evaltrack.analysis.team.course import Cost, TeamCourse
from evaltrack.analysis.team.season_view import Part, SeasonView
from evaltrack.intake.saving import new_folder, save
from evaltrack.language import mark, tr
from evaltrack.paper.note.filenames import player_words
from evaltrack.rink.player import Player
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.practice_columns import month_columns
from evaltrack.words.season import (
    ATTENDED_LEGEND,
    BANDS,
    COSTS_LEGEND,
    GOALS_LEGEND,
    TALLIES_LEGEND,
    TITLES,
    attended_words,
    panel_title,
    tally_panels,
    target_words,
)
from evaltrack.words.team import (
    TEAM_MEANING,
    cost_lines,
    cost_name,
    cost_words,
    percent,
    reached_lines,
    reached_parts,
    team_lines,
)
from evaltrack.words.wording import (
    COUNTS,
    chart_words,
    counted,
    is_firm,
    level_words,
    long_date,
    state_words,
    told,
)

_WIDEST = 50  # points either way on the scale of what a kind of try costs
_COST_TICKS = [(-_WIDEST, f"−{_WIDEST}"), (0, "0"), (_WIDEST, f"+{_WIDEST}")]
_SHARE_LEGEND = (mark("Line: the share, allowing for harder steps, pressure and luck."), BANDS, COUNTS)

Picture = tuple[str, bytes]  # the name of the file, and what is in it


class Charts(NamedTuple):
    """Of whom the charts are, what is said of that player, and the axis of dates, that of the season."""

    player: Player
    standings: Sequence[Standing]
    axis: DateAxis


def save_pictures(pictures: Iterable[Picture], folder: Path) -> list[Path]:
    """Write pictures into a folder, which is made when it is not there, and return where each is.

    A picture of the same name is replaced. Only their owner may read them.

    Raises
    ------
    EvaltrackError : the folder cannot be made or a file cannot be written.
    """
    saved = []
    for name, content in pictures:
        saved.append(folder / name)
        with new_folder(folder):
            save(saved[-1], content)
    return saved


def player_pictures(charts: Charts, names: Mapping[str, str], form: str) -> Iterator[Picture]:
    """Give a picture of each skill in which a share of the player may be drawn.

    Parameters
    ----------
    names : how the skills that are wanted are called, by key.
    form : ``png`` or ``svg``.
    """
    from evaltrack.paper.large_charts import Words, share_chart

    player, axis = charts.player, charts.axis
    for one in charts.standings:
        if one.skill in names and is_firm(one) and one.path:
            name = names[one.skill]
            words = Words(
                title=tr("{who}: {what}", who=f"{player.number} {player.name}", what=name),
                under=f"{told(one)}; {state_words(one, axis.last)}",
                legend=f"{_sentences(*_SHARE_LEGEND)} {tr('Counted up to {day}.', day=long_date(axis.last))}",
                description=chart_words(name, one, level_words(one)),
            )
            content = share_chart(words, axis, one.path, one.seen, one.target, form)
            yield _name(f"player-{player_words(player)}", one.skill, axis.last, form), content


def team_pictures(
    view: SeasonView, form: str, parts: Iterable[Part] = tuple(Part), skill: str | None = None
) -> Iterator[Picture]:
    """Give the pictures of these parts of the season, of one skill alone where it is named.

    Attendance and tallies are of no skill: where one is named, they are left out.
    """
    if not view.practices:
        return
    courses = [one for one in view.skills if skill in (None, one.skill) and not one.doubt]
    makers = {
        Part.TEAM: lambda: (_team(view, one, form) for one in courses),
        Part.TARGETS: lambda: (_targets(view, one, form) for one in courses if one.reached[0].of),
        Part.COSTS: lambda: (_costs(view, one, form) for one in courses if one.compared),
        Part.ATTENDANCE: lambda: [] if skill else [_attendance(view, form)],
        Part.TALLIES: lambda: [] if skill or not view.observers else [_tallies(view, form)],
    }
    for part in parts:
        yield from makers[part]()


def _team(view: SeasonView, one: TeamCourse, form: str) -> Picture:
    from evaltrack.paper.large_charts import Words, share_chart

    name, target = view.skill_names[one.skill], _goal(view, one).today
    under = "; ".join(team_lines(one))
    title, said = (
        tr("The team: {skill}", skill=name),
        tr("{skill}, the team: {what}.", skill=name, what=under),
    )
    words = Words(title, under, _sentences(TEAM_MEANING, BANDS), said)
    axis = DateAxis(view.practices[0].practice.held_on, _last(view))
    content = share_chart(words, axis, one.path, one.seen, target, form)
    return _name("team", one.skill, _last(view), form), content


def _targets(view: SeasonView, one: TeamCourse, form: str) -> Picture:
    from evaltrack.paper.large_charts import Interval, Words, intervals

    name, goal, ends = view.skill_names[one.skill], _goal(view, one), (one.path[0].on, one.path[-1].on)
    rows = []
    for reached in one.reached:
        then, now = reached_parts(reached, *ends)
        level, start = percent(reached.target), (reached.then_low, reached.then, reached.then_high)
        rows.append(Interval(_when(level, then[0]), *start, then[1], hollow=True))
        rows.append(Interval(_when(level, now[0]), reached.now_low, reached.now, reached.now_high, now[1]))
    legend = _sentences(GOALS_LEGEND, mark("Outline: then; filled: now."))
    said = f"{name}. {'. '.join(reached_lines(one))}."
    words = Words(tr("Players at the target: {skill}", skill=name), target_words(goal), legend, said)
    judged = one.reached[0].of
    ticks = [(0, "0"), (judged, counted(judged, "player"))]
    content = intervals(words, rows, (0, judged), ticks, "", form)
    return _name("target", one.skill, _last(view), form), content


def _costs(view: SeasonView, one: TeamCourse, form: str) -> Picture:
    from evaltrack.paper.large_charts import Interval, Words, intervals

    name = view.skill_names[one.skill]
    rows = [
        Interval(cost_name(cost, view.step_names), *_points(cost), cost_words(cost)) for cost in one.compared
    ]
    said = f"{name}. {'. '.join(cost_lines(one, view.step_names))}."
    words = Words(tr("{what}: {skill}", what=tr(TITLES[Part.COSTS]), skill=name), "", tr(COSTS_LEGEND), said)
    content = intervals(words, rows, (-_WIDEST, _WIDEST), _COST_TICKS, tr("points of share"), form)
    return _name("costs", one.skill, _last(view), form), content


def _points(one: Cost) -> tuple[float, float, float]:
    """Return from where to where, by its middle, a kind's share lies above the others, in points."""
    return -100 * one.high, -100 * one.cost, -100 * one.low


def _attendance(view: SeasonView, form: str) -> Picture:
    from evaltrack.paper.large_charts import Words, presence

    rows = [
        (
            f"{player.number} {player.name}",
            [player.id in held.there for held in view.practices],
            attended_words(view, player),
        )
        for player in view.players
    ]
    said = "; ".join(f"{name} {count}" for name, _, count in rows)
    legend = _sentences(mark("Square: there. Dash: not there."), ATTENDED_LEGEND)
    words = Words(tr("Who was there"), _span(view), legend, tr("Practices attended: {what}.", what=said))
    return _name("attendance", "", _last(view), form), presence(words, rows, _months(view), form)


def _tallies(view: SeasonView, form: str) -> Picture:
    from evaltrack.paper.large_charts import Words, bars

    panels = tally_panels(view)
    named = [(panel_title(name, counts), counts) for name, counts in panels]
    said = "; ".join(_by_practice(title, counts) for title, counts in named)
    words = Words(tr("Tallies by practice and observer"), _span(view), tr(TALLIES_LEGEND), f"{said}.")
    return _name("tallies", "", _last(view), form), bars(words, named, _months(view), form)


def _goal(view: SeasonView, one: TeamCourse):
    return next(goal for goal in view.goals if goal.skill == one.skill)


def _months(view: SeasonView) -> list[tuple[str, int]]:
    return month_columns([one.practice.held_on for one in view.practices])


def _last(view: SeasonView) -> date:
    return view.practices[-1].practice.held_on


def _span(view: SeasonView) -> str:
    first = view.practices[0].practice.held_on
    return tr(
        "{practices}, {first} to {last}",
        practices=counted(len(view.practices), "practice"),
        first=long_date(first),
        last=long_date(_last(view)),
    )


def _sentences(*marked: str) -> str:
    return " ".join(tr(sentence) for sentence in marked)


def _when(level: str, when: str) -> str:
    return f"{tr('{percent} or above', percent=level)}, {when}"


def _by_practice(title: str, counts: Sequence[int]) -> str:
    return tr("{title}, by practice {counts}", title=title, counts=", ".join(map(str, counts)))


def _name(what: str, skill: str, day: date, form: str) -> str:
    stem = "-".join(filter(None, (what, skill.replace("_", "-"), day.isoformat())))
    return f"{stem}.{form}"
