"""The end of a practice: asked once, in the screen itself, with what is noted."""

from on_boards import both_ways_up, tap
from pressing import keys_of, press

from evaltrack.rink.tally import Outcome
from evaltrack.store.opening import open_season

NOTED = "3 tallies of 2 players, all saved"


def titles(driver):
    return [key.title for key in keys_of(driver)]


@both_ways_up
def test_the_end_is_asked_once_and_says_what_was_noted(bench, season_path):
    """One question in the screen, one answer, and home tells again what is saved."""
    for place in (0, 0, 4):
        tap(bench, place, Outcome.DONE)
    press(bench, "Practice")
    screen = bench.app.screens.current_screen
    press(bench, "End practice")
    assert screen.ending == f"End practice? {NOTED}."
    press(bench, "End it")
    home = bench.app.screens.current_screen
    assert (home.name, bench.app.desk.practice, bench.app.desk.ended) == (
        "home",
        None,
        f"The practice has ended: {NOTED}.",
    )
    assert bench.app.desk.message == ""
    with open_season(season_path) as season:
        assert season.practices.all()[0].ended_at is not None


def test_a_finger_that_comes_down_twice_does_not_end(bench):
    """Where the question was asked stands the key that takes it back; the practice runs on."""
    press(bench, "Practice")
    (key,) = [key for key in keys_of(bench) if key.title == "End practice"]
    bench.tap(key)
    assert bench.app.screens.current_screen.ending
    bench.tap(key)
    assert not bench.app.screens.current_screen.ending
    assert bench.app.desk.practice
    press(bench, "Back to the board")
    press(bench, "Practice")
    assert "End practice" in titles(bench)


def test_the_words_of_the_end_go_with_the_next_practice(bench):
    """What was saved is told until another practice begins; one that was left open is told alike."""
    desk = bench.app.desk
    tap(bench, 0, Outcome.DONE)
    desk.leave_open()
    assert desk.end_left_open()
    assert desk.ended == "The practice has ended: 1 tally of 1 player, all saved."
    desk.begin(desk.season.practices.all()[0].held_on, desk.players, "breakout_attack", "two_on_one", "Ines")
    assert desk.ended == ""
