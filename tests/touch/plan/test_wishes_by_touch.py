"""Wishes about groups by touch: made, met by the plan, named where they cannot be, kept from plan to plan."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from planned_cards import plan_for
from pressing import keys_of, press

from evaltrack.rink.plan import WishKind
from evaltrack.rink.plan_card import CardWish
from evaltrack.rink.player import Status
from evaltrack.touch.plan.plan_in_hand import MOST_WISHES
from evaltrack.touch.widgets.sheet import KeyedLine, Line


@pytest.fixture
def wishes(drive, season_path, window):
    """Return a driver with the wishes in front, reached from what is asked for, for twenty players."""
    driver = drive(season_path)
    driver.app.go("next_practice")
    asked = driver.app.screens.current_screen
    driver.settle()
    asked.ids.view.scroll_to(asked.ids.groups, animate=False)
    press(driver, "Wishes")
    assert driver.app.screens.current == "wishes"
    return driver


def shirt(driver, at: int) -> str:
    """Return number and first name of a player, in order of number."""
    return driver.app.plan_in_hand.shirts[driver.app.desk.players[at].id]


def wish(driver, one: int, other: int, kind: str = "") -> None:
    """Make a wish by touch."""
    if kind:
        press(driver, kind)
    press(driver, shirt(driver, one))
    press(driver, shirt(driver, other))


def wished(driver) -> list[str]:
    """Return the wishes on the screen, the last one first."""
    screen = driver.app.screens.current_screen
    return [one.words for one in reversed(screen.ids.wishes.children) if isinstance(one, KeyedLine)]


def lines(driver) -> str:
    """Return what stands in the lines of the screen."""
    return "\n".join(w.text for w in driver.app.screens.current_screen.walk() if isinstance(w, Line))


def work_out(driver):
    """Go back and have the plan worked out; return it."""
    press(driver, "Back")
    press(driver, "Work it out")
    driver.wait(lambda: driver.app.screens.current == "plan")
    return driver.app.plan_in_hand.card


def test_two_touches_make_a_wish_that_the_plan_meets(wishes):
    """Together is chosen first; both wishes stand at the question, and the groups keep them."""
    wish(wishes, 0, 1)
    wish(wishes, 2, 3, "Apart")
    one, two, three, four = (shirt(wishes, at) for at in range(4))
    assert wished(wishes) == [f"{three} and {four} apart", f"{one} and {two} together"]
    card = work_out(wishes)
    at = [card.places[player.id].station for player in wishes.app.desk.players[:4]]
    assert at[0] == at[1]
    assert at[2] != at[3]
    assert "wished" not in lines(wishes)
    assert "Not met" not in lines(wishes)
    wishes.app.go("next_practice")
    said = wishes.app.screens.current_screen.wishes_words
    assert said == f"{one} and {two} together; {three} and {four} apart"


def test_a_wish_that_cannot_be_met_is_named_with_those_it_does_not_go_with(wishes):
    """One of three wishes in a circle is given up, and the plan says which two stand against it."""
    wish(wishes, 0, 1)
    wish(wishes, 1, 2)
    wish(wishes, 0, 2, "Apart")
    card = work_out(wishes)
    (broken,) = card.not_kept()
    (line,) = [one for one in lines(wishes).splitlines() if one.startswith("Not met: ")]
    names = [shirt(wishes, at) for at in range(3)]
    kept = [one for one in card.wishes if one is not broken]
    assert line == broken.why
    assert "it does not go with: " in line
    assert all(name in line for name in names)
    assert len(kept) == 2


def test_a_move_by_hand_against_a_wish_is_said(wishes):
    """And no longer once the player is moved back."""
    wish(wishes, 0, 1)
    card = work_out(wishes)
    player = wishes.app.desk.players[0].id
    home = card.places[player].station
    screen = wishes.app.screens.current_screen
    for station, said in (((home + 1) % 3, True), (home, False)):
        screen.choose(player)
        screen.move(station)
        assert ("are in two groups now, and are wished together." in lines(wishes)) == said


def test_a_wish_is_changed_taken_out_and_let_go(wishes):
    """One wish of two players at a time; the first player tapped again is let go."""
    wish(wishes, 0, 1)
    wish(wishes, 1, 0, "Not again")
    one, two = shirt(wishes, 0), shirt(wishes, 1)
    assert wished(wishes) == [f"{two} and {one} not together again"]
    press(wishes, one)
    press(wishes, one)
    assert len(wished(wishes)) == 1
    wishes.tap(next(key for key in keys_of(wishes) if key.title == "Take out"))
    assert wished(wishes) == []
    assert wishes.app.screens.current_screen.summary.startswith("0 wishes")


def test_there_is_a_most_of_wishes(wishes):
    """One more is refused with a sentence; another word on two who are wished of already is not."""
    plan, players = wishes.app.plan_in_hand, wishes.app.desk.players
    pairs = [(one.id, two.id) for one in players[:4] for two in players[4:14]]
    for pair in pairs[:MOST_WISHES]:
        assert plan.wish(CardWish(WishKind.APART, *pair))
    wish(wishes, 15, 16)
    assert "Take one out first" in wishes.app.screens.current_screen.words
    assert plan.wish(CardWish(WishKind.TOGETHER, *pairs[0]))
    assert len(plan.wanted.wishes) == MOST_WISHES


def test_wishes_go_from_plan_to_plan_without_who_has_left(wishes):
    """Those of the last plan are asked for again on another day."""
    desk, plan = wishes.app.desk, wishes.app.plan_in_hand
    one, two, three, *_ = (player.id for player in desk.players)
    kept = (CardWish(WishKind.APART, one, two, True, "Not met."), CardWish(WishKind.TOGETHER, one, three))
    plan.change(replace(plan_for(desk, date.today() - timedelta(2)), wishes=kept))
    plan.wanted.day = date.today() - timedelta(2)
    assert desk.change_roster([replace(desk.players[2], status=Status.LEFT)])
    plan.read()
    assert plan.wanted.wishes == (CardWish(WishKind.APART, one, two),)
