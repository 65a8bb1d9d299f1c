"""A skill for the whole team, coverage, and two observers: the demo season under real touches."""

import shutil
from pathlib import Path

import pytest
from kivy.core.window import Window
from seasons_for_touch import demo_season, new_season

from evaltrack.analysis.standings.watching import whom_to_watch
from evaltrack.rink.player import Status, by_number


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return the path of a demo season to copy."""
    return demo_season(tmp_path_factory.mktemp("demo") / "demo.db")


@pytest.fixture
def second(drive, demo, tmp_path, window):
    """Return the driver of an app on the team board of the demo season."""
    return on_board(drive, Path(shutil.copy(demo, tmp_path)))


@pytest.fixture
def empty(drive, tmp_path):
    """Return the driver of an app on the team board of a season without a tally."""
    return on_board(drive, new_season(tmp_path / "new.db"))


def on_board(drive, path):
    driver = drive(path)
    driver.app.go("team")
    driver.wait(lambda: driver.app.review.state == "ready", timeout=60)
    driver.settle()
    return driver


def front(driver):
    return driver.app.screens.current_screen


def words(screen):
    """Return all that stands in the body of a screen."""
    return [widget.text for widget in screen.ids.body.walk(restrict=True) if getattr(widget, "text", "")]


def open_skill(driver, key):
    heading = next(h for h in front(driver).ids.rows.headings if h.skill.key == key)
    driver.tap(heading, frames=3)
    driver.wait(lambda: driver.app.screens.current == "skill" and front(driver).team)
    driver.settle()
    return front(driver)


def test_a_heading_leads_to_the_skill_and_a_row_to_the_player(second):
    """Two touches; Back goes the same way, to the skill and to the board."""
    screen = open_skill(second, "stop")
    row = screen.ids.bars.rows[4]
    second.tap(screen.ids.bars.to_window(*screen.ids.bars.row_center(4)), frames=3)
    second.wait(lambda: second.app.screens.current == "player")
    assert front(second).number == row.player.number
    second.tap(front(second).ids.back, frames=3)
    second.wait(lambda: second.app.screens.current == "skill")
    screen.dispatch("on_back")
    assert second.app.screens.current == "team"


def test_everyone_stands_in_order_of_number_with_what_counts_above(second):
    """Whoever the skill is for, whatever their share; the definition and the target are the season's."""
    screen = open_skill(second, "gap_up")
    skill = screen.desk.skills["gap_up"]
    players = [row.player for row in screen.ids.bars.rows]
    assert players == sorted((p for p in screen.desk.players if skill.suits(p.position)), key=by_number)
    said = [widget.text for widget in screen.ids.said.children]
    for part in (skill.definition.starts, skill.definition.done, skill.definition.missed):
        assert any(part in line for line in said)
    assert f"{100 * skill.target:.0f} %" in screen.summary
    assert screen.ids.bars.target == skill.target


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
def test_nothing_of_the_skill_lies_over_another(second, window):
    """The words end above the bars, or beside them, and the legend below."""
    screen = open_skill(second, "stop")
    said, whole = screen.ids.said, screen.ids.whole
    if Window.width > Window.height:
        assert said.right <= whole.x + 1
    else:
        assert whole.top <= said.y + 1
    assert all(line.texture_size[1] <= line.height for line in said.children)


def test_a_skill_nobody_was_seen_in_says_so(empty):
    """No bar, no mean, and nothing made up."""
    empty.app._to_skill(None, "stop")
    empty.settle()
    screen = front(empty)
    assert {row.words for row in screen.ids.bars.rows} == {"no try yet"}
    assert "Nothing was tallied in this skill yet." in [line.text for line in screen.ids.said.children]


def test_coverage_names_whom_to_watch_and_leads_to_them(second):
    """A touch on the board's key; the first to watch come first, who is away is left out."""
    second.tap(front(second).ids.coverage, frames=3)
    second.wait(lambda: second.app.screens.current == "coverage" and front(second).rows)
    second.settle()
    screen = front(second)
    away = {player.number for player in screen.desk.players if player.status is Status.AWAY}
    wanted = whom_to_watch(screen.rows, away)
    keys = [key for key in screen.ids.body.walk(restrict=True) if getattr(key, "small", "")]
    assert len(keys) == 13
    assert [key.title.split()[0] for key in keys[:12]] == [row.player for row in wanted[:12]]
    second.tap(keys[-1], frames=3)
    second.settle()
    keys = [key for key in screen.ids.body.walk(restrict=True) if getattr(key, "small", "")]
    assert len(keys) == len(wanted)
    second.tap(keys[0], frames=3)
    second.wait(lambda: second.app.screens.current == "player")
    assert front(second).number == wanted[0].player


def test_coverage_of_nothing_says_what_to_do(empty):
    """A season without a tally has nobody to name."""
    empty.tap(front(empty).ids.coverage, frames=3)
    empty.wait(lambda: empty.app.screens.current == "coverage" and front(empty).rows)
    empty.settle()
    assert any("watch any skill at two practices" in line for line in words(front(empty)))


def test_two_observers_are_told_with_their_doubt(second):
    """How far they agree, skill by skill, and who is the stricter, in the names of the catalogue."""
    second.tap(front(second).ids.agreement, frames=3)
    second.wait(lambda: second.app.screens.current == "agreement" and front(second).told)
    second.settle()
    said = "\n".join(words(front(second)))
    assert "in 9 of 10 cases" in said
    assert "Gap at the line: agreed in 27 of 33 tries, 82 % (67 to 91). Dev is the stricter there" in said
    assert "gap_at_line" not in said


def test_nothing_to_compare_is_said_plainly(empty):
    """Without two observers stands why, and what to do."""
    empty.tap(front(empty).ids.agreement, frames=3)
    empty.wait(lambda: empty.app.screens.current == "agreement" and front(empty).told)
    empty.settle()
    (line,) = [line for line in words(front(empty)) if "can be compared" in line]
    assert line.startswith("Nothing can be compared: nobody tallied yet in this season; let two observers")


def test_the_sums_say_why_they_differ(second):
    """Home, the board and a player's page: tallies, and how many of them are tries."""
    assert front(second).summary.startswith("5,318 tries")
    assert front(second).legend.startswith("5,506 tallies: 5,318 tries and 188 unseen.")
    second.app.go("home")
    assert front(second).summary.endswith("5,506 tallies: 5,318 tries and 188 unseen")
    second.app._to_player(None, "11")
    second.settle()
    assert front(second).summary.endswith("294 tallies: 285 tries and 9 unseen")
    assert "limited (no contact)" in front(second).summary


def test_the_table_works_by_keyboard(second):
    """From the first key on, Tab comes to a heading and to a row, and Enter opens them."""
    table = front(second).ids.rows
    heading, row = table.headings[0], next(key for key in table.children if hasattr(key, "number"))
    heading.dispatch("on_press")
    assert second.app.screens.current == "skill"
    second.app.go("team")
    row.dispatch("on_press")
    assert front(second).number == row.number


def test_what_comes_after_the_season_was_closed_is_let_go(second):
    """An answer for a season that is not in hand any more changes no screen, and breaks none."""
    second.app._to_skill(None, "stop")
    second.app.go("home")
    second.app.desk.close()
    screen = second.app.screens.get_screen("skill")
    screen._take(screen._of, None)
    second.settle()
    assert second.app.desk.season is None
