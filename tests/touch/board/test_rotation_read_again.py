"""The board by rep when the season file has to be opened again in the midst of a touch.

The connection has met a failing disk, or the journal was deleted; then the next thing that is done is a tap,
a correction, the next rep, undo or going back. What is shown and what is on disk are the same afterwards, and
the touch has done what it meant, or nothing where a choice of players was open.
"""

import os
from contextlib import suppress

import pytest
from on_boards import board_of, in_slots, screen_of, tap, tap_key, tile_of
from pressing import press
from seasons_for_touch import new_season

from evaltrack.rink.rotation.running import replay
from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season

DONE = Outcome.DONE


def unsound(desk):
    """Let the connection have met a failing disk."""
    desk.season._connection.unsound = True


def without_journal(desk):
    """Delete the journal beside the season file."""
    os.unlink(f"{desk.season.path}-wal")


posix = pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file in its place")
TROUBLES = [
    pytest.param(unsound, id="unsound"),
    pytest.param(without_journal, id="journal deleted", marks=posix),
]


def following(screen):
    return next(i for i, tile in enumerate(screen.board._tiles) if tile.following)


ACTS = {
    "this rep": lambda screen: screen.tally(0, DONE),
    "the next rep's tile": lambda screen: screen.tally(following(screen), DONE),
    "next rep": lambda screen: screen.next_rep(),
    "undo": lambda screen: screen.undo(),
    "undo twice": lambda screen: [screen.undo(), screen.undo()],
    "undo and redo": lambda screen: [screen.undo(), screen.redo()],
    "plate": lambda screen: screen.press(1),
}


def shown(screen):
    """Return what stands on the board, and what can be taken back."""
    rotation = screen.board._bench.rotation
    return screen.words[0], rotation.slots, rotation.queues, screen.board.can_go_back, screen.undoes


def on_disk(desk):
    """Return the slots and the rep of the line that the file has."""
    with open_season(desk.season.path) as season:
        line = replay(desk.drills, season.reps.facts(desk.practice.key, desk.tablet.id))
    return line.rotation.slots, line.rotation.rep, line.rep.id


def played(driver):
    """Play a little by rep: a rep, a tally that begins another, a slot that is put right."""
    press(driver, "By rep")
    screen = screen_of(driver)
    screen.next_rep()
    screen.tally(following(screen), DONE)
    screen.press(1)
    screen.press(len(screen.board._slots) + 2)
    driver.frames(2)
    return screen


@pytest.mark.parametrize("trouble", TROUBLES)
@pytest.mark.parametrize("act", ACTS)
def test_the_touch_that_meets_it_does_what_it_does_elsewhere(start_bench, tmp_path, trouble, act):
    """A file opened again for a touch leaves what the same touch leaves on a file that is well."""
    left = []
    for name, meets in (("well.db", None), ("unwell.db", trouble)):
        driver = start_bench(new_season(tmp_path / name))
        screen, desk = played(driver), driver.app.desk
        board = screen.board
        if meets:
            meets(desk)
        ACTS[act](screen)
        driver.frames(2)
        assert (screen.board is board) == (meets is None)
        assert "not saved" not in desk.message
        line = screen.board._bench
        assert on_disk(desk) == (line.rotation.slots, line.rotation.rep, line.rep.id)
        left.append((in_slots(driver), *shown(screen)[3:], screen.words, screen.board.choosing, desk.total))
        driver.close()
    assert left[0] == left[1]


@pytest.mark.parametrize("trouble", TROUBLES)
def test_a_choice_that_was_open_is_closed_and_nothing_is_put_right(bench, trouble):
    """A key of a choice that is no longer on the board does nothing; the next two taps do."""
    screen, desk = played(bench), bench.app.desk
    before, plates = shown(screen), len(screen.board._slots)
    screen.press(2)
    trouble(desk)
    screen.press(plates + 1)
    bench.frames(2)
    assert (shown(screen), screen.board.choosing) == (before, "")
    screen.press(2)
    screen.press(plates + 1)
    assert shown(screen) != before


@pytest.mark.parametrize("trouble", TROUBLES)
def test_a_tap_while_a_choice_is_open_counts(bench, trouble):
    """No tap waits for an answer: the tile that stays means the same without the choice."""
    screen, desk = played(bench), bench.app.desk
    screen.press(1)
    trouble(desk)
    screen.tally(0, DONE)
    assert (desk.total, desk.last(1)[0].slot, screen.board.choosing) == (2, "goal", "")


def test_a_line_that_was_opened_anew_elsewhere_is_not_written_to(bench):
    """A board of before the file was opened again changes nothing: what it shows is not on disk."""
    screen, desk = played(bench), bench.app.desk
    old, before = screen.board, on_disk(desk)
    unsound(desk)
    assert not old._bench.next_rep()
    assert desk.message == "not saved: the season file was opened anew; please tap once more"
    assert on_disk(desk) == before
    screen.next_rep()
    assert desk.message == ""
    assert on_disk(desk)[1] == before[1] + 1


@posix
def test_a_file_that_came_back_older_takes_no_tap_that_was_meant_for_another_rep(bench, season_path):
    """The journal's last changes are gone with it: the finger meant a rep that the file does not have."""
    press(bench, "By rep")
    screen, desk = screen_of(bench), bench.app.desk
    before = in_slots(bench)
    desk.season._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    older = season_path.read_bytes()
    screen.next_rep()
    bench.frames(2)
    place = tile_of(
        bench, next(p for p in desk.players if p.number == in_slots(bench)["Wall F"]), "shot_on_net"
    )
    for ending in ("", "-wal", "-shm"):
        with suppress(FileNotFoundError):
            os.rename(f"{season_path}{ending}", f"{season_path}.away{ending}")
    season_path.write_bytes(older)
    tap(bench, place, DONE)
    bench.settle()
    assert (in_slots(bench), screen.words[0], desk.total) == (before, "Rep 1", 0)
    tap(bench, place, DONE)
    assert desk.total == 1
    tap_key(bench, before["Breakout D"])
    assert board_of(bench).buttons
