"""The key of the step: onward through the drill, and back to the first one only on purpose."""

from on_boards import both_ways_up, screen_of, tap
from pressing import keys_of, press

from evaltrack.rink.tally import Outcome


def at(driver):
    return driver.app.desk.station.step


def to_the_last(driver):
    """Go on to the last step of the drill with the key."""
    for title in ("2 against 1", "3 against 1"):
        press(driver, title)
    assert at(driver) == driver.app.desk.drill.steps[-1].key


@both_ways_up
def test_the_last_step_says_so_and_the_first_is_two_taps_away(bench):
    """Behind the last step the key asks, lit, and goes back only when it is told again."""
    screen = screen_of(bench)
    assert screen.after == "step 1 of 3"
    to_the_last(bench)
    assert screen.after == "step 3, the last"
    last = at(bench)
    press(bench, "Two regroups")
    (key,) = [key for key in keys_of(bench) if key.title == "Back to step 1?"]
    assert (at(bench), key.active, key.small) == (last, True, "tap again")
    press(bench, "Back to step 1?")
    assert (at(bench), screen.after, screen.asks_first) == ("two_on_one", "step 1 of 3", False)


def test_whoever_goes_on_tallying_has_not_meant_it(bench):
    """A tally, another board, another skill take the question back; so does leaving the board."""
    to_the_last(bench)
    screen, last = screen_of(bench), at(bench)
    for other in (
        lambda: tap(bench, 0, Outcome.DONE),
        lambda: press(bench, "Player"),
        lambda: press(bench, "Pressure"),
        lambda: press(bench, "Undo"),
        lambda: [press(bench, "Practice"), press(bench, "Back to the board")],
    ):
        press(bench, "Two regroups")
        assert screen.asks_first
        other()
        assert (screen.asks_first, at(bench)) == (False, last)


def test_the_keyboard_asks_too(bench):
    """S goes on, asks behind the last step, and goes back when it is pressed once more."""
    for _ in range(3):
        bench.key(ord("s"), "s")
    assert (screen_of(bench).asks_first, at(bench)) == (True, "two_regroups")
    bench.key(ord("s"), "s")
    assert at(bench) == "two_on_one"


def test_a_drill_of_one_step_asks_nothing(bench):
    """There is nowhere to go: the key stays as it is."""
    desk = bench.app.desk
    drill = next((drill for drill in desk.drills if len(drill.steps) == 1), None)
    if drill is None:
        from dataclasses import replace

        drill = replace(desk.drill, key="own", name="Own", steps=desk.drill.steps[:1])
        desk.season.catalogue.write([], [drill])
        desk.drills = (*desk.drills, drill)
    assert desk.run(drill.key, drill.steps[0].key)
    screen_of(bench).next_step()
    assert (screen_of(bench).asks_first, at(bench)) == (False, drill.steps[0].key)
