"""The standings on show are kept in the file, and never while somebody taps."""

from datetime import date

from seasons_for_touch import demo_season

from evaltrack.rink.tally import Outcome


def test_the_team_board_keeps_what_it_shows(drive, tmp_path):
    """When it is opened off the ice; a look in mid-practice writes nothing, and one after it does."""
    driver = drive(demo_season(tmp_path / "demo.db"))
    app, desk = driver.app, driver.app.desk
    look = desk.season.last_look
    assert desk.begin(date(2026, 3, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    assert desk.tally(desk.players[0].id, Outcome.DONE)
    app.go("team")
    driver.wait(lambda: app.review.state in ("ready", "failed"), timeout=60)
    driver.settle()
    assert look.all() == []
    desk.end()
    app.go("home")
    app.go("team")
    driver.wait(lambda: app.review.state in ("ready", "failed"), timeout=60)
    driver.settle()
    kept = {(one.player, one.skill): (one.done, one.tries) for one in look.all()}
    ids = {player.number: player.id for player in desk.players}
    assert kept == {(ids[one.player], one.skill): (one.done, one.tries) for one in app.review.standings}
    assert {one.up_to for one in look.all()} == {date(2026, 3, 20)}
