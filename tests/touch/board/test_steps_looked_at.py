"""Another step or drill at the board by rep: looking at it moves nobody, what is done in it keeps it."""

from on_boards import board_of, correct, in_slots, key_titled, screen_of, tap, tap_key
from pressing import press

from evaltrack.rink.tally import Outcome

DONE = Outcome.DONE


def kept_facts(driver):
    """Return what the file has of the line."""
    desk = driver.app.desk
    return desk.season.reps.facts(desk.practice.key, desk.tablet.id)


def test_looking_through_the_steps_moves_nobody(bench, drive, season_path):
    """All the steps round, also after a restart: the slots, the rep and undo are as they were."""
    press(bench, "By rep")
    press(bench, "Next rep")
    tap(bench, 0, DONE)
    before, facts = in_slots(bench), kept_facts(bench)
    press(bench, "2 against 1")
    looked_at, words = in_slots(bench), screen_of(bench).words
    assert looked_at != before
    assert not screen_of(bench).board.can_go_back
    bench.close()
    again = drive(season_path)
    again.settle()
    assert (in_slots(again), screen_of(again).words) == (looked_at, words)
    press(again, "3 against 1")
    press(again, "Two regroups")
    press(again, "Back to step 1?")
    assert (in_slots(again), screen_of(again).words[0]) == (before, "Rep 2")
    assert kept_facts(again) == facts
    assert screen_of(again).board.can_go_back


def test_the_first_tally_of_a_step_keeps_it_and_its_undo_does_not(bench):
    """The step that was looked at begins with the tally; taken back, everyone is where they were."""
    press(bench, "By rep")
    tap(bench, 0, DONE)
    before, facts = in_slots(bench), kept_facts(bench)
    press(bench, "2 against 1")
    looked_at = in_slots(bench)
    tap(bench, 1, DONE)
    assert in_slots(bench) == looked_at
    (tally,) = bench.app.desk.last(1)
    assert [fact.change for fact in kept_facts(bench)[len(facts) :]] == ["step"]
    assert (tally.rep, tally.at) == (kept_facts(bench)[-1].rep, kept_facts(bench)[-1].at)
    press(bench, "Undo")
    assert in_slots(bench) == looked_at
    press(bench, "3 against 1")
    press(bench, "Two regroups")
    press(bench, "Back to step 1?")
    assert (in_slots(bench), screen_of(bench).words[0]) == (before, "Rep 1")


def test_who_comes_next_in_a_step_that_was_looked_at_is_undone_in_one_go(bench):
    """A tap on the row below begins the step and its second rep; one undo takes both back."""
    press(bench, "By rep")
    tap(bench, 0, DONE)
    before = in_slots(bench)
    press(bench, "2 against 1")
    screen, looked_at = screen_of(bench), in_slots(bench)
    tap(bench, next(i for i in board_of(bench).layout.tiles if screen.board._tiles[i].following), DONE)
    assert screen.words[0] == "Rep 3"
    press(bench, "Undo")
    assert (in_slots(bench), screen.words[0]) == (looked_at, "Rep 2")
    bench.app.desk.run("breakout_attack", "two_on_one")
    bench.settle()
    assert in_slots(bench) == before


def test_an_undo_while_a_step_is_looked_at(bench):
    """Without its only tally the rep before was not played: the step would begin with others."""
    press(bench, "By rep")
    press(bench, "2 against 1")
    not_played = in_slots(bench)
    press(bench, "3 against 1")
    press(bench, "Two regroups")
    press(bench, "Back to step 1?")
    tap(bench, 0, DONE)
    press(bench, "2 against 1")
    assert in_slots(bench) != not_played
    press(bench, "Undo")
    assert in_slots(bench) == not_played


def test_an_undo_takes_no_rep_back_that_began_by_a_key(bench):
    """Only a rep that began with the tally goes with it."""
    press(bench, "By rep")
    press(bench, "Next rep")
    before, facts = in_slots(bench), kept_facts(bench)
    tap(bench, 0, DONE)
    press(bench, "Undo")
    assert (in_slots(bench), screen_of(bench).words[0]) == (before, "Rep 2")
    assert kept_facts(bench) == facts


def test_a_slot_put_right_in_a_step_that_was_looked_at(bench):
    """The step is kept with it, and undo takes the correction alone back."""
    press(bench, "By rep")
    tap(bench, 0, DONE)
    press(bench, "2 against 1")
    before = in_slots(bench)
    correct(bench, "Breakout D", "20")
    assert in_slots(bench)["Breakout D"] == "20"
    press(bench, "Undo")
    assert in_slots(bench) == before


def test_off_and_late_in_a_step_that_was_looked_at(bench):
    """Only the slot in question changes: the step is kept before the player goes."""
    press(bench, "By rep")
    tap(bench, 0, DONE)
    press(bench, "2 against 1")
    before = in_slots(bench)
    tap_key(bench, before["Line D"])
    key_titled(bench, "off the ice")
    after = in_slots(bench)
    assert {slot for slot in before if before[slot] != after[slot]} == {"Line D"}
    tap_key(bench, after["Line D"])
    key_titled(
        bench, next(k.title for k in board_of(bench).buttons if k.number == before["Line D"]), "comes now"
    )
    assert in_slots(bench) == before


def test_a_drill_begins_with_rep_one(bench, drive, season_path):
    """Each drill is counted from 1, an earlier one again, also after a restart; steps of a drill count on."""
    press(bench, "By rep")
    for _ in range(6):
        press(bench, "Next rep")
    tap(bench, 0, DONE)
    screen, desk, told = screen_of(bench), bench.app.desk, []
    for drill, step in (
        ("stops_starts", "on_lines"),
        ("stops_starts", "on_whistle"),
        ("breakout_attack", "two_on_one"),
    ):
        desk.run(drill, step)
        bench.settle()
        told.append(screen.words[0])
        tap(bench, 0, DONE)
        press(bench, "Next rep")
        told.append(screen.words[0])
        tap(bench, 0, DONE)
    assert told == ["Rep 1", "Rep 2", "Rep 3", "Rep 4", "Rep 1", "Rep 2"]
    bench.close()
    again = drive(season_path)
    again.settle()
    assert screen_of(again).words[0] == "Rep 2"
