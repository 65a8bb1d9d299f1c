"""Home in words: what is in the season."""

from datetime import date

from evaltrack.rink.tally import Outcome


def told(driver):
    """Return every text on the screen in front."""
    screen = driver.app.screens.current_screen
    return [widget.text for widget in screen.walk(restrict=True) if getattr(widget, "text", "")]


def listed(driver):
    """Return the words of each practice in the list."""
    return [(row.title, row.small) for row in driver.app.screens.current_screen.ids.practices.children]


def test_one_is_told_in_the_singular(drive, season_path):
    """One practice, one player there, one tally: none of them has the ending of many."""
    driver = drive(season_path)
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players[:1], "breakout_attack", "two_on_one", "Ines")
    assert desk.tally(desk.players[0].id, Outcome.DONE)
    driver.app.screens.current_screen.on_pre_enter()
    assert "20 players, 1 practice, 1 tally" in told(driver)
    assert listed(driver) == [("Tuesday 20 January 2026", "1 player, 1 tally")]
    assert desk.tally(desk.players[0].id, Outcome.DONE)
    driver.app.screens.current_screen.on_pre_enter()
    assert listed(driver) == [("Tuesday 20 January 2026", "1 player, 2 tallies")]
