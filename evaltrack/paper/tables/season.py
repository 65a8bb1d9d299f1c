"""The season as a whole: to read, and for other programs."""

from collections.abc import Iterable, Iterator
from dataclasses import asdict

from evaltrack.analysis.team.course import TeamCourse
from evaltrack.analysis.team.season_view import SeasonView, Turned
from evaltrack.intake.csv_text import csv_text
from evaltrack.paper.tables.for_programs import json_text, plain
from evaltrack.rink.targets import Goal
from evaltrack.words.season import (
    ATTENDED_LEGEND,
    GOALS_LEGEND,
    IN_BRACKETS,
    NO_PRACTICE,
    NO_TRY,
    STEPS_LEGEND,
    TEAM_MEANING,
    attended_words,
    reached_words,
    step_words,
    target_words,
    team_count,
    team_state,
)

COLUMNS = (
    "section", "skill", "step", "practice", "date", "player", "observer", "count", "of", "target", "value",
    "low", "high", "says",
)  # fmt: skip
_UNDER = "  "
_THERE, _NOT_THERE = "x", "."


def as_table(view: SeasonView) -> str:
    """Return the season in sections: the team, its targets, the steps, who was there, who noted how much."""
    if not view.practices:
        return f"{NO_PRACTICE}\n"
    team = [_of_team, _of_goals, _of_steps] if view.skills else []
    parts = [] if team else [[NO_TRY]]
    parts += [list(section(view)) for section in (*team, _of_players, _of_practices)]
    text = "\n\n".join("\n".join(part) for part in parts) + "\n"
    return text.replace("\N{NO-BREAK SPACE}", " ")


def _of_team(view: SeasonView) -> Iterator[str]:
    yield "How the team goes"
    for one in view.skills:
        yield f"{_UNDER}{view.skill_names[one.skill]}: {team_count(one)}"
        yield f"{2 * _UNDER}{team_state(one)}"
    yield f"{_UNDER}{TEAM_MEANING} {IN_BRACKETS}"


def _of_goals(view: SeasonView) -> Iterator[str]:
    yield "Targets, then and now"
    for one, goal in zip(view.skills, view.goals, strict=True):
        yield f"{_UNDER}{view.skill_names[one.skill]}: {target_words(goal)}"
        yield from (f"{2 * _UNDER}{line}" for line in reached_lines(one))
    yield f"{_UNDER}{GOALS_LEGEND}"


def reached_lines(one: TeamCourse) -> list[str]:
    """Return how many players are at each target of a skill, or why that cannot be said."""
    if one.doubt:
        return [one.doubt]
    ends = one.path[0].on, one.path[-1].on
    return [reached_words(reached, one.players, *ends) for reached in one.reached]


def _of_steps(view: SeasonView) -> Iterator[str]:
    yield "How the steps differ"
    for one in view.skills:
        yield f"{_UNDER}{view.skill_names[one.skill]}"
        for step in one.steps:
            words = step_words(step, len(one.steps) == 1)
            name = view.step_names.get(step.step, step.step)
            yield f"{2 * _UNDER}{name}: {step.done} of {step.tries}; {words}"
        if one.doubt:
            yield f"{2 * _UNDER}{one.doubt}"
    yield f"{_UNDER}{STEPS_LEGEND}"


def _of_players(view: SeasonView) -> Iterator[str]:
    yield "Who was there"
    names = max((len(player.name) for player in view.players), default=0)
    for one in view.players:
        row = "".join(_THERE if one.id in held.there else _NOT_THERE for held in view.practices)
        yield f"{_UNDER}{one.number:>3}  {one.name:<{names}}  {row}  {attended_words(view, one)}"
    yield f"{_UNDER}{ATTENDED_LEGEND}"


def _of_practices(view: SeasonView) -> Iterator[str]:
    yield "Tallies by practice and observer"
    for one in view.practices:
        by = ", ".join(f"{name} {count}" for name, count in one.tallies)
        players = f"{len(one.there):>2} players"
        yield f"{_UNDER}{one.practice.key:<12}  {players}  {one.total:>5}  {by}".rstrip()


def as_csv(view: SeasonView) -> str:
    """Return all of it in one table with the columns of ``COLUMNS``; what a row has none of is empty."""
    rows = [*_team_rows(view), *_goal_rows(view), *_step_rows(view), *_attendance_rows(view)]
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
            start = {"skill": one.skill, "of": one.players, "target": reached.target}
            then = {"value": reached.then, "low": reached.then_low, "high": reached.then_high}
            now = {"value": reached.now, "low": reached.now_low, "high": reached.now_high}
            yield start | {"section": "target then", "date": one.path[0].on.isoformat()} | then
            yield start | {"section": "target now", "date": one.path[-1].on.isoformat()} | now
        for day, target in goal.since:
            yield {"section": "target since", "skill": one.skill, "date": day.isoformat(), "target": target}


def _step_rows(view: SeasonView) -> Iterator[dict]:
    for one in view.skills:
        for step in one.steps:
            counted = {"count": step.done, "of": step.tries}
            cost = {"value": step.cost, "low": step.low, "high": step.high}
            yield {"section": "step", "skill": one.skill, "step": step.step} | counted | cost


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


def as_json(view: SeasonView) -> str:
    """Return all of it as one object with a list for each section."""
    return json_text(
        {
            "team": [_plain_skill(one) for one in view.skills],
            "targets": [_plain_goal(goal, one) for goal, one in zip(view.goals, view.skills, strict=True)],
            "attendance": [_plain_player(view, player) for player in view.players],
            "practices": [_plain_practice(view, one) for one in view.practices],
        }
    )


def _plain_skill(one: TeamCourse) -> dict:
    row = {name: plain(value) for name, value in asdict(one).items() if not isinstance(value, tuple)}
    row["path"] = _plain_all(one.path)
    row["seen"] = _plain_all(one.seen)
    row["steps"] = _plain_all(one.steps)
    return row


def _plain_goal(goal: Goal, one: TeamCourse) -> dict:
    since = [{"date": day.isoformat(), "target": target} for day, target in goal.since]
    return {"skill": goal.skill, "first": goal.first, "since": since, "reached": _plain_all(one.reached)}


def _plain_all(rows: Iterable) -> list[dict]:
    return [
        {name: value.isoformat() if name == "on" else plain(value) for name, value in asdict(row).items()}
        for row in rows
    ]


def _plain_player(view: SeasonView, player) -> dict:
    there, could, since = view.attended(player)
    row = {"player": player.number, "name": player.name, "there": there, "of": could}
    return row | {"since": since and since.isoformat()}


def _plain_practice(view: SeasonView, one: Turned) -> dict:
    there = [player.number for player in view.players if player.id in one.there]
    tallies = [{"observer": name, "tallies": count} for name, count in one.tallies]
    day = one.practice.held_on.isoformat()
    return {"practice": one.practice.key, "date": day, "there": there, "tallies": tallies}
