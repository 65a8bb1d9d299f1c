"""Who has not been watched enough, and how much that tells of each player in each skill."""

from dataclasses import replace
from datetime import timedelta

import pandas as pd
import pytest
from seasons import FIRST, cell, player, season, skill

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.precision import WANTED
from evaltrack.analysis.standings.coverage import coverage_of, read_coverage
from evaltrack.analysis.standings.standings import standings_of
from evaltrack.analysis.standings.watching import whom_to_watch
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.creating import create_season


def by_pair(rows):
    """Return rows by player and skill."""
    return {(row.player, row.skill): row for row in rows}


@pytest.fixture(scope="module")
def team():
    """Return a season of ten players in which one was hardly seen, with its coverage."""
    cells, roster, skills = season(seed=3, players=10, skills=2, practices=8)
    rare = (cells["player"] == roster[4].id.bytes) & (cells["skill"] == "s0")
    cells = cells[~rare | cells["held_on"].isin(cells["held_on"].unique()[[1, 6]])].reset_index(drop=True)
    return cells, roster, skills, coverage_of(cells, roster, skills)


def test_coverage_and_standings_say_the_same(team):
    """Counts, interval and tries to go are those of the standings, for every player and skill."""
    cells, roster, skills, rows = team
    known = by_pair(standings_of(cells, roster, skills))
    assert len(rows) == len(known) == 20
    for row in rows:
        one = known[row.player, row.skill]
        assert (row.tries, row.practices, row.to_go) == (one.tries, one.practices, one.to_go)
        assert (row.low, row.high) == (one.low, one.high)
        assert (row.to_go == 0) == (not any(one.missing) and row.high - row.low <= WANTED)


def test_days_run_from_the_last_try_to_the_last_practice(team):
    """Whoever was tried at the last practice has none, who was not since the week before has seven."""
    cells, roster, skills, rows = team
    days = {(row.player, row.skill): row.days_since for row in rows}
    assert days["5", "s0"] == 7
    assert {since for pair, since in days.items() if pair != ("5", "s0")} == {0}
    assert {row.practices for row in rows} == {2, 8}
    later = cell(roster[0], "s1", 9, 1, 1)
    grown = coverage_of(pd.concat([cells, cells_frame([later])], ignore_index=True), roster, skills)
    assert by_pair(grown)["5", "s0"].days_since == 21


def test_nobody_is_foretold_a_number_before_there_are_tries_for_a_call(team):
    """With tries at two practices only none is told, however narrow the interval."""
    cells, roster, skills, _ = team
    two = coverage_of(cells[cells["held_on"] <= cells["held_on"].unique()[1]], roster, skills)
    assert {row.to_go for row in two} == {None}


def test_who_was_never_seen_is_known_by_the_team(team):
    """A player without a try in a skill is as his team-mates are, and less is known of him."""
    cells, roster, skills, rows = team
    unseen = cells[~((cells["player"] == roster[4].id.bytes) & (cells["skill"] == "s0"))]
    row = by_pair(coverage_of(unseen, roster, skills))["5", "s0"]
    assert (row.tries, row.practices, row.days_since, row.to_go) == (0, 0, None, None)
    assert whom_to_watch([*rows, row])[0] is row
    others = [one.high - one.low for one in rows if one.player != "5"]
    assert max(others) < row.high - row.low < 1


def test_a_skill_is_told_of_those_it_is_for_and_of_those_who_were_seen_in_it():
    """A defender who was never seen is to be watched, a forward only where somebody watched him already."""
    defenders = [player(n, Position.DEFENCE) for n in (2, 3, 4)]
    forwards = [player(n) for n in (10, 11)]
    gap = replace(skill("gap_up"), positions=(Position.DEFENCE,))
    seen = [*defenders[:2], forwards[0]]
    cells = cells_frame([cell(who, "gap_up", week, 4, 2 + week % 2) for who in seen for week in range(4)])
    rows = by_pair(coverage_of(cells, [*forwards, *defenders], [gap]))
    assert [(number, row.tries) for (number, _), row in rows.items()] == [
        ("2", 16), ("3", 16), ("4", 0), ("10", 16)
    ]  # fmt: skip
    assert all(row.known for row in rows.values())


def test_a_goalie_who_was_never_seen_is_as_goalies_are():
    """And not as the skaters, who do far worse in that skill here; a skater is as they are."""
    skaters = [player(n) for n in range(10, 16)]
    goalies = [player(n, Position.GOALIE) for n in range(1, 6)]
    seen = [(who, 1) for who in skaters[1:]] + [(who, 4) for who in goalies[1:]]
    cells = cells_frame([cell(who, "stop", week, 5, done) for who, done in seen for week in range(6)])
    rows = by_pair(coverage_of(cells, [*skaters, *goalies], [skill("stop")]))
    unseen_skater, unseen_goalie = rows["10", "stop"], rows["1", "stop"]
    assert (unseen_skater.tries, unseen_goalie.tries) == (0, 0)
    assert unseen_skater.high < 0.6 < unseen_goalie.high
    assert unseen_skater.low < 0.4 < unseen_goalie.low


def test_the_coverage_of_a_season_file(tmp_path):
    """It is that of the file's own tallies, players and skills, up to a day where one is asked for."""
    roster, catalogue = [player(n) for n in (4, 11)], [skill("stop"), skill("start")]
    days = [FIRST + timedelta(weeks=week) for week in range(3)]
    drills = [Drill("stops_starts", "Stops and starts", (Step("on_lines", "On lines", ()),))]
    tallies = [
        Tally(day.isoformat(), who.id, "stop", outcome, "stops_starts", "on_lines", "Ines")
        for day in days
        for who in roster
        for outcome in (Outcome.DONE, Outcome.DONE, Outcome.MISSED)
    ]
    team = {"team": "Kettle Bay Lanterns", "age_class": "12U"}
    season_file = create_season(
        tmp_path / "season.db", **team, players=roster, skills=catalogue, drills=drills
    )
    with season_file as file:
        file.log.add_many([Practice(day.isoformat(), day) for day in days], tallies)
        whole, early = read_coverage(file), read_coverage(file, days[1])
        assert whole == coverage_of(cells_frame(file.log.cells()), roster, catalogue)
    assert [(row.player, row.skill, row.tries) for row in whole] == [
        ("4", "stop", 9), ("4", "start", 0), ("11", "stop", 9), ("11", "start", 0)
    ]  # fmt: skip
    assert [row.tries for row in early] == [6, 0, 6, 0]


def test_what_nobody_watched_has_no_number():
    """A skill that was never or hardly watched is wholly unknown, and no number of tries is made up."""
    roster = [player(n) for n in (4, 11)]
    cells = cells_frame([cell(roster[0], "stop", week, 4, 2) for week in range(4)])
    cells = pd.concat([cells, cells_frame([cell(roster[0], "start", 0, 3, 3)])], ignore_index=True)
    rows = by_pair(coverage_of(cells, roster, [skill("stop"), skill("start"), skill("gap_up")]))
    assert rows["4", "stop"].known
    assert rows["11", "stop"].tries == 0
    for key in (("4", "start"), ("4", "gap_up"), ("11", "gap_up")):
        assert (rows[key].low, rows[key].high, rows[key].to_go, rows[key].known) == (0, 1, None, False)
    assert coverage_of(cells_frame([]), roster, [skill("stop")])[0].to_go is None
    assert all(one.to_go is None for one in coverage_of(cells, roster, [skill("stop")], as_of=FIRST))
