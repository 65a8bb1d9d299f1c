"""The season as a whole: to read, and for other programs."""

from collections.abc import Iterable, Iterator

from evaltrack.analysis.standings.standing import Cause
from evaltrack.analysis.team.course import TeamCourse
from evaltrack.analysis.team.season_view import SeasonView, Turned
from evaltrack.intake.csv_text import csv_text
from evaltrack.language import Language, speaking, tr, tr_many
from evaltrack.paper.tables.for_programs import json_text, plain, plain_rows
from evaltrack.paper.tables.team import plain_course
from evaltrack.rink.targets import Goal
from evaltrack.words.season import (
    ATTENDED_LEGEND,
    COSTS_LEGEND,
    GOALS_LEGEND,
    NO_PRACTICE,
    NO_TRY,
    attended_words,
    target_words,
)
from evaltrack.words.team import IN_BRACKETS, TEAM_MEANING, cost_lines, reached_lines, team_lines

COLUMNS = (
    "section", "skill", "step", "practice", "date", "player", "observer", "count", "of", "target", "value",
    "low", "high", "says",
)  # fmt: skip
_UNDER = "  "
_THERE, _NOT_THERE = "x", "."


def as_table(view: SeasonView) -> str:
    """Return the season in sections: the team, targets, steps and pressure, who was there, who noted what."""
    if not view.practices:
        return f"{tr(NO_PRACTICE)}\n"
    team = [_of_team, _of_goals, _of_costs] if view.skills else []
    parts = [] if team else [[tr(NO_TRY)]]
    parts += [list(section(view)) for section in (*team, _of_players, _of_practices)]
    text = "\n\n".join("\n".join(part) for part in parts) + "\n"
    return text.replace("\N{NO-BREAK SPACE}", " ")


def _of_team(view: SeasonView) -> Iterator[str]:
    yield tr("How the team goes")
    for one in view.skills:
        count, state = team_lines(one)
        yield _UNDER + tr("{name}: {what}", name=view.skill_names[one.skill], what=count)
        yield f"{2 * _UNDER}{state}"
    yield f"{_UNDER}{tr(TEAM_MEANING)} {tr(IN_BRACKETS)}"


def _of_goals(view: SeasonView) -> Iterator[str]:
    yield tr("Targets, then and now")
    for one, goal in zip(view.skills, view.goals, strict=True):
        yield _UNDER + tr("{name}: {what}", name=view.skill_names[one.skill], what=target_words(goal))
        yield from _indented(one, reached_lines(one))
    yield f"{_UNDER}{tr(GOALS_LEGEND)}"


def _of_costs(view: SeasonView) -> Iterator[str]:
    yield tr("What steps and pressure cost")
    for one in view.skills:
        yield f"{_UNDER}{view.skill_names[one.skill]}"
        yield from _indented(one, cost_lines(one, view.step_names))
    yield f"{_UNDER}{tr(COSTS_LEGEND)}"


def _indented(one: TeamCourse, lines: Iterable[str]) -> Iterator[str]:
    """Give the lines below the name of a skill, or why nothing can be said of it."""
    yield from (f"{2 * _UNDER}{line}" for line in ([tr(one.doubt)] if one.doubt else lines))


def _of_players(view: SeasonView) -> Iterator[str]:
    yield tr("Who was there")
    names = max((len(player.name) for player in view.players), default=0)
    for one in view.players:
        row = "".join(_THERE if one.id in held.there else _NOT_THERE for held in view.practices)
        yield f"{_UNDER}{one.number:>3}  {one.name:<{names}}  {row}  {attended_words(view, one)}"
    yield f"{_UNDER}{tr(ATTENDED_LEGEND)}"


def _of_practices(view: SeasonView) -> Iterator[str]:
    yield tr("Tallies by practice and observer")
    for one in view.practices:
        by = ", ".join(f"{name} {count}" for name, count in one.tallies)
        players = tr_many("{number:>2} player", "{number:>2} players", len(one.there))
        yield f"{_UNDER}{one.practice.key:<12}  {players}  {one.total:>5}  {by}".rstrip()


@speaking(Language.ENGLISH)
def as_csv(view: SeasonView) -> str:
    """Return all of it in one table with the columns of ``COLUMNS``; what a row has none of is empty."""
    rows = [*_team_rows(view), *_goal_rows(view), *_cost_rows(view), *_attendance_rows(view)]
    rows += _practice_rows(view)
    return csv_text(COLUMNS, ([plain(row.get(name)) for name in COLUMNS] for row in rows))


def _team_rows(view: SeasonView) -> Iterator[dict]:
    for one in view.skills:
        counts = {seen.on: seen for seen in one.seen}
        for point in one.path:
            seen = counts.get(point.on)
            yield {
                "section": "team", "skill": one.skill, "date": point.on.isoformat(),
                "count": seen and seen.done, "of": seen and seen.tries,
                "value": point.share, "low": point.low, "high": point.high,
            }  # fmt: skip
        if one.path:
            change = {"value": one.change, "low": one.change_low, "high": one.change_high}
            yield {"section": "change", "skill": one.skill, "says": str(one.trend)} | change
        else:
            counted = {"count": one.done, "of": one.tries}
            yield {"section": "change", "skill": one.skill, "says": one.doubt} | counted


def _goal_rows(view: SeasonView) -> Iterator[dict]:
    for one, goal in zip(view.skills, view.goals, strict=True):
        for reached in one.reached:
            start = {"skill": one.skill, "of": reached.of, "target": reached.target}
            then = {"value": reached.then, "low": reached.then_low, "high": reached.then_high}
            now = {"value": reached.now, "low": reached.now_low, "high": reached.now_high}
            yield start | {"section": "target then", "date": one.path[0].on.isoformat()} | then
            yield start | {"section": "target now", "date": one.path[-1].on.isoformat()} | now
        for day, target in goal.since:
            yield {"section": "target since", "skill": one.skill, "date": day.isoformat(), "target": target}


def _cost_rows(view: SeasonView) -> Iterator[dict]:
    for one in view.skills:
        for cost in one.costs:
            named = {"step": cost.named} if cost.cause is Cause.STEP else {"says": cost.named}
            counted = {"count": cost.done, "of": cost.tries}
            figures = {"value": cost.cost, "low": cost.low, "high": cost.high}
            yield {"section": str(cost.cause), "skill": one.skill} | named | counted | figures


def _attendance_rows(view: SeasonView) -> Iterator[dict]:
    for player in view.players:
        there, could, since = view.attended(player)
        row = {"section": "attendance", "player": player.number, "count": there, "of": could}
        yield row | {"date": since and since.isoformat(), "says": player.name}


def _practice_rows(view: SeasonView) -> Iterator[dict]:
    for one in view.practices:
        of = {"practice": one.practice.key, "date": one.practice.held_on.isoformat()}
        yield {"section": "players", **of, "count": len(one.there)}
        for name, count in one.tallies:
            yield {"section": "tallies", **of, "observer": name, "count": count}


@speaking(Language.ENGLISH)
def as_json(view: SeasonView) -> str:
    """Return all of it as one object with a list for each section."""
    return json_text(
        {
            "team": [plain_course(one) for one in view.skills],
            "targets": [_plain_goal(goal, one) for goal, one in zip(view.goals, view.skills, strict=True)],
            "attendance": [_plain_player(view, player) for player in view.players],
            "practices": [_plain_practice(view, one) for one in view.practices],
        }
    )


def _plain_goal(goal: Goal, one: TeamCourse) -> dict:
    since = [{"date": day.isoformat(), "target": target} for day, target in goal.since]
    return {"skill": goal.skill, "first": goal.first, "since": since, "reached": plain_rows(one.reached)}


def _plain_player(view: SeasonView, player) -> dict:
    there, could, since = view.attended(player)
    row = {"player": player.number, "name": player.name, "there": there, "of": could}
    return row | {"since": since and since.isoformat()}


def _plain_practice(view: SeasonView, one: Turned) -> dict:
    there = [player.number for player in view.players if player.id in one.there]
    tallies = [{"observer": name, "tallies": count} for name, count in one.tallies]
    day = one.practice.held_on.isoformat()
    return {"practice": one.practice.key, "date": day, "there": there, "tallies": tallies}
