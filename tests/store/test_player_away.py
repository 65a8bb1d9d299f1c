"""Who is away until a day: on which days, in a roster.csv, and in a file of an older version."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from older_files import back_to_version_eight

from evaltrack.errors import IntakeError
from evaltrack.intake.roster import read_roster, roster_text
from evaltrack.rink.player import Player, Position, Status, likely_present, status_in
from evaltrack.rink.roster_change import changes_between
from evaltrack.store.creating import create_season
from evaltrack.store.opening import open_season
from evaltrack.store.schema import SCHEMA_VERSION
from evaltrack.words.roster import change_lines
from evaltrack.words.status import status_words

ODA = Player("4", "Oda Marsh", Position.DEFENCE)
PLANS = ("ice_time", "plan_reason", "plan_look", "plan_place", "plan_station", "plan_block")
BACK = date(2026, 1, 20)
AWAY = replace(ODA, status=Status.AWAY, away_until=BACK)


@given(st.dates(), st.dates(), st.sampled_from([Status.FULL, Status.LIMITED, Status.AWAY, Status.LEFT]))
def test_away_before_the_day_and_here_from_it_on(until, on, status):
    """Of all statuses only away has days; who has left is never likely to be here."""
    player = replace(ODA, status=status, away_until=until if status is Status.AWAY else None)
    assert player.is_away(on) == (status is Status.AWAY and on < until)
    assert (player in likely_present([player], on)) == (status is not Status.LEFT and not player.is_away(on))
    assert replace(player, away_until=None).is_away(on) == (status is Status.AWAY)
    assert status_in(player.status_text) == (player.status, player.away_until)


@pytest.mark.parametrize(
    ("today", "words"),
    [(19, "away until Tue 20 Jan"), (20, "back since Tue 20 Jan"), (29, "back since Tue 20 Jan")],
)
def test_the_day_is_told_before_it_and_after_it(today, words):
    """Nobody has to change the roster on the day itself."""
    assert status_words(AWAY, date(2026, 1, today)) == words


def test_a_roster_file_says_it_and_is_read_back(tmp_path):
    """The status of a CSV has the day in it; another word in its place is complained of."""
    path = tmp_path / "roster.csv"
    path.write_text(roster_text([AWAY]), encoding="utf-8")
    assert "away until 2026-01-20" in path.read_text("utf-8")
    assert read_roster(path) == [AWAY]
    path.write_text("number,name,position,status\n4,Oda Marsh,D,Away  Until 2026-01-20\n", encoding="utf-8")
    assert read_roster(path) == [AWAY]
    path.write_text("number,name,position,status\n4,Oda Marsh,D,away until Tuesday\n", encoding="utf-8")
    with pytest.raises(IntakeError, match="write it like away until 2026-01-20"):
        read_roster(path)


def test_a_change_of_it_is_kept_and_told(tmp_path):
    """The day is in the season file, and in the words of what changed."""
    files = {"team": "Kettle Bay Lanterns", "age_class": "12U", "skills": [], "drills": []}
    with create_season(tmp_path / "season.db", players=[ODA], **files) as season:
        made = season.people.change([AWAY], BACK - timedelta(7), "t")
        assert season.people.players() == [AWAY]
        assert season.people.changes() == made
        (expected,) = changes_between(ODA, AWAY, BACK - timedelta(7), "t")
        assert made == [replace(expected, at=made[0].at)]
    said = change_lines(made, [ODA], [AWAY])
    assert said == ["4 Oda Marsh: is away until Tuesday 20 January 2026"]


def test_a_file_of_version_five_knows_no_day_and_takes_one(tmp_path):
    """Who was away is away without a day after the migration; a copy of the older file is kept."""
    path = tmp_path / "older.db"
    files = {"team": "Kettle Bay Lanterns", "age_class": "12U", "skills": [], "drills": []}
    create_season(path, players=[replace(ODA, status=Status.AWAY)], **files).close()
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        back_to_version_eight(file)
        for table in (*PLANS, "practice_plan"):
            file.execute(f"DROP TABLE {table}")
        for column in ("player.also", "player.away_until", "step.surface", "slot.along", "slot.across"):
            file.execute("ALTER TABLE {} DROP COLUMN {}".format(*column.split(".")))
        newer = ("plan_steps_and_absences", "know_who_plays_both", "keep_plans_of_practices")
        file.executemany("DELETE FROM _sqlite_migrations WHERE name = ?", [(name,) for name in newer])
        file.execute("PRAGMA user_version = 5")
    with open_season(path) as season:
        assert season.people.players() == [replace(ODA, status=Status.AWAY)]
        season.people.change([AWAY], BACK, "t")
        assert season.people.players() == [AWAY]
    assert path.with_name(f"older.db.before-version-{SCHEMA_VERSION}").exists()
