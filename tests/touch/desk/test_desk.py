"""The desk, without a window: begin, tally, undo, late and hurt players, resume, a failing write."""

import os
import shutil
from datetime import date

import pytest

from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season
from evaltrack.touch.desk.desk import Desk

TODAY = date(2026, 1, 13)


@pytest.fixture
def desk(season_path):
    """Return a desk with everyone but the last player at practice, in the first step of the breakout."""
    desk = Desk()
    assert desk.open(season_path), desk.message
    assert desk.begin(TODAY, desk.players[:-1], "breakout_attack", "two_on_one", "Ines")
    yield desk
    desk.close()


def test_a_tally_is_on_disk_before_it_is_counted(desk, season_path):
    """What the desk counts can be read by another connection at once."""
    player = desk.players[2]
    desk.tally(player.id, Outcome.DONE)
    with open_season(season_path) as other:
        (tally,) = other.log.tallies()
    assert (tally.player, tally.outcome, tally.observer) == (player.id, Outcome.DONE, "Ines")
    assert desk.count(player.id, Outcome.DONE) == 1


def test_undo_takes_back_one_after_the_other_and_stops_at_none(desk, season_path):
    """Undo can be pressed again and again; the log keeps the facts, the cells forget them."""
    for player in desk.players[:3]:
        desk.tally(player.id, Outcome.MISSED)
    undone = [desk.undo().player for _ in range(3)]
    assert undone == [player.id for player in desk.players[2::-1]]
    assert desk.undo() is None
    with open_season(season_path) as other:
        assert other.log.cells() == []


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file in its place")
def test_undo_takes_back_the_last_tally_of_the_file_that_came_back(desk, season_path):
    """When a file comes back as it was a tap earlier, undo and the count are of what stands in it."""
    first, second = desk.players[:2]
    desk.tally(first.id, Outcome.DONE)
    names = [season_path, season_path.with_name(f"{season_path.name}-wal")]
    copies = [shutil.copy(name, name.with_name(f"earlier-{name.name}")) for name in names]
    desk.tally(second.id, Outcome.MISSED)
    for copy, name in zip(copies, names, strict=True):
        name.unlink()
        copy.rename(name)
    assert desk.undo().player == first.id
    assert (desk.total, desk.undo()) == (0, None)
    with open_season(season_path) as other:
        assert other.log.tallies() == []


def test_a_new_desk_goes_on_where_the_old_one_was(desk, season_path):
    """After a crash the practice, the step, the skill, the pressure, the counts and the undo are back."""
    desk.next_step()
    desk.watch(skill="outlet_pass", pressure=True)
    desk.tally(desk.players[0].id, Outcome.DONE)
    again = Desk()
    again.open(season_path)
    assert (again.practice, again.station) == (desk.practice, desk.station)
    assert again.count(desk.players[0].id, Outcome.DONE) == 1
    assert again.undo().player == desk.players[0].id
    again.close()


def test_late_and_hurt_players_move_nobody(desk):
    """Who leaves keeps their place, who comes late gets the next free one, all others stay."""
    before = {ident: a.place for ident, a in desk.attendance.items()}
    hurt, late = desk.players[4], desk.players[-1]
    desk.arrange([p for p in desk.players if p != hurt])
    after = {ident: a.place for ident, a in desk.attendance.items()}
    assert {ident: after[ident] for ident in before} == before
    assert after[late.id] == len(before)
    assert not desk.attendance[hurt.id].here


def test_a_failing_write_is_told_and_not_counted(desk, season_path):
    """While another program holds the file, a tap gives a sentence and no count; afterwards it works."""
    with open_season(season_path) as other:
        other._connection.execute("BEGIN IMMEDIATE")
        assert desk.tally(desk.players[0].id, Outcome.DONE) is None
        assert "not saved" in desk.message
        assert desk.count(desk.players[0].id, Outcome.DONE) == 0
        other._connection.execute("ROLLBACK")
    assert desk.tally(desk.players[0].id, Outcome.DONE)
    assert (desk.message, desk.total) == ("", 1)


def test_the_next_step_ends_with_the_last_and_keeps_a_skill_that_is_watched_there(desk):
    """Next step goes through the drill and no further; a skill of both steps stays chosen."""
    keys = []
    for _ in desk.drill.steps:
        keys.append(desk.station.step)
        assert desk.next_step() == (len(keys) < len(desk.drill.steps))
        assert desk.station.skill in desk.step.skills
    assert keys == [step.key for step in desk.drill.steps]
    assert desk.station.step == keys[-1]
    assert desk.first_step()
    assert desk.station.step == keys[0]


def test_a_file_that_is_not_a_season_is_refused_in_a_sentence(tmp_path):
    """Opening something else leaves the desk empty and says why."""
    (tmp_path / "list.db").write_text("milk, bread")
    desk = Desk()
    assert not desk.open(tmp_path / "list.db")
    assert desk.season is None
    assert "not a season file" in desk.message


def test_ending_and_going_on_the_same_day_is_one_practice(desk):
    """A practice ended by mistake goes on with its tallies when it is started again that day."""
    desk.tally(desk.players[0].id, Outcome.DONE)
    desk.end()
    assert desk.practice is None
    desk.begin(TODAY, desk.players, "breakout_attack", "two_on_one", "Ines")
    assert desk.count(desk.players[0].id, Outcome.DONE) == 1
    assert len(desk.season.practices.all()) == 1
