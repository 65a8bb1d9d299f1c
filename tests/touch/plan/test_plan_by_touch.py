"""The next practice by touch: asked for, worked out, changed with two touches, started, looked back at."""

from datetime import date

import pytest
from every_screen import show
from planned_cards import plan_for
from pressing import keys_of, press

from evaltrack.rink.days import in_full
from evaltrack.rink.plan import Part
from evaltrack.store.opening import open_season
from evaltrack.touch.board import board_screen
from evaltrack.touch.plan.plan_in_hand import Wanted
from evaltrack.touch.plan.plan_row import PlanRow
from evaltrack.touch.widgets.sheet import Line
from evaltrack.words.plan_card import summary_words


class Hand:
    """Works the screens of the plan by touch."""

    def __init__(self, driver):
        self.driver, self.app, self.desk = driver, driver.app, driver.app.desk

    @property
    def screen(self):
        """Return the screen in front."""
        return self.app.screens.current_screen

    @property
    def card(self):
        """Return the plan as the season file has it."""
        return self.desk.season.plans.last()

    def tap(self, widget) -> None:
        """Have a widget in sight and tap it."""
        self.driver.settle()
        if "view" in self.screen.ids and widget in self.screen.ids.view.walk(restrict=True):
            self.screen.ids.view.scroll_to(widget, animate=False)
            self.driver.settle()
        self.driver.tap(widget)
        self.driver.settle()

    def key(self, start: str):
        """Return the first key of which the title begins so."""
        self.driver.settle()
        return next(key for key in keys_of(self.driver) if key.title.startswith(start))

    def press(self, start: str) -> None:
        """Tap the first key of which the title begins so."""
        self.tap(self.key(start))

    def row(self, at: int):
        """Return the row of a block."""
        self.driver.settle()
        rows = [one for one in self.screen.walk(restrict=True) if isinstance(one, PlanRow)]
        shown = [n for n, block in enumerate(self.card.blocks) if block.part is not Part.CHANGEOVER]
        return rows[::1][shown.index(at)]

    def press_in(self, at: int, title: str) -> None:
        """Tap a key in the row of a block."""
        (key,) = [key for key in self.row(at).children if key.title == title]
        self.tap(key)

    def lines(self) -> str:
        """Return what stands in the lines of the screen."""
        return "\n".join(one.text for one in self.screen.walk(restrict=True) if isinstance(one, Line))


@pytest.fixture
def hand(drive, season_path, window):
    """Return a hand on the plan of a season of twenty players without a tally."""
    hand = Hand(drive(season_path))
    hand.app.plan_in_hand.read()
    hand.app.plan_in_hand.change(plan_for(hand.desk))
    hand.app.go("home")
    press(hand.driver, "Next practice")
    assert hand.screen.name == "plan"
    return hand


def test_four_touches_make_a_plan_and_locked_parts_stay_in_the_next(demo):
    """Next practice, one who will not come, work it out; a moved player and a locked block stay."""
    hand = Hand(demo)
    press(demo, "Next practice")
    hand.press(f"{hand.desk.players[2].number}  ")
    hand.press("Work it out")
    demo.wait(lambda: hand.screen.name == "plan")
    first = hand.card
    assert first.minutes == 60
    assert hand.desk.players[2].id not in first.places
    assert len(first.train) in (2, 3)
    player = first.groups[0][0]
    hand.tap(hand.key(f"{hand.desk.player(player).number} "))
    hand.press("Group 2")
    hand.press_in(2, "+")
    hand.press_in(2, "Lock")
    held = hand.card
    hand.press("Change")
    assert hand.key("Work it out").small == "what is locked stays"
    hand.tap(hand.screen.ids.players.children[0])
    hand.press("Work it out")
    demo.wait(lambda: hand.screen.name == "plan")
    after = hand.card
    assert len(after.places) == len(held.places) - 1
    assert (after.places[player].station, after.places[player].locked) == (1, True)
    assert (after.blocks[2].step, after.blocks[2].minutes) == (held.blocks[2].step, held.blocks[2].minutes)
    assert after.blocks[2].locked
    assert after.minutes == 60


def test_two_touches_move_a_player(hand):
    """The player, the group: saved at once, and locked there; in their own group they are let go again."""
    player = hand.card.groups[0][0]
    shirt = f"{hand.desk.player(player).number} "
    hand.tap(hand.key(shirt))
    hand.press("Group 3")
    assert (hand.card.places[player].station, hand.card.places[player].locked) == (2, True)
    assert hand.key(shirt).small == "stays here"
    hand.tap(hand.key(shirt))
    hand.press("Group 3")
    assert not hand.card.places[player].locked


def test_minutes_are_changed_and_the_sum_stays(hand):
    """A minute more is taken from another block; what cannot be given is said."""
    before = hand.card
    hand.press_in(2, "+")
    after = hand.card
    assert (after.blocks[2].minutes, after.minutes) == (before.blocks[2].minutes + 1, before.minutes)
    for at, block in enumerate(after.blocks):
        if block.part is not Part.CHANGEOVER and at != 2:
            hand.press_in(at, "Lock")
    for _ in range(3):
        hand.press_in(2, "+")
    assert "unlock one first" in hand.screen.words
    assert hand.card.minutes == before.minutes


def test_a_block_keeps_one_minute(hand):
    """The last one is not taken, and that is what is said; the head of the plan goes without a place."""
    assert hand.screen.summary == summary_words(hand.card)
    assert f"{hand.screen.heading} {hand.card.day.year}" == in_full(hand.card.day)
    for _ in range(hand.card.blocks[2].minutes):
        hand.screen.change_minutes(2, -1)
    assert (hand.card.blocks[2].minutes, hand.screen.words) == (1, "A block has one minute at least.")
    hand.app.go("home")
    press(hand.driver, "Next practice")
    assert hand.screen.words == ""


@pytest.mark.parametrize(
    ("name", "least", "most"), [("minutes", 10, 240), ("stations", 1, 12), ("coaches", 0, 30)]
)
def test_what_a_plan_is_asked_for_stays_within_its_limits(name, least, most):
    """However often a key is pressed."""
    wanted = Wanted(date(2026, 1, 20))
    for by, bound in ((-500, least), (500, most), (-1, most - 1)):
        wanted.change(name, by)
        assert getattr(wanted, name) == bound


def test_two_touches_swap_blocks(hand):
    """Swap on one, swap on the other; the same key again gives it up."""
    before = hand.card
    hand.press_in(2, "Swap")
    hand.press_in(2, "Swap")
    assert hand.card == before
    hand.press_in(2, "Swap")
    hand.press_in(4, "Swap")
    after = hand.card
    assert (after.blocks[2].step, after.blocks[4].step) == (before.blocks[4].step, before.blocks[2].step)
    assert after.blocks[2].locked
    assert after.blocks[4].locked


def test_a_block_tells_its_reason(hand):
    """Tapped it stands below it, with the tries that each can expect; tapped again it goes."""
    assert "about 5 times in 10" not in hand.lines()
    hand.tap(hand.row(2).ids.row)
    assert "about 5 times in 10" in hand.lines()
    assert "About 4 to 7 tries each" in hand.lines()
    hand.tap(hand.row(2).ids.row)
    assert "about 5 times in 10" not in hand.lines()


def test_nothing_moves_under_the_second_touch(hand):
    """Words that tell what to tap next take no room from the rows."""
    before = [tuple(hand.row(at).to_window(*hand.row(at).pos)) for at in (2, 4)]
    hand.press_in(2, "Swap")
    assert [tuple(hand.row(at).to_window(*hand.row(at).pos)) for at in (2, 4)] == before


def test_a_practice_goes_by_the_plan_block_by_block(hand):
    """Start it, and the first block is watched; its key leads to the next one; marks say whom to look at."""
    hand.press("Start it")
    assert hand.screen.name == "start"
    first, second = [hand.card.blocks[at] for at in (2, 4)]
    hand.press("Start")
    assert hand.screen.name == "board"
    at = hand.desk.station
    assert (at.drill, at.step, at.skill) == (first.drill, first.step, first.watch)
    assert hand.card.practice == hand.desk.practice.key
    looked = {look.player for look in hand.card.looks if look.block == 2}
    assert {f.number for f in hand.screen.board.faces() if f.first} == {
        hand.desk.player(player).number for player in looked
    }
    hand.app.go("start")
    chips = [key for key in keys_of(hand.driver) if hasattr(key, "block")]
    assert [chip.active for chip in chips] == [True, False, False, False]
    hand.tap(chips[1])
    assert hand.screen.name == "board"  # in mid-practice a block leads on to it
    at = hand.desk.station
    assert (at.drill, at.step, at.skill) == (second.drill, second.step, second.watch)


def test_the_places_on_the_board_are_those_without_a_plan(hand):
    """A mark moves no tile and takes no touch."""
    hand.press("Start it")
    hand.press("Start")
    board = hand.screen.ids.board
    with_plan = [board.layout.tile(place) for place in board.layout.tiles], hand.desk.here()
    hand.desk.plan = None
    hand.driver.settle()
    assert not any(face.first for face in hand.screen.board.faces())
    assert ([board.layout.tile(place) for place in board.layout.tiles], hand.desk.here()) == with_plan


def test_a_plan_left_at_the_start_is_forgotten(hand):
    """Who goes back and starts otherwise has a practice without a plan."""
    hand.press("Start it")
    hand.press("Back")
    hand.press("Start a practice")
    assert not [key for key in keys_of(hand.driver) if hasattr(key, "block")]
    hand.press("Start")
    assert hand.desk.practice
    assert hand.card.practice == ""


def test_the_marks_come_back_with_the_app(hand, season_path, drive, monkeypatch):
    """A practice that goes on after the app was closed still goes by its plan, once the board is there."""
    monkeypatch.setattr(board_screen, "_LATER", 1.5)  # a busy machine needs longer for the first frames
    hand.press("Start it")
    hand.press("Start")
    hand.driver.close()
    again = Hand(drive(season_path))
    assert again.screen.name == "board"
    assert again.desk.plan is None
    again.driver.wait(lambda: again.desk.plan is not None, timeout=5)
    assert any(face.first for face in again.screen.board.faces())


def test_a_plan_that_cannot_be_read_hides_no_tap_that_was_not_saved(hand):
    """The board keeps what it says of the tap; read again, the plan is there."""
    hand.press("Start it")
    hand.press("Start")
    desk = hand.desk
    desk._plan_of, desk.plan, desk.message = "", None, "not saved: the disk is full"
    season, desk.season = desk.season, open_season(desk.season.path)
    desk.season.close()
    desk.read_plan()
    assert (desk.plan, desk.message) == (None, "not saved: the disk is full")
    desk.season = season
    desk.read_plan()
    assert desk.plan


def test_what_was_planned_stands_beside_what_was_done(hand):
    """On the page of the practice, from the tallies."""
    hand.press("Start it")
    hand.press("Start")
    for player in hand.desk.here()[:3]:
        assert hand.desk.tally(player.id, "done")
    key = hand.desk.practice.key
    hand.desk.end()
    hand.app._to_held(None, key)
    hand.driver.settle()
    assert "3 tallies, 3 in" in hand.lines()
    assert "nothing was noted in it" in hand.lines()


def test_printed_by_touch(hand):
    """A PDF lies beside the season files, on the paper that was chosen, and its place is told."""
    hand.press("Letter")
    hand.press("Print")
    hand.driver.wait(lambda: not hand.screen.printing)
    assert "Printed: " in hand.screen.words
    assert "-a4.pdf" in hand.screen.words
    place = hand.screen.words.split("Printed: ")[1].split(".pdf")[0] + ".pdf"
    with open(place, "rb") as file:
        assert file.read(4) == b"%PDF"


def test_a_plan_of_a_day_that_is_over_is_history(hand, season_path):
    """Home asks anew, with what was asked for last; the old plan stays in the file."""
    hand.app.plan_in_hand.change(plan_for(hand.desk, date(2026, 1, 20)))
    hand.app.go("home")
    press(hand.driver, "Next practice")
    assert hand.screen.name == "next_practice"
    with open_season(season_path) as season:
        assert season.plans.of_day(date(2026, 1, 20))


def test_nobody_will_be_here(hand):
    """It is said what to do."""
    hand.press("Change")
    for key in hand.screen.ids.players.children[:]:
        hand.tap(key)
    hand.press("Work it out")
    assert "tap the players who will" in hand.screen.words


def test_every_value_is_asked_for_by_touch(hand):
    """Minutes by fives, stations and coaches by one, the band by a tenth, the day not before today."""
    hand.press("Change")
    wanted = hand.app.plan_in_hand.wanted
    before = (wanted.day, wanted.minutes, wanted.stations, wanted.coaches, wanted.band)
    minus = [key for key in keys_of(hand.driver) if key.title == "−"]
    for key in minus:
        hand.tap(key)
    assert before == (date.today(), 60, 3, 3, (0.6, 0.8))
    assert (wanted.day, wanted.minutes, wanted.stations, wanted.coaches) == (date.today(), 55, 2, 2)
    assert wanted.band == (0.5, 0.7)
    hand.press("Half ice")
    hand.press("Alike")
    asked = hand.app.plan_in_hand.asked()
    assert (asked.surface, asked.grouping, asked.minutes) == ("half", "alike", 55)


def test_both_screens_are_reached_when_filled(demo):
    """As the tests of every screen show them."""
    assert show(demo, "plan").has_plan
    assert show(demo, "next_practice").summary.endswith("will be here")
