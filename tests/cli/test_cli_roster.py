"""The roster changed in mid-season from the command line: who joins, leaves, comes back, or swaps numbers."""

import csv
import io
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pond_team import ROSTER, tallies_file

from evaltrack.intake.roster import roster_text
from evaltrack.rink.player import ON_TEAM, Player, Position
from evaltrack.store.opening import open_season

ODD = """\ufeffNumber;Name;Position;Birth Year;Status
0;Zoë Łukasik;Goalie;2014;
00;Nguyễn Ánh;D;;
1;O'Fern, Petra;D;2013;limited
2;'=SUM(A1);F;;
3;Søren Ødelund;LW;;away
4;Ilze Kēniņa;c;;
5;Kaan Yıldız;F;;
6;Aoife Ní Dhúlain;F;;
7;Lucía Íbarra;F;;
8;Mina Řeháček;F;;
9;Bartholomew Featherstonehaugh-O'Brien;F;;
10;"Per ""Pip"" Håkansgård";D;;
11;Мила Орлова;D;;
12;李小龙;F;;
13;Jonah  Feld ;F;;
14;jonah feld;F;;
99;Þórunn Æsa;G;;
"""
WITH_STATUS = ROSTER.replace("birth_year\n", "birth_year,status\n").replace("2014\n", "2014,\n")
_HOLD = (
    "import sys; from evaltrack.device.season_claim import SeasonClaim; claim = SeasonClaim();"
    "print(claim.take(sys.argv[1]), flush=True); sys.stdin.read()"
)


@pytest.fixture
def change(command, season, tmp_path):
    """Return a function that sets another roster in the season of the pond team, and gives what was said."""

    def set_to(text, *words, code=0):
        path = tmp_path / "next.csv"
        path.write_text(text, encoding="utf-8")
        result = command("roster", season, "--set", path, *words)
        assert result.exit_code == code, result.output
        return result.stdout if code == 0 else result.stderr

    return set_to


def team(path):
    """Return name by number of those on the team, and the names of those who have left."""
    with open_season(path) as season:
        everyone, on_it = season.people.everyone(), season.people.players()
    return {p.number: p.name for p in on_it}, [p.name for p in everyone if p not in on_it]


def standings(command, path, *words):
    """Return the standings by the player's name."""
    rows = csv.DictReader(io.StringIO(command("standings", path, "--format", "csv", *words).stdout))
    return {(row.pop("name"), row["skill"]): {k: v for k, v in row.items() if k != "player"} for row in rows}


def facts(path, *tables):
    """Return every row of some tables."""
    with closing(sqlite3.connect(path)) as file:
        return {table: file.execute(f"SELECT * FROM {table}").fetchall() for table in tables}


def without(*numbers):
    """Return the roster without the lines of these numbers."""
    return "".join(line for line in ROSTER.splitlines(True) if line.split(",")[0] not in numbers)


def test_what_is_written_changes_nothing_when_it_is_set(command, season, tmp_path, change):
    """Out and in again: no fact more, and the second file has the same bytes; the table shows everybody."""
    first, second = tmp_path / "first.csv", tmp_path / "second.csv"
    before = facts(season, "player", "roster_change")
    assert command("roster", season, "--out", first).stdout == f"{first}: 5 players\n"
    assert "nothing is to be changed" in change(first.read_text("utf-8"))
    assert facts(season, "player", "roster_change") == before
    command("roster", season, "--out", second)
    assert second.read_bytes() == first.read_bytes()
    assert "     7  Bram Okonjo-Reyes  D               full" in command("roster", season).stdout


def test_a_roster_of_seventeen_with_odd_characters(command, tmp_path):
    """Any spreadsheet's letters, quotes and columns come in, and out and in again the same."""
    (tmp_path / "odd.csv").write_text(ODD, encoding="utf-8")
    path = tmp_path / "odd.db"
    words = ("--team", "Pond", "--age-class", "12U", "--roster", tmp_path / "odd.csv")
    assert command("new", path, *words).exit_code == 0
    command("roster", path, "--out", tmp_path / "out.csv")
    said = command("roster", path, "--set", tmp_path / "out.csv").stdout
    assert "nothing is to be changed" in said
    assert team(path)[0]["2"] == "=SUM(A1)"
    assert len(team(path)[0]) == 17
    # the two Jonahs change places: no name tells who is who
    swapped = ODD.replace("13;Jonah  Feld ", "15;Jonah  Feld ").replace("14;jonah", "13;jonah")
    (tmp_path / "odd.csv").write_text(swapped, encoding="utf-8")
    refused = command("roster", path, "--set", tmp_path / "odd.csv")
    assert refused.exit_code == 1
    assert "odd.csv, line 16: the name Jonah Feld does not tell who this is" in refused.stderr
    told = command("roster", path, "--set", tmp_path / "odd.csv", "--same", "15=13", "--same", "13=14")
    assert "14 jonah feld: wears 13" in told.stdout


def test_two_players_swap_their_numbers(command, season, change):
    """The history goes with the player; practices before that day show the numbers of their day."""
    before = standings(command, season)
    then = command("practices", season, "--practice", "2025-10-06").stdout
    swapped = ROSTER.replace("2,Tuva", "x,Tuva").replace("\n7,Bram", "\n2,Bram").replace("x,Tuva", "7,Tuva")
    said = change(swapped, "--from", "2025-11-01")
    assert said.splitlines() == [
        "changed:",
        "  2 Tuva Ashlund: wears 7 from Saturday 1 November 2025 on",
        "  7 Bram Okonjo-Reyes: wears 2 from Saturday 1 November 2025 on",
    ]
    assert team(season)[0] == {"2": "Bram Okonjo-Reyes", "7": "Tuva Ashlund", "11": "Ines Falk",
                               "14": "Jory Pellwick", "31": "Mika Sundqvale"}  # fmt: skip
    assert standings(command, season) == before
    assert command("practices", season, "--practice", "2025-10-06").stdout == then
    assert "2 until Saturday 1 November 2025" in command("roster", season).stdout


def test_a_defender_becomes_a_forward_too(command, season, tmp_path, change):
    """It is told, kept and written out again; no figure moves, and skills of both are to be watched."""
    before, figures = facts(season, "tally"), standings(command, season)
    line = next(line for line in ROSTER.splitlines() if ",D," in line)
    name = line.split(",")[1]
    assert f"{name}: plays D/F (was D)" in change(ROSTER.replace(line, line.replace(",D,", ",D/F,")))
    assert facts(season, "tally") == before
    after = standings(command, season)
    assert {row["position"] for (who, _), row in after.items() if who == name} == {"D/F"}
    assert {k: {**row, "position": figures[k]["position"]} for k, row in after.items()} == figures
    coverage = csv.DictReader(io.StringIO(command("coverage", season, "--format", "csv").stdout))
    assert {"gap_up", "lane_fill"} <= {row["skill"] for row in coverage if row["name"] == name}
    command("roster", season, "--out", tmp_path / "out.csv")
    assert "nothing is to be changed" in change((tmp_path / "out.csv").read_text("utf-8"))


def test_a_file_of_tallies_means_the_numbers_of_its_days(command, season, tmp_path, change):
    """Loaded again after a swap it adds nothing; a line of a later day is the new wearer's."""
    swapped = ROSTER.replace("2,Tuva", "x,Tuva").replace("\n7,Bram", "\n2,Bram").replace("x,Tuva", "7,Tuva")
    change(swapped, "--from", "2025-11-01")
    assert "0 of them new" in command("load", season, tallies_file(tmp_path)).stdout
    line = "2025-11-03,breakout_attack,two_on_one,outlet_pass,2,done,no,Edda"
    assert "1 of them new" in command("load", season, tallies_file(tmp_path, [line])).stdout
    assert "here: 2 Bram" in command("practices", season, "--practice", "2025-11-03").stdout


def test_one_leaves_and_one_joins(command, season, tmp_path, change):
    """Who left is in no table of the team and keeps every tally; the others' standings stay as they were."""
    before, tallies = standings(command, season), facts(season, "tally", "attendance")
    with_new = without("11") + "11,Kit Alder,F,\n"
    refused = change(with_new, code=1)
    assert "next.csv, line 6: number 11 is Ines Falk until now; if Kit Alder is the same player" in refused
    said = change(with_new, "--new", "11")
    assert "11 Kit Alder: joins the team" in said
    assert "11 Ines Falk: has left the team" in said
    assert facts(season, "tally", "attendance") == tallies
    assert standings(command, season) == {key: row for key, row in before.items() if key[0] != "Ines Falk"}
    assert standings(command, season, "--left") == before
    assert team(season)[1] == ["Ines Falk"]
    assert "Ines Falk" in command("practices", season, "--practice", "2025-10-06").stdout
    coverage = command("coverage", season, "--format", "csv").stdout
    assert "Ines Falk" not in coverage
    assert "Kit Alder" in coverage
    assert command("notes", season, "--out", tmp_path / "notes").exit_code == 0
    assert not [page.name for page in (tmp_path / "notes").iterdir() if "ines" in page.name.lower()]


def test_who_comes_back_has_their_history_again(command, season, change):
    """A line with the name of one who had left is that player, whatever the number is now."""
    before = standings(command, season)
    change(without("14"))
    assert "14 Jory Pellwick: wears 41" in change(without("14") + "41,Jory Pellwick,F,2015\n")
    assert standings(command, season) == before
    # with another year of birth it is another child of that name
    change(without("14"))
    assert "joins the team" in change(without("14") + "14,Jory Pellwick,F,2012\n")


def test_a_dry_run_and_a_file_with_a_fault_change_nothing(season, change):
    """All or nothing: the one good line of a bad file is not taken either."""
    before = facts(season, "player", "roster_change")
    new = WITH_STATUS.replace("2,Tuva Ashlund,D,2014,", "3,Tuva Ashlund,F,2013,limited")
    told = change(new, "--dry-run")
    assert "2 Tuva Ashlund: wears 3 from" in told
    assert "plays F (was D)" in told
    assert told.endswith("Nothing was changed.\n")
    refused = change(new + "8,,X,,\n3,Sol,D,,\n", code=1)
    assert "next.csv, line 7: the name is missing" in refused
    assert "next.csv, line 8: number 3 stands in line 2 too" in refused
    assert facts(season, "player", "roster_change") == before


def test_a_column_that_the_file_lacks_says_nothing(season, change):
    """Without birth_year and status both stay as they are; an empty cell takes the year out."""
    plain = "".join(",".join(line.split(",")[:3]) + "\n" for line in ROSTER.splitlines())
    assert "nothing is to be changed" in change(plain)
    assert "2 Tuva Ashlund: year of birth is taken out" in change(ROSTER.replace("D,2014", "D,"))
    with open_season(season) as opened:
        assert opened.people.players()[0].birth_year is None


def test_what_cannot_be_is_refused_in_words(command, season, tmp_path, change):
    """Days to come, numbers that are not there, one player named twice, options without a file."""
    tomorrow = date.today() + timedelta(days=1)
    assert "has not come yet" in change(ROSTER, "--from", str(tomorrow), code=1)
    assert "there is no number 99 in the roster" in change(ROSTER, "--new", "99", code=1)
    assert "nobody on the team wears number 98" in change(ROSTER, "--same", "2=98", code=1)
    assert "named twice" in change(ROSTER, "--same", "2=7", "--new", "2", code=1)
    assert "write it as 12=3" in change(ROSTER, "--same", "2", code=2)
    assert "belong to --set" in command("roster", season, "--dry-run").stderr
    assert "name one of" in command("roster", season, "--set", "a.csv", "--out", "b.csv").stderr
    assert "who has left has no line" in change(WITH_STATUS.replace("D,2014,", "D,2014,left"), code=1)


def test_an_open_window_keeps_its_roster(season, change):
    """The window would go on showing the old one, so the change is refused, and a dry run is not."""
    new = without("14")
    command = [sys.executable, "-c", _HOLD, str(season)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as window:
        assert window.stdout.readline() == "True\n"
        assert "open in a window of the app" in change(new, code=1)
        assert "has left the team" in change(new, "--dry-run")
        window.communicate()
    assert "has left the team" in change(new)


_numbers = st.sampled_from([str(n) for n in range(12)])
_names = st.sampled_from(["Ann", "Bo", "Cleo", "Dag", "Émile", "Finn", "Gus", "Hal"])
_players = st.builds(
    Player, _numbers, _names, st.sampled_from(Position), st.none() | st.just(2014), st.sampled_from(ON_TEAM)
)
_rosters = st.lists(_players, min_size=1, max_size=8, unique_by=(lambda p: p.number, lambda p: p.name))


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(rosters=st.lists(_rosters, min_size=1, max_size=4))
def test_any_rosters_one_after_the_other(command, empty_season, tmp_path_factory, rosters):
    """Whatever is set is the team afterwards, nobody is lost, what is written again changes nothing.

    The changes only grow, and played from the first one on they give the players as they are.
    """
    path = tmp_path_factory.mktemp("rosters") / "next.csv"
    for roster in rosters:
        known, grown = facts(empty_season, "player")["player"], facts(empty_season, "roster_change")
        on_team, _ = team(empty_season)
        names = set(on_team.values())
        path.write_text(roster_text(roster), encoding="utf-8")
        # another name with a number that is on the team is told to be another player
        new = [w for p in roster if p.number in on_team and p.name not in names for w in ("--new", p.number)]
        result = command("roster", empty_season, "--set", path, *new)
        assert result.exit_code == 0, result.stderr
        assert team(empty_season)[0] == {p.number: p.name for p in roster}
        after = facts(empty_season, "player", "roster_change")
        assert {row[0] for row in known} <= {row[0] for row in after["player"]}
        assert set(grown["roster_change"]) <= set(after["roster_change"])
        again = command("roster", empty_season, "--set", path)
        assert "nothing is to be changed" in again.stdout
    with open_season(empty_season) as season:
        everyone = {player.id: player for player in season.people.everyone()}
        last = {(change.player, change.field): change.becomes for change in season.people.changes()}
    now = {key: getattr(everyone[key[0]], key[1]) for key in last}
    assert last == {key: "" if value is None else str(value) for key, value in now.items()}


@pytest.mark.parametrize("word", ["roster", "sheet", "catalogue", "charts"])
def test_no_command_writes_over_a_season_file(command, season, word):
    """The season's own name where a file is to be written is a slip, and must not cost the season."""
    named = season.rename(season.with_suffix(".csv"))
    before = named.read_bytes()
    done = command(word, named, "--out", named)
    assert (done.exit_code, done.stdout) == (1, "")
    assert named.read_bytes() == before


AWAY = WITH_STATUS.replace("2014,\n", "2014,away until 2026-12-24\n", 1)


def test_who_is_away_until_a_day_and_leaves_has_left(change, season):
    """Nobody is expected back of those who left: it is said, noted, and the number is free in the history."""
    change(AWAY)
    with open_season(season) as file:
        (away,) = [player for player in file.people.players() if player.away_until]
    row = next(line for line in AWAY.splitlines() if "away until" in line)
    said = change(AWAY.replace(f"{row}\n", ""))
    assert f"{away.number} {away.name}: has left the team" in said
    with open_season(season) as file:
        assert file.people.changes()[-1].leaves
        assert away.number not in file.people.numbers_worn().wearers(date.today())
        (gone,) = [player for player in file.people.everyone() if player.id == away.id]
    assert gone.away_until is None


def test_a_roster_without_a_status_column_keeps_until_when_somebody_is_away(change, season):
    """What the file has no column for stays as it was, all of it."""
    change(AWAY)
    assert "nothing is to be changed" in change(ROSTER)
    with open_season(season) as file:
        assert [str(player.away_until) for player in file.people.players() if player.away_until] == [
            "2026-12-24"
        ]


@pytest.mark.parametrize("day", ["0001-01-01", "1899-12-31", "9999-12-31"])
def test_a_day_in_no_season_never_gets_into_the_file(change, season, day):
    """A slip in a year is refused; in the file it would be taken for damage."""
    assert f"`{day}` is in no season" in change(AWAY.replace("2026-12-24", day), code=1)
    assert change(AWAY, "--from", day, code=1)
    with open_season(season) as file:
        assert file.people.changes() == []
