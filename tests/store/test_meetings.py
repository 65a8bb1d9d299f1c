"""Evenings of meetings are kept with the season: each change beside what was before, in old files too."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from invented_evenings import DAY, START
from lanterns_season import PLAYERS
from older_files import make_older

from evaltrack.errors import SeasonFileError
from evaltrack.rink.meeting_evening import (
    OF_A_TIME,
    OF_ANOTHER,
    Break,
    Evening,
    MeetingSlot,
    MeetingWish,
    MeetingWishKind,
    clock_of,
)
from evaltrack.store.opening import open_season
from evaltrack.store.schema import SCHEMA_VERSION

IDS = [player.id for player in PLAYERS]
ONE = Evening(
    "k",
    DAY,
    START,
    breaks=(Break(time(19), time(19, 10)),),
    until=time(21),
    place="Room 2",
    wishes=(
        MeetingWish(MeetingWishKind.TABLE, IDS[0], table=2),
        MeetingWish(MeetingWishKind.SIBLING, IDS[1], other=IDS[2]),
    ),
    slots={IDS[0]: MeetingSlot(START, 1, True, "a-uid"), IDS[1]: MeetingSlot(time(18, 12), 1)},
)
DAMAGE = [
    ("meeting_evening", "day", "soon"),
    ("meeting_evening", "start", "18:5"),
    ("meeting_evening", "tables", 9),
    ("meeting_evening", "minutes", 61),
    ("meeting_evening", "breaks", "19:10-19:00"),
    ("meeting_evening", "breaks", "noon"),
    ("meeting_evening", "until", "late"),
    ("meeting_evening", "evening", ""),
    ("meeting_evening", "place", "x" * 201),
    ("meeting_wish", "player", bytes(16)),
    ("meeting_wish", "other", bytes(16)),
    ("meeting_wish", "value", "18:00"),
    ("meeting_wish", "kind", "not coming"),
    ("meeting_slot", "player", bytes(16)),
    ("meeting_slot", "start", "25:00"),
    ("meeting_slot", "at_table", 0),
    ("meeting_slot", "uid", "two words"),
]
clocks = st.integers(0, 24 * 60 - 1).map(clock_of)


@st.composite
def wishes(draw):
    kind = draw(st.sampled_from(list(MeetingWishKind)))
    own, other = draw(st.lists(st.sampled_from(IDS), min_size=2, max_size=2, unique=True))
    return MeetingWish(
        kind,
        own,
        other if kind in OF_ANOTHER else None,
        draw(clocks) if kind in OF_A_TIME else None,
        draw(st.integers(1, 8)) if kind is MeetingWishKind.TABLE else None,
    )


slots = st.builds(MeetingSlot, clocks, st.integers(1, 8), st.booleans(), st.sampled_from(["", "a-uid"]))
evenings = st.builds(
    Evening,
    st.just("k"),
    st.just(DAY),
    clocks,
    st.integers(5, 60),
    st.integers(1, 8),
    st.lists(st.lists(clocks, min_size=2, max_size=2, unique=True).map(sorted), max_size=3).map(
        lambda ends: tuple(Break(*one) for one in ends)
    ),
    st.none() | clocks,
    st.sampled_from(["", "The rink, room 2"]),
    st.lists(wishes(), max_size=6).map(tuple),
    st.dictionaries(st.sampled_from(IDS), slots, max_size=6),
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=40)
@given(one=evenings)
def test_an_evening_is_read_as_it_was_kept(season, one):
    """Whatever its breaks, wishes, meetings and locks."""
    season.meetings.add(one, "bench")
    assert season.meetings.last() == one


def test_every_change_is_kept_and_the_last_one_is_in_force(season):
    """Nothing is written over; who came is told by the last word on each family."""
    meetings = season.meetings
    assert (meetings.last(), meetings.of("k")) == (None, [])
    changed, other = replace(ONE, tables=2), replace(ONE, key="m")
    for one in (ONE, other, changed):
        meetings.add(one, "bench")
    assert meetings.last() == changed
    assert meetings.of("k") == [ONE, changed]
    assert meetings.all() == [changed, other]
    for player, came in ((IDS[0], True), (IDS[1], True), (IDS[0], False)):
        meetings.note_came("k", player, came, "bench")
    assert meetings.who_came("k") == {IDS[1]}
    assert meetings.who_came("m") == frozenset()


def test_a_file_of_version_eight_has_no_evening_and_takes_one(season_path):
    """Its rows are as they were; a copy of the older file is kept."""
    with open_season(season_path) as season:
        players = season.people.players()
    make_older(season_path, 8)
    with open_season(season_path) as season:
        assert season.meetings.last() is None
        season.meetings.add(ONE)
        assert (season.meetings.last(), season.people.players()) == (ONE, players)
    assert season_path.with_name(f"lanterns.db.before-version-{SCHEMA_VERSION}").exists()


@pytest.mark.parametrize(("table", "column", "value"), DAMAGE)
def test_what_evaltrack_would_not_have_written_is_damage(season_path, table, column, value):
    """One sentence says so, whichever value it is."""
    with open_season(season_path) as season:
        season.meetings.add(ONE)
    with closing(sqlite3.connect(season_path)) as file, file:
        key = {"meeting_evening": "nth", "meeting_wish": "place", "meeting_slot": "player"}[table]
        changed = file.execute(
            f"UPDATE {table} SET {column} = ? WHERE {key} = (SELECT max({key}) FROM {table})", (value,)
        )
        assert changed.rowcount == 1
    with open_season(season_path) as season, pytest.raises(SeasonFileError, match="is damaged"):
        season.meetings.last()


def test_a_mark_of_nobody_is_damage(season_path):
    """Who came must be on the roster, or have been."""
    with open_season(season_path) as season:
        season.meetings.note_came("k", IDS[0], True)
    with closing(sqlite3.connect(season_path)) as file, file:
        file.execute("UPDATE meeting_came SET player = ?", (bytes(16),))
    with open_season(season_path) as season, pytest.raises(SeasonFileError, match="who came to a meeting"):
        season.meetings.who_came("k")
