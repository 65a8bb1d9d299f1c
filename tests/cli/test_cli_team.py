"""What the command line says of the team in each skill."""

import csv
import io
import json

from evaltrack.paper.tables.team import COLUMNS


def test_the_team_in_words_and_for_programs(command, season):
    """Each skill with a try, in catalogue order; the table's counts are those of JSON and CSV."""
    rows = json.loads(command("standings", season, "--team", "--format", "json").stdout)
    assert [row["skill"] for row in rows] == ["outlet_pass", "lane_fill"]
    table = command("standings", season, "--team").stdout
    for row in rows:
        assert f"{row['skill']}\n  {row['done']} of {row['tries']} by {row['players']} players" in table
    lines = list(
        csv.DictReader(io.StringIO(command("standings", season, "--team", "--format", "csv").stdout))
    )
    for line, row in zip(lines, rows, strict=True):
        assert line == {name: "" if row[name] is None else str(row[name]) for name in COLUMNS}


def test_one_skill_alone_is_as_in_the_whole(command, season):
    """The others still inform it."""
    whole = json.loads(command("standings", season, "--team", "--format", "json").stdout)
    one = command("standings", season, "--team", "--skill", "lane_fill", "--format", "json").stdout
    assert json.loads(one) == [row for row in whole if row["skill"] == "lane_fill"]


def test_the_team_is_no_player(command, season):
    """A player's number beside it is refused."""
    refused = command("standings", season, "--team", "--player", "2")
    assert refused.exit_code == 2
    assert "--player" in refused.stderr


def test_an_empty_season_has_no_team_to_tell_of(command, empty_season):
    """It says why, and prints nothing made up."""
    told = command("standings", empty_season, "--team")
    assert (told.exit_code, told.stdout) == (0, "")
    assert "nothing has been tallied yet" in told.stderr
