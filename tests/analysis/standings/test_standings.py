"""Standings from cells: what they say, and what they refuse to say."""

import subprocess
import sys
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from seasons import FIRST, assert_sound, cell, player, season, skill

from evaltrack.analysis.season.cells import cells_frame
from evaltrack.analysis.season.season_model import fit_season
from evaltrack.analysis.standings.standing import Call, Trend
from evaltrack.analysis.standings.standings import read_standings, standings_of
from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.player import Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.store.creating import create_season


def test_the_weak_and_the_strong_are_told_apart():
    """Players of 3 in 10 need work, players of 9 in 10 are solid, each with an interval round his share."""
    cells, roster, skills = season(tries=6)
    standings = standings_of(cells, roster, skills)
    assert_sound(standings)
    assert len(standings) == 20
    assert [s.player for s in standings[:4]] == ["1", "1", "2", "2"]
    assert [s.skill for s in standings[:2]] == ["s0", "s1"]
    assert {s.call for s in standings if s.player == "1"} == {Call.WORK_ON}
    assert {s.call for s in standings if s.player == "10"} == {Call.SOLID}
    share = [s.share for s in standings if s.skill == "s0"]
    assert np.corrcoef(share, np.arange(10))[0, 1] > 0.9


def test_counts_days_and_path():
    """Tries, dones and days are as counted, and the path has a point for each practice."""
    cells, roster, skills = season()
    one = standings_of(cells, roster, skills)[0]
    assert (one.tries, one.practices, len(one.seen), len(one.path)) == (24, 8, 8, 8)
    assert sum(seen.done for seen in one.seen) == one.done
    assert one.path[-1].share == pytest.approx(one.share)
    assert one.path[0].share == pytest.approx(one.start_share)
    assert one.path[-1].low == pytest.approx(one.low)
    assert one.change == pytest.approx(one.share - one.start_share)
    assert one.path[0].on == FIRST


def test_a_long_season_has_a_short_path():
    """More than sixty practices are thinned, and the ends stay."""
    who, one = player(1), skill("stop")
    cells = cells_frame([cell(who, "stop", week, 1, week % 2) for week in range(80)])
    (standing,) = standings_of(cells, [who], [one])
    assert len(standing.path) == 60
    assert standing.path[-1].on == FIRST + timedelta(weeks=79)
    assert len(standing.seen) == 80


def test_nothing_after_the_day_is_used():
    """As of a day, standings are those of a season that ended there."""
    cells, roster, skills = season()
    day = FIRST + timedelta(weeks=4, days=3)
    short = cells[cells["held_on"].dt.date <= day].reset_index(drop=True)
    assert standings_of(cells, roster, skills, as_of=day) == standings_of(short, roster, skills)
    assert standings_of(cells, roster, skills, as_of=day)[0].path[-1].on == FIRST + timedelta(weeks=4)
    assert standings_of(cells, roster, skills, as_of=date(2020, 1, 1)) == []


@pytest.mark.parametrize("shared", [True, False])
@pytest.mark.parametrize(
    "shares",
    [(1.0,), (0.0,), (1.0, 0.0), (0.5,) * 40],
    ids=["all done", "all missed", "both", "forty players"],
)
@pytest.mark.parametrize("practices", [1, 2, 5])
def test_odd_seasons(shares, practices, shared):
    """One player or forty, all done or all missed, one practice or more: figures stay sound."""
    roster = [player(n) for n in range(len(shares))]
    rows = [
        cell(who, "stop", week, 4, int(4 * share))
        for who, share in zip(roster, shares, strict=True)
        for week in range(practices)
    ]
    standings = standings_of(cells_frame(rows), roster, [skill("stop")], shared=shared)
    assert len(standings) == len(roster)
    assert_sound(standings)
    assert practices > 1 or all(one.doubt and one.call is Call.TOO_FEW for one in standings)


def test_three_tries_in_all():
    """Three tries are a plain count with Wilson's interval, and a sentence that says so."""
    who = player(7)
    rows = [cell(who, "stop", 0, 1, 1), cell(who, "stop", 1, 2, 1)]
    (one,) = standings_of(cells_frame(rows), [who], [skill("stop")])
    assert one.share == pytest.approx(2 / 3)
    assert one.call is Call.TOO_FEW
    assert one.trend is Trend.NO_CLEAR_CHANGE
    assert "too little" in one.doubt


@pytest.mark.parametrize(
    ("tries", "practices", "doubt"), [(10, 2, False), (9, 2, True), (10, 1, True), (40, 1, True)]
)
def test_from_ten_tries_over_two_practices_on_there_is_an_estimate(tries, practices, doubt):
    """Over the whole team; a skill that was watched less has the plain count, whoever was watched."""
    roster = [player(7), player(8)]
    rows = [cell(roster[n % 2], "stop", n % practices, 1, n % 3 == 0) for n in range(tries)]
    standings = standings_of(cells_frame(rows), roster, [skill("stop")])
    assert len(standings) == 2
    assert all(("watched too little" in (one.doubt or "")) is doubt for one in standings)
    assert all((one.trend, bool(one.path)) == (Trend.NO_CLEAR_CHANGE, not doubt) for one in standings)


def test_a_fit_that_did_not_settle_is_not_shown():
    """The plain count stands in its place with a sentence, no call and no trend; other skills are as ever."""
    cells, roster, skills = season(tries=6)

    def unsettled(*given):
        fits = fit_season(*given)
        return fits | {"s0": replace(fits["s0"], trusted=False)}

    standings = standings_of(cells, roster, skills, fit=unsettled)
    doubted = [one for one in standings if one.doubt]
    assert {one.skill for one in doubted} == {"s0"}
    assert {(one.call, one.trend) for one in doubted} == {(Call.IN_BETWEEN, Trend.NO_CLEAR_CHANGE)}
    assert all("did not settle" in one.doubt and one.share == one.done / one.tries for one in doubted)
    settled = [one for one in standings_of(cells, roster, skills) if one.skill == "s1"]
    assert [one.share for one in standings if one.skill == "s1"] == [one.share for one in settled]


def test_skills_lend_each_other_strength_unless_told_otherwise():
    """Without a word standings are those of skills fitted together."""
    cells, roster, skills = season()
    together = standings_of(cells, roster, skills, shared=True)
    assert (
        standings_of(cells, roster, skills) == together != standings_of(cells, roster, skills, shared=False)
    )


def test_late_and_leaving_players():
    """Whoever came late is told of from their first day on, whoever left up to their last."""
    cells, roster, skills = season(players=8, skills=1, practices=12)
    held_on, who = cells["held_on"].dt.date, cells["player"]
    middle = FIRST + timedelta(weeks=6)
    late, left = who == roster[3].id.bytes, who == roster[4].id.bytes
    kept = cells[~(late & (held_on < middle)) & ~(left & (held_on >= middle))].reset_index(drop=True)
    standings = {one.player: one for one in standings_of(kept, roster, skills)}
    assert_sound(standings.values())
    whole, came, gone = (standings[number] for number in ("3", "4", "5"))
    assert [point.on for point in whole.path] == [FIRST + timedelta(weeks=week) for week in range(12)]
    assert [point.on for point in came.path] == [point.on for point in whole.path[6:]]
    assert [point.on for point in gone.path] == [point.on for point in whole.path[:6]]
    for one in (came, gone):
        assert (one.start_share, one.share) == (one.path[0].share, one.path[-1].share)


def test_who_comes_after_the_skills_first_day_and_goes_before_its_last_has_those_days_too():
    """A player's own time starts and ends with their practices, whether they tried the skill there or not."""
    roster, keys = [player(n) for n in range(8)], ("stop", "start")
    there = [(who, key, week) for who in roster for key in keys for week in range(10)]
    kept = [
        (w, k, at)
        for w, k, at in there
        if w != roster[0] or (2 <= at < 8 and not (k == "stop" and at in (2, 7)))
    ]
    rows = [cell(who, key, week, 4, 2) for who, key, week in kept]
    one = next(
        s for s in standings_of(cells_frame(rows), roster, [skill("stop"), skill("start")]) if s.player == "0"
    )
    assert one.skill == "stop"
    assert [point.on for point in one.path] == [FIRST + timedelta(weeks=week) for week in range(2, 8)]


def test_a_hard_step_for_forwards_does_not_make_a_defender_look_worse():
    """Everybody is judged under the steps of their own position group, and by the same observers."""
    forwards = [player(n) for n in range(1, 9)]
    defenders = [player(n, Position.DEFENCE) for n in range(11, 19)]
    rows = [cell(who, "stop", week, 4, 3, step="on_lines") for who in defenders for week in range(8)]
    rows += [cell(who, "stop", week, 4, 3, step="on_lines") for who in forwards for week in range(8)]
    rows += [cell(who, "stop", week, 4, 1, step="on_whistle") for who in forwards for week in range(8)]
    found = standings_of(cells_frame(rows), forwards + defenders, [skill("stop")])
    share = {position: [one.share for one in found if one.position == position] for position in "DF"}
    assert min(share["D"]) > 0.7
    assert max(share["F"]) < 0.56


def test_shares_are_as_the_seasons_own_observers_see_them():
    """With one observer, strict or not, shares are what they note; with two, in their shares of the tries."""
    roster = [player(n) for n in range(12)]
    rows = [cell(who, "stop", week, 6, 2, observer="Ines") for who in roster for week in range(8)]
    alone = standings_of(cells_frame(rows), roster, [skill("stop")])
    assert all(abs(one.share - 1 / 3) < 0.02 for one in alone)
    rows += [cell(who, "stop", week, 2, 2, observer="Marit") for who in roster[:6] for week in range(8)]
    together = standings_of(cells_frame(rows), roster, [skill("stop")])
    # a try in seven is Marit's, and whoever she never watched is judged by her too
    shares = [one.share for one in together]
    assert min(shares) > 0.36
    assert np.mean(shares[6:]) == pytest.approx(np.mean(shares[:6]), abs=0.06)


def test_goalies_do_not_share_the_mean_of_skaters():
    """A goalie with few tries is drawn towards goalies, not towards skaters."""
    skaters = [player(n) for n in range(10, 18)]
    goalies = [player(n, Position.GOALIE) for n in range(1, 5)]
    rows = [cell(who, "stop", week, 4, 1) for who in skaters for week in range(8)]
    rows += [cell(who, "stop", week, 4, 4) for who in goalies[1:] for week in range(8)]
    rows += [cell(goalies[0], "stop", week, 1, 1) for week in range(2)]
    apart = standings_of(cells_frame(rows), skaters + goalies, [skill("stop")])
    together = [player(n) for n in range(1, 5)]
    same = {g.id.bytes: t.id.bytes for g, t in zip(goalies, together, strict=True)}
    mixed = [(same.get(row[0], row[0]), *row[1:]) for row in rows]
    one_mean = standings_of(cells_frame(mixed), skaters + together, [skill("stop")])
    assert apart[0].player == one_mean[0].player == "1"
    assert apart[0].share > one_mean[0].share + 0.03


def test_pressure_not_noted():
    """With pressure noted nowhere, or only here and there, standings are sound and use every try."""
    roster, one = [player(n) for n in range(6)], skill("stop")
    rng = np.random.default_rng(2)
    for kinds in ([None], [None, 0, 1], [1]):
        rows = [
            cell(who, "stop", week, 3, int(rng.integers(0, 4)), pressure=kinds[week % len(kinds)])
            for who in roster
            for week in range(9)
        ]
        standings = standings_of(cells_frame(rows), roster, [one])
        assert_sound(standings)
        assert {s.tries for s in standings} == {27}


def test_harder_steps_do_not_look_like_decline():
    """A drill that gets harder for everyone half-way is put down to the step, not to the players."""
    roster, one = [player(n) for n in range(12)], skill("stop")
    rows = []
    for who in roster:
        for week in range(12):
            rows.append(cell(who, "stop", week, 4, 3 if week < 7 else 2, step="easy" if week < 7 else "hard"))
            if 4 <= week < 7:
                rows.append(cell(who, "stop", week, 4, 2, step="hard"))
    standings = standings_of(cells_frame(rows), roster, [one])
    assert {s.trend for s in standings} == {Trend.NO_CLEAR_CHANGE}
    assert max(abs(s.change) for s in standings) < 0.12


def test_from_a_season_file(tmp_path):
    """Tallies in a season file become standings; unseen ones and players without tries do not."""
    roster, catalogue = [player(n) for n in (4, 11, 23)], [skill("stop"), skill("start")]
    days = [FIRST + timedelta(weeks=week) for week in range(5)]
    practices = [Practice(day.isoformat(), day) for day in days]
    tallies = []
    for practice in practices:
        for who, outcomes in ((roster[0], "ddddd"), (roster[1], "dmmmm")):
            for outcome in outcomes:
                kind = Outcome.DONE if outcome == "d" else Outcome.MISSED
                tallies.append(Tally(practice.key, who.id, "stop", kind, "stops_starts", "on_lines", "Ines"))
        tallies.append(
            Tally(practice.key, roster[2].id, "stop", Outcome.UNSEEN, "stops_starts", "on_lines", "Ines")
        )
    with create_season(
        tmp_path / "season.db",
        team="Kettle Bay Lanterns",
        age_class="12U",
        players=roster,
        skills=catalogue,
        drills=[Drill("stops_starts", "Stops and starts", (Step("on_lines", "On lines", ()),))],
    ) as file:
        file.log.add_many(practices, tallies)
        standings = read_standings(file)
        early = read_standings(file, as_of=days[1])
        none = read_standings(file, skill="start")
    assert_sound(standings)
    assert [(s.player, s.tries, s.done, s.practices) for s in standings] == [
        ("4", 25, 25, 5),
        ("11", 25, 5, 5),
    ]
    assert standings[0].share > 0.75
    assert standings[1].call is Call.WORK_ON
    assert [s.tries for s in early] == [10, 10]
    assert none == []


def test_the_values_load_nothing_heavy():
    """Whoever only wants to know what a standing is does not wait for numpy."""
    heavy = "print({'numpy', 'pandas', 'scipy'} & set(sys.modules))"
    code = f"import sys, evaltrack.analysis.standings.standing; {heavy}"
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "set()"
