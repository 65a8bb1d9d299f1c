"""What the boards say in words and marks beside their tiles, with real touches."""

from dataclasses import replace
from datetime import date

from kivy.core.text import Label as CoreLabel
from kivy.graphics import Triangle
from on_boards import board_of, both_ways_up, screen_of, tap
from pressing import press
from seasons_for_touch import new_season, roster

from evaltrack.rink.tally import Outcome

DONE = Outcome.DONE


def test_pressure_is_told_of_the_last_tally_and_in_the_strip(bench):
    """Undo says that a tally was made under pressure, and its mark in the strip is pressed on."""
    screen, (number, name) = screen_of(bench), board_of(bench).faces[0][:2]
    drawn = []
    for _ in range(2):
        tap(bench, 0, DONE)
        bench.settle()
        drawn.append(sum(isinstance(mark, Triangle) for mark in everything(screen.ids.last.canvas)))
        press(bench, "Pressure")
    assert drawn == [0, 2]
    assert screen.undoes == f"#{number} {name} done, under pressure"
    assert screen.ids.last.tallies == [(number, DONE, True), (number, DONE, False)]
    press(bench, "Player")
    assert screen.undoes == f"#{number} {name} done, under pressure, Outlet pass"


def everything(group):
    """Return all instructions of a canvas, those in its groups too."""
    for child in group.children:
        yield child
        yield from everything(child) if hasattr(child, "children") else ()


@both_ways_up
def test_each_board_says_before_the_first_tally_where_taps_go(bench):
    """The hint is true of the board in front, and fits into the strip."""
    said = {}
    for title, kind in (("Group", "group"), ("By rep", "rep"), ("Player", "player")):
        press(bench, title)
        said[kind] = screen_of(bench).ids.last.hint
    assert "The name: not seen" in said["group"]
    assert "The skill's name: not seen. The player's plate: another player" in said["rep"]
    assert "The skill's name: not seen" in said["player"]
    assert len(set(said.values())) == 3


@both_ways_up
def test_the_key_that_turns_the_pages_says_which_one_is_there(bench):
    """Whoever looks for a skill sees how many pages there are, and when all have been seen."""
    row, seen = screen_of(bench).ids.skills, []
    pages = -(-len(bench.app.desk.skills) // (len(row.children) - 1))
    for _ in range(pages + 1):
        seen.append(row.children[0].small)
        press(bench, "more")
    assert seen == [f"{page} of {pages}" for page in (*range(1, pages + 1), 1)]


@both_ways_up
def test_the_chosen_skill_lights_a_chip_on_every_page(bench):
    """One from a later page is lit there; on another page the key that turns the pages is lit instead."""
    row, desk = screen_of(bench).ids.skills, bench.app.desk
    press(bench, "more")
    later = row.children[-1].title
    press(bench, later)
    assert desk.skills[desk.station.skill].name == later
    for _ in range(6):
        there = later in [chip.title for chip in row.children]
        assert [chip.title for chip in row.children if chip.active] == [later if there else "more"]
        press(bench, "more")


@both_ways_up
def test_the_name_at_the_head_is_not_cut_where_letters_hang_down(drive, tmp_path, window):
    """The words at the head are as high as their line: Ayumi does not become Avumi."""
    player = replace(roster(1)[0], name="Ayumi Quigley")
    driver = drive(new_season(tmp_path / "one.db", [player]))
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 20), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    press(driver, "Player")
    name, small = screen_of(driver).ids.head.children[-1].children[::-1]
    assert name.text == f"{player.number}  Ayumi Quigley"
    for words in (name, small):
        line = CoreLabel(font_name=words.font_name, font_size=words.font_size).get_extents(words.text)[1]
        assert words.height >= line
