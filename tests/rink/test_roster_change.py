"""Changes of the roster as facts, and who wore which number on which day."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.roster_change import NumbersWorn, RosterChange, RosterField, changes_between

FIRST = date(2025, 10, 1)
ODA = Player("4", "Oda Marsh", Position.DEFENCE, 2014)


@pytest.mark.parametrize(
    ("values", "field", "was", "becomes"),
    [
        ({"number": "12"}, RosterField.NUMBER, "4", "12"),
        ({"name": "Oda Marsh-Lind"}, RosterField.NAME, "Oda Marsh", "Oda Marsh-Lind"),
        ({"also": Position.FORWARD}, RosterField.POSITION, "D", "D/F"),
        ({"birth_year": None}, RosterField.BIRTH_YEAR, "2014", ""),
        ({"status": Status.AWAY, "away_until": date(2026, 1, 20)}, RosterField.STATUS, "full",
         "away until 2026-01-20"),
    ],
)  # fmt: skip
def test_what_became_another_is_one_change(values, field, was, becomes):
    """With its day and tablet, in the words of a roster's CSV; what stays the same is none."""
    (one,) = changes_between(ODA, replace(ODA, **values), FIRST, "bench")
    assert (one.player, one.field, one.was, one.becomes) == (ODA.id, field, was, becomes)
    assert (one.day, one.tablet) == (FIRST, "bench")
    assert (one.joins, one.leaves, one.returns) == (False, False, False)
    assert changes_between(ODA, ODA, FIRST) == []


def test_several_at_once_are_a_change_each():
    """In the order of the fields."""
    made = changes_between(ODA, replace(ODA, number="5", position=Position.GOALIE), FIRST)
    assert [(one.field, one.tablet) for one in made] == [(RosterField.NUMBER, ""), (RosterField.POSITION, "")]


def test_who_joins_leaves_and_returns():
    """Each is a change of the status, and only one of the three; a name of that word is none of them."""
    gone = replace(ODA, status=Status.LEFT)
    (joins,), (leaves,), (returns,) = (
        changes_between(before, after, FIRST) for before, after in ((None, ODA), (ODA, gone), (gone, ODA))
    )
    assert [(one.field, one.was, one.becomes) for one in (joins, leaves, returns)] == [
        (RosterField.STATUS, "", "full"),
        (RosterField.STATUS, "full", "left"),
        (RosterField.STATUS, "left", "full"),
    ]
    for number, one in enumerate((joins, leaves, returns)):
        assert [one.joins, one.leaves, one.returns] == [number == n for n in range(3)]
    (back,) = changes_between(replace(ODA, name="left"), replace(ODA, name="Oda"), FIRST)
    (named,) = changes_between(ODA, replace(ODA, name="left"), FIRST)
    (born,) = changes_between(replace(ODA, birth_year=None), ODA, FIRST)
    assert not any(one.returns or one.leaves or one.joins for one in (back, named, born))


ACTS = st.lists(
    st.tuples(st.integers(0, 3), st.sampled_from(["4", "7", "11", "left", "full"]), st.integers(0, 6)),
    max_size=14,
)


@given(ACTS)
def test_numbers_of_a_day_are_those_of_a_roster_kept_day_by_day(acts):
    """Any numbers and leavings, on days that only go on: asked of any day, the change of that day counts.

    The roster of each day is kept beside it in plain Python.
    """
    team = [Player(str(20 + n), f"Player {n}", Position.FORWARD) for n in range(4)]
    now, changes, day, kept = dict(enumerate(team)), [], FIRST, {}
    for who, what, later in acts:
        kept |= {day + timedelta(n): dict(now) for n in range(later + 1)}
        day += timedelta(later)
        after = replace(now[who], **({"number": what} if what.isdigit() else {"status": Status(what)}))
        worn = [one for n, one in now.items() if n != who and one.number == after.number]
        if any(one.status is not Status.LEFT for one in worn) and after.status is not Status.LEFT:
            continue  # a team has each number once
        changes += changes_between(now[who], after, day)
        now[who] = after
        kept[day] = dict(now)
    kept |= {day: dict(now), day + timedelta(9): dict(now)}
    kept[FIRST - timedelta(1)] = dict(enumerate(team))
    numbers = NumbersWorn(now.values(), changes)
    for when, roster in kept.items():
        assert {p.id: numbers.number(p.id, when) for p in team} == {p.id: p.number for p in roster.values()}
        here = {p.number: p.id for p in roster.values() if p.status is not Status.LEFT}
        assert numbers.wearers(when) == here


def test_who_joins_later_has_a_number_that_nobody_wore_yet():
    """Before the joining the number means them, unless somebody else wore it on that day."""
    kit, new = Player("7", "Kit Alder", Position.FORWARD), Player("9", "Juno Reed", Position.FORWARD)
    gone = replace(kit, status=Status.LEFT)
    heir = Player("7", "Ada Quill", Position.FORWARD)
    day = FIRST + timedelta(30)
    changes = [c for before, after in ((None, new), (kit, gone), (None, heir)) for c in
               changes_between(before, after, day)]  # fmt: skip
    for everyone in ([gone, new, heir], [heir, new, gone]):
        numbers = NumbersWorn(everyone, changes)
        assert numbers.wearers(FIRST) == {"7": kit.id, "9": new.id}
        assert numbers.wearers(day) == {"7": heir.id, "9": new.id}


def test_the_fields_are_those_that_season_files_have():
    """The names are kept in files; a change that was made on no tablet names none."""
    assert [*RosterField] == ["number", "name", "position", "birth_year", "status"]
    assert RosterChange(ODA.id, RosterField.NUMBER, "4", "5", FIRST).tablet == ""
