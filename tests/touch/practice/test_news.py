"""What was told is read on the screen where it was told, and goes when that screen is left."""

import pytest
from on_boards import tap
from pressing import press

from evaltrack.language import Language, speaking, tr
from evaltrack.rink.tally import Outcome
from evaltrack.touch.desk.season_in_hand import NOT_WHOLE

TOLD = "2 tallies could not be matched."


def told(driver) -> set[str]:
    """Return every text on the screen in front."""
    driver.settle()
    return {getattr(part, "text", "") for part in driver.app.screens.current_screen.walk(restrict=True)}


def ended(driver) -> None:
    """End the practice on the board after one tally."""
    tap(driver, 0, Outcome.DONE)
    for title in ("Practice", "End practice", "End it"):
        press(driver, title)


def test_the_end_of_a_practice_is_told_once(bench):
    """What was saved stands on home until home is left: a tally put right later would make it untrue."""
    ended(bench)
    words = "The practice has ended: 1 tally of 1 player, all saved."
    assert words in told(bench)
    press(bench, "Practices")
    press(bench, "Back")
    assert words not in told(bench)


def test_a_message_that_was_read_does_not_follow_to_another_screen(bench):
    """It stands while its screen does, and on no other one after that."""
    ended(bench)
    press(bench, "Drills")
    bench.app.desk.message = TOLD
    assert TOLD in told(bench)
    press(bench, "Back")
    assert TOLD not in told(bench)


def test_what_could_not_be_read_yet_goes_along(bench):
    """A screen that does not show messages leaves them to the next one that does."""
    ended(bench)
    press(bench, "Set-up")
    bench.app.desk.message = TOLD
    assert TOLD not in told(bench)
    press(bench, "Back")
    assert TOLD in told(bench)


def test_what_an_act_tells_is_read_where_it_leads(bench):
    """News of the moment in which a screen is left belong to the next one."""
    ended(bench)
    press(bench, "Roster")
    bench.app.desk.message = TOLD
    bench.app.go("practices")
    assert TOLD in told(bench)


@pytest.mark.parametrize("spoken", [Language.ENGLISH, Language.FRENCH_CANADA])
def test_what_still_holds_stays(bench, spoken):
    """That a file is not whole alone is told on the next screen too, in whichever language it is told."""
    ended(bench)
    with speaking(spoken):
        bench.app.desk.message = tr(NOT_WHOLE)
        bench.frames(1)
        bench.app.go("practices")
        assert bench.app.desk.message == tr(NOT_WHOLE)
