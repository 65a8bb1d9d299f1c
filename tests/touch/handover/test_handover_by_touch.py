"""Two tablets by touch: one is the app in this process, the other one a process of its own.

Cases: a code is shown, the other one types it, both tap and stay together on the board, one is gone, or has
ended it; a code is typed here, a wrong one first; nobody listens once the screen is left; no network, or one
that goes; waiting after wrong codes; the latch.
"""

import shutil
import socket
from pathlib import Path

import pytest
from pressing import keys_of, press
from two_tablets import TabletProcess

from evaltrack.device.backup_places import Why, backups_of
from evaltrack.device.handover import addresses
from evaltrack.device.handover.code import TRIES, Tries
from evaltrack.device.handover.course import Course, Stage
from evaltrack.device.tablet import keep_tablet, load_tablet
from evaltrack.rink.tally import Outcome
from evaltrack.touch.board.since_last import SinceLast
from evaltrack.touch.handover import handover_screen
from evaltrack.touch.handover.handover_screens import HandoverScreens
from evaltrack.touch.handover.typed_address import Typed


@pytest.fixture
def other(season_path, tmp_path):
    """Return a second tablet with a copy of the season."""
    path = Path(shutil.copy(season_path, tmp_path / "other.db"))
    process = TabletProcess(path, tmp_path / "other-home")
    yield process
    process.end()


@pytest.fixture
def on_loopback(monkeypatch):
    """Let the only address of this tablet be one that no other machine reaches."""
    monkeypatch.setattr(handover_screen, "own_addresses", lambda: ["127.0.0.1"])


def titles(driver) -> list[str]:
    return [key.title for key in keys_of(driver)]


def words_on_keys(driver) -> list[tuple[str, str]]:
    """Return what stands on the keys between Back and help."""
    return [(key.title, key.small) for key in keys_of(driver)][1:-1]


def lines(screen) -> list[str]:
    return [line.text for line in reversed(screen.ids.lines.children)]


def type_in(driver, address: str, code: str) -> None:
    screen = driver.app.screens.current_screen
    pad = screen._pad
    for sign in address:
        pad.press(sign)
    pad.choose(True)
    for sign in code:
        key = next(key for key in pad.ids.signs.children if key.title == sign)
        driver.tap(key)
    assert pad.code == code
    press(driver, "Join")


def test_both_tap_while_they_are_together(start_bench, season_path, other, on_loopback):
    """What is tapped there counts on the board here, and the other way round; whose other is gone is told."""
    driver = start_bench(season_path)
    app, desk = driver.app, driver.app.desk
    app.go("home")
    press(driver, "Two tablets")
    press(driver, "Show a code")
    driver.wait(lambda: app.handover.code)
    screen = app.screens.current_screen
    driver.settle()
    assert screen.code_words.replace(" ", "") == app.handover.code
    assert "good for 2:5" in screen.words or "3:00" in screen.words
    other.hear("ready")
    other.say("join", app.handover.address, app.handover.code)
    driver.wait(lambda: "To the board" in titles(driver))
    assert "Together since" in screen.words
    assert not screen.code
    press(driver, "To the board")
    assert app.screens.current == "board"
    player = desk.here()[0]
    assert desk.tally(player.id, Outcome.DONE)
    mine = desk.last(1)[0].id.hex
    driver.wait(lambda: any(mine in came["ids"] for came in other.of("came")), timeout=30)
    before = desk.others
    other.say("tap", 0.05)
    driver.wait(lambda: desk.others > before + 2, timeout=30)
    other.say("tap", 0)
    assert desk.total == 1
    assert app.screens.current_screen.shared
    # one before the first of all that came: more would push those out that were kept before
    assert [one.why for one in backups_of(desk.season.ident)].count(Why.JOIN) == 1
    other.kill()
    driver.wait(lambda: not app.handover.running, timeout=30)
    assert "has broken" in desk.message
    assert desk.tally(player.id, Outcome.DONE)
    assert not desk.message
    (mark,) = [part for part in app.screens.current_screen.walk() if isinstance(part, SinceLast)]
    assert mark.unit == "not together"  # also after the tap that let the message go
    desk.end()
    assert not desk.apart


def test_who_taps_on_is_told_that_the_other_one_has_ended_it(start_bench, season_path, other, on_loopback):
    """In peace, by its own key: no trouble, and still nobody may think that both are together."""
    driver = start_bench(season_path)
    app, desk = driver.app, driver.app.desk
    app.go("handover")
    press(driver, "Show a code")
    driver.wait(lambda: app.handover.code)
    other.hear("ready")
    other.say("join", app.handover.address, app.handover.code)
    driver.wait(lambda: "To the board" in titles(driver))
    press(driver, "To the board")
    other.say("leave")
    driver.wait(lambda: not app.handover.running, timeout=30)
    assert (app.handover.trouble, desk.apart) == ("", True)
    assert "each of the two notes alone" in desk.message


def test_a_code_is_typed_here(drive, season_path, other):
    """A wrong one is told and can be typed again; the right one brings what was noted there."""
    driver = drive(season_path)
    app = driver.app
    other.hear("ready")
    other.say("tap", 0.01)
    other.say("give")
    shown = other.hear("shown")
    other.say("tap", 0)
    press(driver, "Two tablets")
    press(driver, "Type a code")
    wrong = f"{(int(shown['code']) + 1) % 10**6:06d}"
    type_in(driver, shown["address"], wrong)
    driver.wait(lambda: not app.handover.running)
    screen = app.screens.current_screen
    driver.settle()
    assert lines(screen) == [
        "The code did not fit: look at it again on the other tablet, and type it once more."
    ]
    press(driver, "Type a code")
    type_in(driver, "", shown["code"])
    driver.wait(lambda: "End it" in titles(driver))
    press(driver, "End it")
    driver.wait(lambda: not app.handover.running, timeout=30)
    driver.settle()
    there = other.hear("ended")
    assert (there["equal"], there["trouble"]) == (True, "")
    taps = len(other.of("tap")) - len(other.of("undone"))
    assert app.desk.season.log.count() == taps > 0
    assert "Both tablets have the same season now." in lines(screen)


def test_nobody_listens_once_the_screen_is_left(drive, season_path, monkeypatch):
    """The port is closed and the code is gone; another address has another code, and they come in turn."""
    monkeypatch.setattr(handover_screen, "own_addresses", lambda: ["127.0.0.1", "127.0.0.2"])
    driver = drive(season_path)
    app = driver.app
    press(driver, "Two tablets")
    press(driver, "Show a code")
    for host in ("127.0.0.1", "127.0.0.2"):
        driver.wait(lambda host=host: app.handover.address.startswith(host))
        driver.wait(lambda: "good for" in app.screens.current_screen.words)
        assert app.handover.code
        press(driver, "Another address")
    driver.wait(lambda: app.handover.address.startswith("127.0.0.1"))
    assert words_on_keys(driver) == [
        ("Stop here", "the code is good for nothing then"),
        ("Another address", "if this one is not found"),
    ]
    address, port = addresses.parsed(app.handover.address)
    press(driver, "Back")
    assert app.handover.code == ""
    driver.wait(lambda: not app.handover.running)
    with pytest.raises(OSError, match="refused"):
        socket.create_connection((address, port), timeout=30)
    assert Tries().wrong == 0


def test_what_is_missing_is_said(drive, season_path, monkeypatch):
    """No network, and an address that is none."""
    driver = drive(season_path)
    screen = driver.app.screen("handover")
    monkeypatch.setattr(handover_screen, "own_addresses", list)
    press(driver, "Two tablets")
    press(driver, "Show a code")
    assert "on no network" in screen.words
    press(driver, "Type a code")
    assert screen.words == "Type what the other tablet shows."
    assert words_on_keys(driver)[-1] == ("Not now", "nothing was sent yet")
    type_in(driver, "300.1.1.1", "123456")
    assert "An address looks like" in screen.words
    keys = [(8, None, []), (ord("7"), "7", []), (ord("7"), "7", ["ctrl"]), (ord("x"), "x", [])]
    assert [screen._key(None, key, None, text, held) for key, text, held in keys] == [
        True,
        True,
        False,
        False,
    ]
    assert screen._pad.code == "123457"
    press(driver, "Not now")
    assert not screen._key(None, 8, None, None, [])
    assert screen.words == ""
    assert words_on_keys(driver) == [
        ("Show a code", "the other tablet types it"),
        ("Type a code", "that the other tablet shows"),
    ]


def test_a_network_that_goes_while_the_code_is_shown_is_told(drive, season_path, on_loopback, monkeypatch):
    """Nobody types an address for three minutes that leads nowhere."""
    driver = drive(season_path)
    press(driver, "Two tablets")
    press(driver, "Show a code")
    driver.wait(lambda: driver.app.handover.code)
    screen = driver.app.screens.current_screen
    screen._tick()
    assert "Type this on the other tablet" in screen.words
    assert addresses.is_ours("127.0.0.1")
    assert not addresses.is_ours("192.0.2.77")
    monkeypatch.setattr(handover_screen, "is_ours", lambda _: False)
    screen._tick()
    assert "does not have this address any more" in screen.words


def test_after_wrong_codes_no_code_is_shown_for_a_while(drive, season_path, on_loopback):
    """It says how long, also after a new start of the app."""
    tries = Tries()
    for _ in range(TRIES):
        tries.count()
    driver = drive(season_path)
    press(driver, "Two tablets")
    press(driver, "Show a code")
    assert not driver.app.handover.running
    assert "A new code can be shown in" in driver.app.screens.current_screen.words


def test_the_latch_keeps_it(drive, season_path):
    """A bench tablet is not handed over by whoever holds it."""
    from evaltrack.device.passcode import seal

    keep_tablet(load_tablet(), latch=seal("2468", 1))
    driver = drive(season_path)
    driver.app.go("handover")
    assert driver.app.screens.current == "code"


class Hand:
    """What goes on of a hand-over, and how often it was left."""

    def __init__(self, running: bool, stage: Stage):
        self.running, self.course, self.left = running, Course(stage), 0

    def leave(self) -> None:
        self.left += 1


@pytest.mark.parametrize(
    ("stage", "stays"),
    [
        (Stage.TOGETHER, {"handover", "board", "start"}),
        (Stage.GIVING, {"handover"}),
        (Stage.WAITING, {"handover"}),
    ],
)
def test_together_both_stay_on_the_bench_and_nowhere_else(stage, stays):
    """Whoever goes elsewhere, or to the board before both are together, ends it."""
    kept = set()
    for name in ("handover", "board", "start", "home", "review", "code"):
        screens = HandoverScreens()
        screens.__dict__["handover"] = hand = Hand(True, stage)
        screens._leave_handover(None, name)
        kept |= set() if hand.left else {name}
    assert kept == stays


def test_signs_go_where_they_fit():
    """No two dots, no dot in a code, no seventh digit, and back again."""
    typed = Typed()
    for sign in ".192..168.43.1:":
        typed = typed.press(sign)
    assert typed.address == "192.168.43.1:"
    assert typed.erase().address == "192.168.43.1"
    typed = Typed("1.2.3.4", in_code=True)
    for sign in "12.34567":
        typed = typed.press(sign)
    assert (typed.code, typed.whole) == ("123456", True)
    assert not typed.erase().whole
