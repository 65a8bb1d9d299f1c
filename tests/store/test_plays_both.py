"""Who plays both defence and forward: in the roster's CSV, in the season file and its history."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date

import pytest
from older_files import back_to_version_eight

from evaltrack.errors import IntakeError, SeasonFileError
from evaltrack.intake.roster import read_roster, roster_text
from evaltrack.intake.roster_lines import pasted
from evaltrack.rink.player import Player, Position, first_group
from evaltrack.rink.roster_change import RosterField
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season
from evaltrack.store.schema import SCHEMA_VERSION
from evaltrack.words.roster import change_lines, history_lines

D, F, G = Position
ODA = Player("4", "Oda Marsh", D)
BOTH = replace(ODA, also=F)
DAY = date(2026, 1, 13)
FILES = {"team": "Kettle Bay Lanterns", "age_class": "12U", "skills": [], "drills": []}
PLAN_TABLES = (
    "ice_time",
    "plan_reason",
    "plan_look",
    "plan_place",
    "plan_station",
    "plan_block",
    "practice_plan",
)


@pytest.mark.parametrize(
    ("written", "first", "also"),
    [
        ("D/F", D, F),
        ("f/d", F, D),
        ("Defence / Wing", D, F),
        ("LW/RD", F, D),
        ("LW/RW", F, None),
        ("D/D", D, None),
        ("G", G, None),
    ],
)
def test_a_roster_file_names_both_and_is_read_back(tmp_path, written, first, also):
    """The first one named counts; two words for one group are one position; the file we write is the same."""
    path = tmp_path / "roster.csv"
    path.write_text(f"number,name,position\n4,Oda Marsh,{written}\n", encoding="utf-8")
    (player,) = read_roster(path)
    assert (player.position, player.also) == (first, also)
    assert first_group(player.position_text) is first
    path.write_text(roster_text([player]), encoding="utf-8")
    assert read_roster(path) == [player]


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("D/G", "D/G cannot be, since a goalie plays nothing else; write G, or D/F"),
        ("F/D/G", "F/D/G cannot be, since a goalie plays nothing else; write G, or D/F"),
        ("D/", "D/ is not a position; write D, F or G, or D/F for one who plays both"),
        ("D/Rover", "D/Rover is not a position; write D, F or G, or D/F for one who plays both"),
    ],
)
def test_what_cannot_be_both_is_complained_of_at_its_line(tmp_path, written, said):
    """A goalie is never anything else, and half a pair is no position."""
    path = tmp_path / "roster.csv"
    path.write_text(f"number,name,position\n4,Oda Marsh,{written}\n", encoding="utf-8")
    with pytest.raises(IntakeError) as told:
        read_roster(path)
    assert f"line 2: {said}" in str(told.value).replace("`", "")


@pytest.mark.parametrize(
    "text", ["4\tOda Marsh\tD/F", "4 Oda Marsh D/F", "4. Oda Marsh D / F", "Oda Marsh;D/F;4"]
)
def test_both_stand_in_what_is_pasted(text):
    """With tabs, with blanks round the stroke, with the columns in any order."""
    lines = pasted(f"{text}\n{text.replace('4', '5').replace('D/F', 'F')}").lines
    assert lines[0][:3] == ("4", "Oda Marsh", "D/F")


def test_a_change_to_both_and_back_is_kept_with_its_day(tmp_path):
    """Each step is one change of the position, in the words of the roster and of the player's history."""
    with create_season(tmp_path / "season.db", players=[ODA], **FILES) as season:
        people, turned = season.people, replace(ODA, position=F, also=D)
        for after in (BOTH, turned, ODA):
            people.change([after], DAY, "t")
            assert people.players() == [after]
        changes = people.changes()
    steps = [("D", "D/F"), ("D/F", "F/D"), ("F/D", "D")]
    assert [(c.field, c.was, c.becomes) for c in changes] == [(RosterField.POSITION, *one) for one in steps]
    assert change_lines(changes[:1], [ODA], [BOTH]) == ["4 Oda Marsh: plays D/F (was D)"]
    assert history_lines(changes)[0] == "position D until Tuesday 13 January 2026, then D/F"


def test_a_file_of_version_six_knows_one_position_and_takes_two(tmp_path):
    """Nobody plays both after the migration, until it is said; a copy of the older file is kept."""
    path = tmp_path / "older.db"
    create_season(path, players=[ODA], **FILES).close()
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        back_to_version_eight(file)
        file.execute("ALTER TABLE player DROP COLUMN also")
        for table in PLAN_TABLES:
            file.execute(f"DROP TABLE {table}")
        newer = ("know_who_plays_both", "keep_plans_of_practices")
        file.executemany("DELETE FROM _sqlite_migrations WHERE name = ?", [(name,) for name in newer])
        file.execute("PRAGMA user_version = 6")
    with open_season(path) as season:
        assert season.people.players() == [ODA]
        season.people.change([BOTH], DAY, "t")
        assert season.people.players() == [BOTH]
    assert path.with_name(f"older.db.before-version-{SCHEMA_VERSION}").exists()


@pytest.mark.parametrize(("position", "also"), [("D", "D"), ("G", "F")])
def test_a_pair_that_cannot_be_is_damage(tmp_path, position, also):
    """The file's own check looks at one column; the reader looks at the pair."""
    path = tmp_path / "season.db"
    create_season(path, players=[ODA], **FILES).close()
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        file.execute("UPDATE player SET position = ?, also = ?", (position, also))
    with open_season(path) as season, pytest.raises(SeasonFileError, match="second position of a player"):
        season.people.players()
