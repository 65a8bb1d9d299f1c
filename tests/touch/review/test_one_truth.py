"""Screens, families' pages, charts, the command line's tables and JSON say the same of players and team."""

import csv
import io
import json
import re
from html import unescape

import pytest
from below_told import assert_below_agrees
from click.testing import CliRunner
from seasons_for_touch import demo_season
from watched_unevenly import random_season

from evaltrack.analysis.standings.standing import Call
from evaltrack.analysis.standings.standings import read_standings
from evaltrack.analysis.team.season_view import Part
from evaltrack.cli import commands
from evaltrack.paper.tables.coverage import as_json
from evaltrack.paper.tables.season import as_json as season_json
from evaltrack.store.opening import open_season
from evaltrack.touch.app import EvaltrackApp
from evaltrack.touch.season_view.team_card import TeamCard
from evaltrack.touch.season_view.tracks import TrackList
from evaltrack.words import wording
from evaltrack.words.agreement import ONE_BY_ONE
from evaltrack.words.family.drafting import draft_sheet, read_ground
from evaltrack.words.family.sheet import GOING_WELL, NEXT
from evaltrack.words.team import NO_TRY_OF_PLAYER


def printed(path, form, *words, command="standings"):
    """Return what a command prints in a form."""
    result = CliRunner().invoke(commands, [command, str(path), *words, "--format", form])
    assert result.exit_code == 0, result.output
    return result.stdout


def assert_tables_agree(path, standings):
    """CSV and JSON have the same rows, and the table says each one's count, call, share and trend."""
    rows, objects = list(csv.DictReader(io.StringIO(printed(path, "csv")))), json.loads(printed(path, "json"))
    table = re.split(r"\n(?= *\d+  )", printed(path, "table"))
    by_player = {block.split()[0]: block for block in table[1:]}
    for row, one, known in zip(rows, objects, standings, strict=True):
        assert (row["player"], row["skill"], row["call"]) == (known.player, known.skill, str(known.call))
        assert {
            name: str(value) for name, value in one.items() if isinstance(value, str)
        }.items() <= row.items()
        for name in ("share", "low", "high", "change", "p_below", "p_up"):
            assert float(row[name]) == pytest.approx(one[name], abs=1e-6)
            assert one[name] == pytest.approx(getattr(known, name), abs=1e-6)
        assert (row["trend"], one["trend"]) == (known.trend, known.trend)
        (line,) = re.findall(rf"^ +{known.skill} .*$", by_player[known.player], re.M)
        assert f"{known.done} of {known.tries}" in line
        if known.doubt:
            assert "plain count" in line
        else:
            assert str(known.call) in line
            assert (str(known.trend) in line) == wording.is_firm(known)
            assert (f"{100 * known.share:.0f} %" in line) or known.call is Call.TOO_FEW


def assert_page_agrees(season, standings):
    """A family's page praises nothing to be worked on, corrects nothing solid, tells no share of too few."""
    ground = read_ground(season)
    for player in season.people.players():
        own = [one for one in standings if one.player == player.number]
        page, call = draft_sheet(ground, player, own), {one.skill: one.call for one in own}
        strengths, steps = (
            [said.skill for said in page.part(key).sentences if said.skill] for key in (GOING_WELL, NEXT)
        )
        assert not {Call.WORK_ON, Call.TOO_FEW} & {call[key] for key in strengths}
        assert not {Call.SOLID, Call.TOO_FEW} & {call[key] for key in steps}
        assert not set(strengths) & set(steps)
        told = [one for one in own if one.call is not Call.TOO_FEW]
        for row, one in zip(page.rows, told, strict=True):
            assert row.name == ground.skills[one.skill].name
            assert row.count == f"{one.done} of {one.tries}"
            on_screen = wording.direction_words(one)
            assert row.direction == on_screen.replace("no clear change yet", "direction not clear yet")
            assert row.level == "" or wording.level_words(one) in row.level
            assert bool(row.path) == wording.is_firm(one)
        few = [one for one in own if one.call is Call.TOO_FEW]
        assert all(ground.skills[one.skill].name in page.thin for one in few)


def assert_skill_screen_agrees(driver, path, standings):
    """A skill's screen has the standings of the table. Return its sentences on the team, by skill."""
    app, told = driver.app, {}
    for key in dict.fromkeys(one.skill for one in standings):
        app._to_skill(None, key)
        screen = app.screens.get_screen("skill")
        driver.wait(lambda screen=screen: screen.team, timeout=60)
        told[key] = list(screen.team), list(screen.costs)
        own = [one for one in standings if one.skill == key]
        rows = {row.player.number: row for row in screen.ids.bars.rows}
        assert [row.standing for row in screen.ids.bars.rows if row.standing] == own
        last = max(seen.on for one in standings for seen in one.seen)
        for one in own:
            assert rows[one.player].count == f"{one.done} of {one.tries}"
            assert rows[one.player].words == wording.state_words(one, last)
        assert all(row.words == NO_TRY_OF_PLAYER for row in rows.values() if row.standing is None)
    return told


def assert_season_view_agrees(driver, path, told):
    """The season's screen has every figure of the commands, and the sentences of the skills' screens."""
    app = driver.app
    app.go("season")
    screen = app.screens.get_screen("season")
    driver.wait(lambda: screen.legend or screen.empty.startswith("No try"), timeout=60)
    assert season_json(screen._view) == printed(path, "json", command="season")
    rows = json.loads(printed(path, "json", "--team"))
    assert rows == json.loads(season_json(screen._view))["team"]
    for row, one in zip(rows, screen._view.skills, strict=True):
        now, start = (one.path[-1], one.path[0]) if one.path else (None, None)
        figures = [now.share, now.low, now.high, start.share, one.change] if now else [None] * 5
        told_of = [row[name] for name in ("share", "low", "high", "start_share", "change")]
        assert told_of == (pytest.approx(figures, abs=1e-6) if now else figures)
    held = json.loads(printed(path, "json", command="practices"))
    counted = {one.practice.key: (len(one.there), one.total) for one in screen._view.practices}
    assert counted == {one["practice"]: (one["players"], one["tallies"]) for one in held}
    assert {one.skill for one in screen._view.skills} == set(told)
    told = [told[one.skill] for one in screen._view.skills]
    for part in (Part.TEAM, Part.TARGETS, Part.COSTS):
        screen.section = part
        driver.frames(2)
        shown = [widget for widget in screen.walk(restrict=True) if isinstance(widget, (TeamCard, TrackList))]
        if part is Part.TEAM:
            assert [card.course for card in shown] == list(screen._view.skills)
            assert [card.lines for card in shown] == [team[:2] for team, _ in told]
            continue
        (groups,) = [tracks.groups for tracks in shown]
        for group, (team, costs) in zip(groups, told, strict=True):
            lines = [f"{track.label}; {track.words}" for track in group.tracks if track.label]
            if part is Part.COSTS:
                assert lines == costs
            else:
                assert all(track.words in " ".join(team) for track in group.tracks)


def assert_team_is_told_alike(path, told, names, folder):
    """Both commands and the charts say of the team, skill by skill, what the skills' screens say."""
    blocks = re.split(r"\n(?=\w)", printed(path, "table", "--team"))
    of_team = {block.split("\n")[0]: " ".join(block.split()[1:]) for block in blocks}
    season = [line.strip() for line in printed(path, "table", command="season").splitlines()]
    for key, (team, costs) in told.items():
        assert of_team[key] == " ".join([*team, *costs])
        assert f"{names[key]}: {team[0]}" in season
        assert {*team[1:], *costs} <= {*season}
    (key, (team, costs)) = max(told.items(), key=lambda one: len(one[1][0]) + len(one[1][1]))
    result = CliRunner().invoke(commands, ["charts", str(path), "--out", str(folder), "--skill", key])
    assert (result.exit_code, len(costs) > 1) == (0, True), result.output
    said = " ".join(unescape(re.search('<desc id="desc">(.*?)</desc>', file.read_text("utf-8"), re.S)[1])
                    for file in folder.iterdir())  # fmt: skip
    assert all(sentence in said for sentence in (*team, *costs))


def assert_coverage_agrees(driver, path):
    """The coverage screen stands on the rows that the command line prints."""
    driver.app.go("coverage")
    screen = driver.app.screens.get_screen("coverage")
    driver.wait(lambda: not screen.waiting, timeout=60)
    assert as_json(screen.rows) == printed(path, "json", command="coverage")


def assert_agreement_agrees(driver, path):
    """Whatever the command line says of two observers stands on their screen, skills by name."""
    driver.app.go("agreement")
    screen = driver.app.screens.get_screen("agreement")
    driver.wait(lambda: not screen.waiting, timeout=60)
    said = " ".join(line for _, lines in screen.told for line in lines)
    for remark in json.loads(printed(path, "json", command="agreement"))["remarks"]:
        for key, skill in driver.app.desk.skills.items():
            remark = re.sub(rf"\b{key} first", f"{skill.name} first", remark)
        assert remark[1:] in said


@pytest.mark.parametrize("seed", range(4))
def test_all_that_is_shown_comes_from_one_set_of_standings(drive, tmp_path, seed):
    """Over random seasons, from two practices to ten, nothing says otherwise than anything else."""
    path = random_season(tmp_path / "season.db", seed)
    with open_season(path) as season:
        standings = read_standings(season)
        assert_page_agrees(season, standings)
    assert_tables_agree(path, standings)

    app = EvaltrackApp(path)
    driver = drive(app=app)
    app.go("team")
    driver.wait(lambda: app.review.state == "ready", timeout=60)
    assert list(app.review.standings) == standings
    driver.frames(2)
    table = app.screens.get_screen("team").ids.rows.table
    assert dict(table.cells) == {(one.player, one.skill): one for one in standings}
    for number in dict.fromkeys(one.player for one in standings):
        app._to_player(None, number)
        driver.frames(2)
        charts = app.screens.get_screen("player").ids.charts.children
        assert [chart.standing for chart in reversed(charts)] == app.review.of(number)
    told = assert_skill_screen_agrees(driver, path, standings)
    assert_team_is_told_alike(
        path, told, {one.key: one.name for one in app.desk.skills.values()}, tmp_path / "charts"
    )
    assert_season_view_agrees(driver, path, told)
    assert_below_agrees(driver, path, told)
    assert_coverage_agrees(driver, path)
    assert_agreement_agrees(driver, path)


def test_two_observers_are_told_alike_by_the_app_and_the_command(drive, tmp_path):
    """On the invented season, in which two observers watched the same tries."""
    path = demo_season(tmp_path / "demo.db")
    driver = drive(path)
    driver.app.go("agreement")
    screen = driver.app.screens.get_screen("agreement")
    driver.wait(lambda: screen.told, timeout=60)
    assert_agreement_agrees(driver, path)
    rows = json.loads(printed(path, "json", command="agreement"))["rows"]
    told = dict(screen.told)[ONE_BY_ONE]
    for row in rows[1:]:
        name, share = driver.app.desk.skills[row["skill"]].name, round(row["share"] * row["tries"])
        (line,) = [line for line in told if line.startswith(f"{name}: ")]
        assert f"agreed in {share} of {row['tries']} tries, {100 * row['share']:.0f} %" in line
        sure = not row["difference_low"] <= 0 <= row["difference_high"]
        assert ("is the stricter" in line) == sure
