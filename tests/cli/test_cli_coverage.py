"""What the command line says of coverage, and of what moved a share."""

import json
import sqlite3
from contextlib import closing

import pytest


def test_why_tells_what_moved_each_share(command, season):
    """Below each standing stands from where to where the share moved, and why."""
    plain = command("standings", season, "--player", "2").stdout
    text = command("standings", season, "--player", "2", "--why").stdout
    assert "From " not in plain
    assert "From 19 of 32, 59 %, to " in text
    assert "% now:" in text


def test_why_goes_into_json_and_not_into_csv(command, season):
    """JSON carries the reasons, whose moves add up; CSV has its fixed columns and refuses."""
    (row,) = json.loads(command("standings", season, "--player", "2", "--why", "--format", "json").stdout)
    moved = sum(reason["moved"] for reason in row["reasons"])
    assert row["done"] / row["tries"] + moved == pytest.approx(row["share"], abs=1e-5)
    refused = command("standings", season, "--why", "--format", "csv")
    assert refused.exit_code == 2
    assert "--why" in refused.stderr


def test_coverage_tells_of_everyone_in_what_is_for_him(command, season):
    """Players who were never seen in a skill are there, and skills nobody watched say so."""
    rows = json.loads(command("coverage", season, "--format", "json").stdout)
    seen = {(row["player"], row["skill"]) for row in rows if row["tries"]}
    assert seen == {("2", "outlet_pass"), ("7", "outlet_pass"), ("11", "lane_fill"), ("14", "lane_fill")}
    assert ("31", "rebound_control") in {(row["player"], row["skill"]) for row in rows}
    assert all(row["high"] < 1 for row in rows if row["skill"] in ("outlet_pass", "lane_fill"))
    assert "not watched yet" in command("coverage", season).stdout


def test_coverage_of_one(command, season):
    """One skill or one player gives the rows of the whole; what the season lacks is refused."""
    whole = command("coverage", season, "--format", "csv").stdout.splitlines()
    part = command("coverage", season, "--format", "csv", "--skill", "lane_fill", "--player", "11")
    assert part.stdout.splitlines()[1:] == [
        line for line in whole if line.startswith("11,") and ",lane_fill," in line
    ]
    unknown = command("coverage", season, "--skill", "lane_fil")
    assert unknown.exit_code == 1
    assert "lane_fill" in unknown.stderr


def test_coverage_of_an_empty_season(command, empty_season):
    """Before the first tally nothing is known, and nothing is made up."""
    assert "not watched yet" in command("coverage", empty_season).stdout


def test_where_everybody_has_left_something_is_said(command, season):
    """A command that prints nothing looks broken: no table, and no list of numbers that is empty."""
    with closing(sqlite3.connect(season)) as file, file:
        file.execute("UPDATE player SET status = 'left'")
    assert "nobody to watch here" in command("coverage", season).stdout
    assert json.loads(command("coverage", season, "--format", "json").stdout) == []
    asked = command("coverage", season, "--player", "2")
    assert (asked.exit_code, asked.stderr) == (1, "there is no player `2` in this season: it has none\n")
