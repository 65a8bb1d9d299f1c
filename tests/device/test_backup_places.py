"""Which backups are kept, under whatever clock, and what is remembered of copies elsewhere."""

from datetime import date, datetime, timedelta
from pathlib import Path
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.device.backup_places import (
    DAMAGED,
    DAYS,
    LAST,
    WEEKS,
    Backup,
    Why,
    backups_folder,
    backups_of,
    copies_elsewhere,
    drop,
    next_place,
    note_elsewhere,
    to_drop,
)

SEASON = UUID(int=7)


def backup(number: int, day: date, why: Why = Why.PRACTICE) -> Backup:
    return Backup(number, day, 18, 30, why, Path(f"{number}.db"))


days = st.integers(0, 200).map(lambda n: date(2025, 9, 1) + timedelta(n))
clocks = st.lists(days | st.just(date(2010, 1, 1)), max_size=60)


@given(clocks)
def test_the_newest_are_kept_whatever_the_clock_says(clock):
    """The last five are never dropped, also with a clock that was set back for one of them, or for all."""
    made = [backup(n, day) for n, day in enumerate(clock)]
    assert not set(to_drop(made)) & set(made[-LAST:])


@given(clocks)
def test_few_are_kept_and_those_stay(clock):
    """No more than the rule says are kept, and to ask again drops no more."""
    made = [backup(n, day) for n, day in enumerate(clock)]
    kept = [one for one in made if one not in to_drop(made)]
    assert len(kept) <= LAST + DAYS + WEEKS
    assert to_drop(kept) == []


@given(clocks)
def test_each_of_the_last_days_has_its_last_backup(clock):
    """Day by day over the days that were last met, the last backup of the day is there."""
    made = [backup(n, day) for n, day in enumerate(clock)]
    kept = set(made) - set(to_drop(made))
    last_days = list(dict.fromkeys(one.day for one in reversed(made)))[:DAYS]
    for day in last_days:
        assert max(one for one in made if one.day == day) in kept


def test_a_season_of_practices_keeps_a_handful():
    """Two practices a week from September to March leave what is of 5, 7 days and 8 weeks."""
    held: list[Backup] = []
    for nth in range(56):
        held.append(backup(nth, date(2025, 9, 2) + timedelta(days=7 * (nth // 2) + 2 * (nth % 2))))
        gone = set(to_drop(held))
        held = [one for one in held if one not in gone]
    assert len(held) == 11
    assert held[0].day == date(2026, 1, 22)


def test_damaged_files_take_nobodys_place():
    """A few files that could not be read are kept beside the others, the last of them only."""
    made = [backup(n, date(2026, 1, 1), Why.DAMAGED) for n in range(10)]
    whole = [backup(n, date(2026, 1, 1)) for n in range(10, 13)]
    kept = set(made + whole) - set(to_drop(made + whole))
    assert kept == {*made[-DAMAGED:], *whole}


def test_numbers_go_on_and_names_are_read_again():
    """Each name holds number, day, time and reason; what is no backup in the folder is left alone."""
    folder = backups_folder(SEASON)
    folder.mkdir(parents=True)
    for why in Why:
        next_place(SEASON, why, datetime(2026, 1, 20, 18, 5)).touch()
    (folder / "000009-2026-13-40-1805-practice.db").touch()
    (folder / "notes.txt").touch()
    found = backups_of(SEASON)
    assert [one.number for one in found] == list(range(len(Why), 0, -1))
    assert {(one.day, one.clock) for one in found} == {(date(2026, 1, 20), "18:05")}
    assert {one.why for one in found} == set(Why)
    assert drop(found) == [] == backups_of(SEASON)
    assert (folder / "notes.txt").exists()


def test_copies_elsewhere_are_remembered_in_order_and_each_once():
    """One that is written again is the newest; whether a stick is there is not asked."""
    now = datetime(2026, 1, 20, 18)
    for name in ("a", "b", "a"):
        note_elsewhere(SEASON, Path("/media/stick") / name, name == "a", now)
    found = copies_elsewhere(SEASON)
    assert [(copy.path.name, copy.sealed, copy.day) for copy in found] == [
        ("b", False, "2026-01-20"),
        ("a", True, "2026-01-20"),
    ]


@pytest.mark.parametrize(
    "content", ["", "[]", '{"a": 1}', '{"a": ["2026-01-20"]}', '{"a": [1, true]}', "{" * 2000]
)
def test_a_broken_list_is_none(content):
    folder = backups_folder(SEASON)
    folder.mkdir(parents=True)
    (folder / "elsewhere.json").write_text(content)
    assert copies_elsewhere(SEASON) == []
