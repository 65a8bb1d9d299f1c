"""Plans are kept with the season: as they are, each change beside what was before, in old files too."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from lanterns_season import PLAYERS
from older_files import back_to_version_eight
from planned_cards import DAY, card, cards

from evaltrack.errors import SeasonFileError
from evaltrack.rink.plan_changes import lengthened
from evaltrack.store.opening import open_season
from evaltrack.store.schema import SCHEMA_VERSION

TABLES = ("ice_time", "plan_reason", "plan_look", "plan_place", "plan_station", "plan_block", "practice_plan")
DAMAGE = [
    ("practice_plan", "day", "soon"),
    ("practice_plan", "stations", 0),
    ("practice_plan", "band_low", 0),
    ("plan_block", "minutes", -1),
    ("plan_block", "skills", "x" * 20_001),
    ("plan_block", "fewest", 1e300),
    ("plan_block", "drill", "two words"),
    ("plan_station", "step", ""),
    ("plan_place", "station", 2),
    ("plan_place", "player", bytes(16)),
    ("plan_look", "block", 4),
    ("plan_look", "player", bytes(16)),
    ("plan_reason", "words", "x" * 2_001),
]


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=40)
@given(one=cards())
def test_a_plan_is_read_as_it_was_kept(season, one):
    """Whatever its blocks, groups, reasons and locks."""
    season.plans.add(one, "bench")
    assert season.plans.last() == one


def test_every_change_is_kept_and_the_last_one_is_in_force(season):
    """Nothing is written over; a practice has the plan that it was started from, as it was at last."""
    first = card()
    changed = lengthened(first, 1, 1)
    begun = replace(changed, practice="2025-10-11")
    for one in (first, changed, begun, card(DAY + timedelta(2))):
        season.plans.add(one, "bench")
    assert season.plans.of_day(DAY) == [first, changed, begun]
    assert season.plans.last() == card(DAY + timedelta(2))
    assert season.plans.of_practice("2025-10-11") == begun
    assert season.plans.of_practice("2025-10-04") is None


def test_the_groups_of_the_plan_before_are_told_by_the_numbers_of_now(season):
    """Of earlier days only, and those of the last one."""
    assert season.plans.groups_before(DAY) == ()
    season.plans.add(card(DAY - timedelta(2)))
    season.plans.add(card(DAY))
    numbers = [player.number for player in PLAYERS]
    expected = (frozenset(numbers[::2]), frozenset(numbers[1::2]))
    assert season.plans.groups_before(DAY) == expected
    season.people.change([replace(PLAYERS[0], number="19")], date(2026, 1, 19), "t")
    assert season.plans.groups_before(DAY)[0] == expected[0] - {"10"} | {"19"}


def test_a_file_of_version_seven_has_no_plan_and_takes_one(season_path):
    """Its rows are as they were; a copy of the older file is kept."""
    with open_season(season_path) as season:
        players = season.people.players()
    with closing(sqlite3.connect(season_path, isolation_level=None)) as file:
        back_to_version_eight(file)
        for table in TABLES:
            file.execute(f"DROP TABLE {table}")
        file.execute("DELETE FROM _sqlite_migrations WHERE name = 'keep_plans_of_practices'")
        file.execute("PRAGMA user_version = 7")
    with open_season(season_path) as season:
        assert season.plans.last() is None
        season.plans.add(card())
        assert (season.plans.last(), season.people.players()) == (card(), players)
    assert season_path.with_name(f"lanterns.db.before-version-{SCHEMA_VERSION}").exists()


@pytest.mark.parametrize(("table", "column", "value"), DAMAGE)
def test_what_evaltrack_would_not_have_written_is_damage(season_path, table, column, value):
    """One sentence says so, whichever value it is."""
    with open_season(season_path) as season:
        season.plans.add(card())
    with closing(sqlite3.connect(season_path)) as file, file:
        rows = file.execute(f"SELECT nth FROM {table}").fetchall()
        key = {"plan_place": "player", "plan_station": "station", "practice_plan": "nth"}.get(table, "place")
        file.execute(
            f"UPDATE {table} SET {column} = ? WHERE {key} = (SELECT max({key}) FROM {table})", (value,)
        )
        assert rows
    with open_season(season_path) as season, pytest.raises(SeasonFileError, match="is damaged"):
        season.plans.last()
