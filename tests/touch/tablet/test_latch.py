"""The latch: what it keeps, how it is set, opened and closed, and what wrong codes cost."""

import json
import subprocess
import sys
import threading
from datetime import date
from hashlib import scrypt, sha256

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kivy.clock import Clock
from kivy.core.window import Window
from on_boards import both_ways_up
from pressing import keys_of, press

from evaltrack.device.passcode import FREE_TRIES, LONGEST_WAIT, fits, is_old, seal, wait_after
from evaltrack.device.tablet import keep_tablet, load_tablet, tablet_file
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.tablet.code_screen import A_MOMENT
from evaltrack.touch.tablet.latch import Latch
from evaltrack.touch.widgets.text_label import Bar

CODE, WRONG = "2468", "1357"
SEALED, ANOTHER = seal(CODE, rounds=1), seal("80528052", rounds=1)
KEPT = ("team", "player", "season", "players", "player_form", "skills", "skill_form", "setup", "measure")
ESCAPE, ENTER, BACKSPACE, TAB = 27, 13, 8, 9


@pytest.fixture
def latched(drive, season_path):
    """Return the driver of an app on a tablet with a code, at home, the latch closed."""
    keep_tablet(load_tablet(), latch=SEALED)
    driver = drive(season_path)
    assert driver.app.screens.current == "home"
    return driver


def type_code(driver, code):
    """Tap the digits and Enter, and wait for the answer."""
    for digit in code:
        press(driver, digit)
    press(driver, "Enter")
    pad = driver.app.screens.get_screen("code")
    driver.wait(lambda: not pad._busy)
    driver.settle()


def running(driver):
    """Start a practice behind the screens."""
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 13), desk.players, "breakout_attack", "two_on_one", "Ines")


# what it keeps


@pytest.mark.parametrize("name", KEPT)
def test_off_the_bench_every_screen_needs_the_code(latched, name):
    """Whatever asks for a screen of the review or the set-up gets the pad; the screen is not even made."""
    latched.app.go(name)
    assert latched.app.screens.current == "code"
    assert not latched.app.screens.has_screen(name)


def test_the_bench_is_free(latched):
    """Who is here, start, tap, who is here again, end: no code on the way."""
    press(latched, "Start a practice")
    press(latched, "Start")
    assert latched.app.screens.current == "board"
    tile = latched.app.screens.current_screen.ids.board.layout.tile(0)
    latched.tap((tile.x + 9, tile.y + 9))
    assert latched.app.desk.total == 1
    press(latched, "Practice")
    press(latched, "End practice")
    press(latched, "End it")
    assert latched.app.screens.current == "home"


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
def test_set_up_is_reached_while_a_practice_runs(latched, window):
    """From the board by Practice and Home, to the set-up with the code, and back to the same board."""
    running(latched)
    latched.app.go("board")
    press(latched, "Practice")
    press(latched, "Home")
    press(latched, "Set-up")
    assert latched.app.screens.current == "code"
    type_code(latched, CODE)
    assert latched.app.screens.current == "setup"
    press(latched, "Dark")
    press(latched, "Back")
    press(latched, "Go on with the practice")
    assert (latched.app.screens.current, latched.app.latch.shut) == ("board", True)
    assert latched.app.desk.practice


def test_home_says_what_needs_the_code(latched):
    """Every key but those of the look, of the bench and of the help says so before it is pressed."""
    free = [key.title for key in keys_of(latched) if key.small != "needs the code"]
    assert free == ["Dark", "Start a practice", "?"]


def test_no_panel_of_kivys_own_opens_past_it(latched):
    """The key that opens Kivy's settings in other apps does nothing here."""
    before = list(Window.children)
    Window.dispatch("on_keyboard", 282, 0, None, [])
    latched.frames(2)
    assert Window.children == before


def test_without_a_code_nothing_is_asked(drive, season_path):
    """Off by default: every screen is free, and the latch is not even made."""
    driver = drive(season_path)
    driver.app.go("team")
    assert driver.app.screens.current == "team"
    assert "latch" not in vars(driver.app)


# opening and closing


def test_the_right_code_leads_on_to_what_was_asked_for(latched):
    """After the code comes the screen, and then the next one without asking again."""
    press(latched, "Team board")
    type_code(latched, CODE)
    assert latched.app.screens.current == "team"
    latched.app.go("setup")
    assert latched.app.screens.current == "setup"


def test_a_wrong_code_is_told_and_back_leads_home(latched):
    """The pad stays, empty, and says what happened."""
    press(latched, "Set-up")
    type_code(latched, WRONG)
    pad = latched.app.screens.current_screen
    assert (pad.name, pad.words, pad.typed) == ("code", "That is not the code.", "")
    press(latched, "Back")
    assert latched.app.screens.current == "home"


def test_the_board_closes_it(latched):
    """Who hands the tablet over with the board on it hands over the bench and no more."""
    latched.app.latch.open()
    running(latched)
    latched.app.go("board")
    latched.app.go("team")
    assert latched.app.screens.current == "code"


@pytest.mark.parametrize("practice", [False, True])
def test_a_pause_closes_it_and_leaves_the_review(latched, practice):
    """What comes back after a pause is the bench: the running board, or home."""
    latched.app.latch.open()
    latched.app.go("setup")
    if practice:
        running(latched)
    assert latched.app.dispatch("on_pause")
    assert latched.app.latch.shut
    assert latched.app.screens.current == ("board" if practice else "home")


def test_a_pause_while_a_new_code_is_chosen_leaves_the_pad(latched):
    """Nobody finds the pad open for another code when the tablet comes back."""
    latched.app.latch.open()
    latched.app.go("setup")
    press(latched, "Another code")
    type_code(latched, "9999")
    latched.app.dispatch("on_pause")
    assert latched.app.screens.current == "home"
    latched.app.go("setup")
    assert (latched.app.screens.current_screen.name, latched.app.screens.current_screen.aim) == (
        "code",
        "ask",
    )
    assert load_tablet().latch == SEALED


@pytest.mark.parametrize("event", ["on_minimize", "on_hide"])
def test_a_window_put_away_closes_it(latched, event):
    """On a laptop, where no app is paused, the hidden window does the same."""
    latched.app.latch.open()
    latched.app.go("setup")
    Window.dispatch(event)
    assert latched.app.screens.current == "home"


@pytest.fixture
def ahead(monkeypatch):
    """Give by how many seconds Kivy's clock runs ahead, and set it back afterwards."""
    seconds, now = [0.0], Clock.time
    monkeypatch.setattr(Clock, "time", lambda: now() + seconds[0])
    yield seconds
    monkeypatch.undo()
    Clock.tick()  # or what is triggered before the next one waits until the real time has caught up


def test_minutes_without_a_touch_close_it(latched, ahead):
    """A review left lying open closes by itself after three minutes; each touch puts that off."""
    latched.app.latch.open()
    latched.app.go("setup")
    for _ in range(3):
        ahead[0] += 170
        latched.frames(1)
        assert latched.app.screens.current == "setup"
        latched.tap((5, 5))
    ahead[0] += 181
    latched.frames(1)
    assert latched.app.latch.shut
    assert latched.app.screens.current == "home"


def test_lock_closes_it_at_once(latched):
    """The key is there only while the latch is open."""
    latched.app.latch.open()
    press(latched, "Lock")
    assert latched.app.latch.shut
    assert latched.app.screens.current_screen.needs_code


# setting and taking off


def test_a_code_is_chosen_on_the_pad_and_holds_after_a_restart(drive, season_path):
    """Typed twice alike it is set; the file holds a seal and not the code; the next start asks for it."""
    driver = drive(season_path)
    driver.app.go("setup")
    press(driver, "Set a code")
    type_code(driver, "135790")
    assert driver.app.screens.current_screen.heading == "The new code once more"
    type_code(driver, "135790")
    assert driver.app.screens.current == "setup"
    assert "135790" not in tablet_file().read_text("utf-8")
    driver.close()
    again = drive(season_path)
    again.app.go("setup")
    assert again.app.screens.current == "code"
    type_code(again, "135790")
    assert again.app.screens.current == "setup"


def test_while_a_code_is_worked_on_the_pad_asks_for_a_moment(drive, season_path):
    """Whoever left the grey keys at once would have no code, and believe that there is one."""
    driver, said = drive(season_path), []
    driver.app.go("setup")
    press(driver, "Set a code")
    pad = driver.app.screens.current_screen
    pad.bind(held=lambda _, held: said.append((held, pad.words)))
    type_code(driver, "135790")
    assert said == []
    type_code(driver, "135790")
    assert said[0] == (True, A_MOMENT)
    press(driver, "Back")
    press(driver, "Set-up")
    said.clear()
    type_code(driver, WRONG)
    assert said[0] == (True, A_MOMENT)
    assert pad.words == "That is not the code."


@pytest.mark.parametrize("typed", [("1234", "1243"), ("123", ""), ("12", "")])
def test_two_codes_that_differ_or_a_short_one_set_nothing(drive, season_path, typed):
    """The pad says why, and the tablet stays without a code."""
    driver = drive(season_path)
    driver.app.go("setup")
    press(driver, "Set a code")
    for code in typed:
        if code:
            type_code(driver, code)
    pad = driver.app.screens.current_screen
    assert pad.name == "code"
    assert "not alike" in pad.words or "4 to 8 digits" in pad.words
    assert load_tablet().latch == ""


def test_a_new_code_is_in_force_when_the_set_up_is_left(drive, season_path):
    """The set-up says so, goes on without asking, and home then says what needs the code."""
    driver = drive(season_path)
    driver.app.go("setup")
    press(driver, "Set a code")
    type_code(driver, CODE)
    type_code(driver, CODE)
    setup = driver.app.screens.current_screen
    assert (setup.name, "when you leave" in setup.latch_words) == ("setup", True)
    press(driver, "Measure")
    press(driver, "Back")
    assert driver.app.screens.current == "setup"
    press(driver, "Back")
    assert driver.app.screens.current_screen.needs_code
    driver.app.go("team")
    assert driver.app.screens.current == "code"


def test_a_code_that_was_typed_stays_open_after_the_set_up(latched):
    """Only a code that was set there closes behind the set-up: who typed it is not asked again at once."""
    press(latched, "Set-up")
    type_code(latched, CODE)
    assert "when you leave" not in latched.app.screens.current_screen.latch_words
    press(latched, "Back")
    assert latched.app.screens.current_screen.can_lock


@pytest.mark.parametrize("window", [(1280, 800), (800, 1280)], ids=["wide", "upright"], indirect=True)
def test_the_pad_has_room_for_what_it_says(drive, season_path, window):
    """That two codes were not alike is said whole, in lines that have their room."""
    driver = drive(season_path)
    driver.app._to_new_code()
    type_code(driver, CODE)
    type_code(driver, WRONG)
    pad = driver.app.screens.current_screen
    (words,) = [w for w in pad.walk(restrict=True) if getattr(w, "text", "") == pad.words]
    assert "from the start" in words.text
    assert not words.is_shortened
    assert words.texture_size[1] <= words.height


@pytest.mark.parametrize("larger_words", [1.0, 1.4], ids=["words", "larger"], indirect=True)
@both_ways_up
def test_what_the_pad_tells_stands_whole_above_or_beside_it(larger_words, window, latched):
    """No line of it goes under the bar or into the keys, however large the words are."""
    press(latched, "Set-up")
    pad = latched.app.screens.current_screen
    bar = next(part for part in pad.walk(restrict=True) if isinstance(part, Bar))
    about, forgotten = pad.ids.about, pad.ids.forgotten
    one = next(key for key in keys_of(latched) if key.title == "1")
    assert about.top <= bar.y
    assert forgotten.top <= about.y
    assert forgotten.y >= one.top or forgotten.right <= one.x
    assert one.top <= bar.y


def test_nine_digits_are_eight(drive, season_path):
    """The pad takes no more digits than a code has."""
    driver = drive(season_path)
    driver.app._to_new_code()
    for digit in "123456789":
        press(driver, digit)
    assert driver.app.screens.current_screen.typed == "12345678"
    press(driver, "Erase")
    assert driver.app.screens.current_screen.typed == "1234567"


def test_it_is_taken_off_in_the_set_up(latched):
    """Every screen is free again, and after a restart too."""
    latched.app.latch.open()
    latched.app.go("setup")
    press(latched, "Take it off")
    assert load_tablet().latch == ""
    latched.app.dispatch("on_pause")
    latched.app.go("team")
    assert latched.app.screens.current == "team"


def test_a_tablet_that_keeps_nothing_gets_no_code(drive, season_path, monkeypatch, tmp_path):
    """Where settings cannot be written, a code would be gone at the next start: it is refused in words."""
    driver = drive(season_path)
    (tmp_path / "evaltrack").write_text("in the way")
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "evaltrack" / "below"))
    driver.app._to_new_code()
    type_code(driver, CODE)
    type_code(driver, CODE)
    assert driver.app.screens.current == "code"
    assert "cannot be written" in driver.app.screens.current_screen.words
    assert not driver.app.desk.tablet.latch


def test_deleting_the_settings_file_takes_the_code_off(latched, drive, season_path):
    """What the pad tells whoever forgot the code is true, and the file it names is the one."""
    latched.app.go("setup")
    assert str(tablet_file()) in latched.app.screens.current_screen.forgotten
    latched.close()
    tablet_file().unlink()
    again = drive(season_path)
    again.app.go("setup")
    assert again.app.screens.current == "setup"


def test_the_pad_says_that_it_is_a_latch_and_not_encryption(latched):
    """The words stand on the pad and in the set-up."""
    latched.app.go("setup")
    assert "latch and not encryption" in latched.app.screens.current_screen.about
    latched.app.latch.open()
    latched.app.go("setup")
    assert "not encryption" in latched.app.screens.current_screen.latch_words


# the keyboard


def test_the_pad_works_from_the_keyboard(latched):
    """Digits of both blocks, Backspace, Enter; Escape leads back."""
    latched.app.go("team")
    pad = latched.app.screens.current_screen
    latched.key(ESCAPE)
    assert latched.app.screens.current == "home"
    latched.app.go("team")
    for key in (ord("2"), ord("9"), BACKSPACE, 256 + 4, ord("6"), 256 + 8):
        latched.key(key)
    assert pad.typed == CODE
    latched.key(ENTER)
    latched.wait(lambda: latched.app.screens.current == "team")


# what wrong codes cost


class Hours:
    """A clock that the test sets forward."""

    def __init__(self):
        self.now = 1000.0

    def __call__(self):
        return self.now


def tries(latch, code):
    """Try a code and return its answer, or None when none is taken now."""
    answers = []
    if not latch.try_code(code, answers.append):
        return None
    while not answers:
        Clock.tick()
    return answers[0]


def plain_hash(code, salt, *_):
    """Return a hash of no cost in the place of the slow one."""
    return sha256(code.encode() + salt).digest()


@pytest.fixture
def quick(monkeypatch):
    """Make the hash quick: here it is the waiting that matters."""
    monkeypatch.setattr("evaltrack.device.passcode._stretch", plain_hash)
    return seal(CODE)


def test_some_slips_are_free_and_then_each_wrong_code_doubles_the_wait(quick):
    """Three slips cost nothing; then 30 s, 1 min, 2 min ..., and the right code ends it."""
    keep_tablet(load_tablet(), latch=quick)
    clock = Hours()
    latch = Latch(Desk(), clock)
    waits = []
    for _ in range(6):
        assert tries(latch, WRONG) is False
        waits.append(latch.wait_left())
        clock.now += latch.wait_left()
    assert waits == [0, 0, 30, 60, 120, 240]
    assert tries(latch, CODE) is True
    assert (latch.wrong, latch.wait_left(), load_tablet().wrong_codes) == (0, 0, 0)


def test_a_try_is_counted_on_disk_before_it_is_looked_at(quick):
    """Killing the app while the code is looked at wins no free try."""
    keep_tablet(load_tablet(), latch=quick)
    latch = Latch(Desk(), Hours())
    assert latch.try_code(WRONG, lambda _: None)
    assert load_tablet().wrong_codes == 1


def test_during_the_wait_even_the_right_code_is_not_taken(quick):
    """The wait is for everybody; it costs no further try."""
    keep_tablet(load_tablet(), latch=quick, wrong_codes=5)
    clock = Hours()
    latch = Latch(Desk(), clock)
    clock.now += wait_after(5) - 1
    assert tries(latch, CODE) is None
    assert load_tablet().wrong_codes == 5
    clock.now += 1
    assert tries(latch, CODE) is True


steps = st.lists(
    st.one_of(
        st.just(("wrong", 0)),
        st.just(("restart", 0)),
        st.tuples(st.just("pass"), st.integers(0, 2 * LONGEST_WAIT)),  # seconds
        st.tuples(st.just("set the clock"), st.integers(-(10**9), 10**9)),  # by seconds
    ),
    max_size=25,
)


@settings(max_examples=25, deadline=None)
@given(steps=steps)
def test_neither_a_restart_nor_the_wall_clock_shortens_the_wait(tmp_path_factory, steps):
    """Whatever is done between two codes that are taken, the open app has waited the full time in one go."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("EVALTRACK_HOME", str(tmp_path_factory.mktemp("tablet")))
        patch.setattr("evaltrack.device.passcode._stretch", plain_hash)
        wall = [1_800_000_000.0]
        patch.setattr("time.time", lambda: wall[0])
        keep_tablet(load_tablet(), latch=seal(CODE))
        clock = Hours()
        latch, waited, wrong = Latch(Desk(), clock), 0, 0
        for step, seconds in steps:
            if step == "restart":
                latch, waited = Latch(Desk(), clock), 0
            elif step == "wrong":
                taken = tries(latch, WRONG) is False
                assert taken == (waited >= wait_after(wrong))
                wrong, waited = (wrong + 1, 0) if taken else (wrong, waited)
            elif step == "pass":
                clock.now += seconds
                waited += seconds
            wall[0] += seconds
            assert load_tablet().wrong_codes == latch.wrong == wrong
            assert (latch.wait_left() > 0) == (waited < wait_after(wrong))


def test_the_pad_counts_the_wait_down_after_a_restart(latched, drive, season_path):
    """The app is ended and opened again: the wait stands on the pad from its start, and takes no digit."""
    latched.close()
    keep_tablet(load_tablet(), wrong_codes=FREE_TRIES)
    again = drive(season_path)
    again.app.go("team")
    again.settle()
    pad = again.app.screens.current_screen
    assert pad.words.startswith("3 wrong codes in a row. Wait ")
    again.key(ord("2"))
    assert (pad.held, pad.typed) == (True, "")
    again.app.latch._since -= wait_after(FREE_TRIES)
    again.wait(lambda: not pad.held)
    assert pad.words == "Now another try."
    type_code(again, CODE)
    assert again.app.screens.current == "team"


def test_a_seal_that_makes_no_sense_is_no_latch(drive, season_path):
    """Somebody who edits the file breaks the latch, as the pad says, and not the app."""
    keep_tablet(load_tablet(), latch=SEALED)
    found = json.loads(tablet_file().read_text("utf-8"))
    tablet_file().write_text(json.dumps(found | {"latch": "open sesame"}))
    driver = drive(season_path)
    driver.app.go("team")
    assert driver.app.screens.current == "team"


def test_a_seal_of_an_earlier_version_is_sealed_anew_after_the_right_code(latched):
    """It opens as before, and then costs what a code costs today; a wrong code leaves it as it is."""
    digest = scrypt(CODE.encode(), salt=bytes(16), n=2**14, r=8, p=1, dklen=32).hex()
    old = f"scrypt14:{bytes(16).hex()}:{digest}"
    keep_tablet(load_tablet(), latch=old)
    press(latched, "Team board")
    type_code(latched, WRONG)
    assert load_tablet().latch == old
    type_code(latched, CODE)
    assert latched.app.screens.current == "team"
    latched.wait(lambda: load_tablet().latch != old)
    sealed = load_tablet().latch
    assert not is_old(sealed)
    assert fits(CODE, sealed)
    latched.app.go("setup")
    assert latched.app.screens.current == "setup"


# other windows of the same tablet


def test_the_pad_goes_on_when_another_window_takes_the_code_off(latched):
    """Nothing is typed: the screen that was asked for comes by itself."""
    press(latched, "Team board")
    keep_tablet(load_tablet(), latch="", wrong_codes=0)
    latched.wait(lambda: latched.app.screens.current == "team")


def test_the_pad_asks_for_the_code_that_another_window_has_set(latched):
    """The old one opens nothing any more, and the new one does."""
    press(latched, "Team board")
    keep_tablet(load_tablet(), latch=ANOTHER, wrong_codes=0)
    type_code(latched, CODE)
    assert latched.app.screens.current == "code"
    type_code(latched, "80528052")
    assert latched.app.screens.current == "team"


def test_a_code_that_changes_while_one_is_looked_at_is_the_one_that_counts(quick):
    """A look at the old seal says nothing: the code is held against the new one, right or wrong."""
    keep_tablet(load_tablet(), latch=quick)
    latch, answers = Latch(Desk(), Hours()), []
    assert latch.try_code(CODE, answers.append)
    keep_tablet(load_tablet(), latch=seal("80528052"))
    while not answers:
        Clock.tick()
    assert (answers, latch.shut, load_tablet().wrong_codes) == ([False], True, 1)


def test_a_code_that_another_window_sets_is_asked_for_here(drive, season_path):
    """A window that was free until then asks for it before the next screen off the bench."""
    driver = drive(season_path)
    driver.app.go("team")
    keep_tablet(load_tablet(), latch=ANOTHER)
    driver.app.go("setup")
    assert driver.app.screens.current == "code"


def test_a_window_left_open_shuts_when_another_one_changes_the_code(latched):
    """Who was let in by the old code is asked for the new one."""
    latched.app.latch.open()
    latched.app.go("setup")
    keep_tablet(load_tablet(), latch=ANOTHER)
    latched.app.go("measure")
    assert (latched.app.screens.current, latched.app.latch.shut) == ("code", True)


def test_a_code_that_another_window_has_set_is_not_taken_off(latched):
    """The set-up that was opened with the old code leads home instead."""
    latched.app.latch.open()
    latched.app.go("setup")
    keep_tablet(load_tablet(), latch=ANOTHER)
    press(latched, "Take it off")
    assert (load_tablet().latch, latched.app.screens.current) == (ANOTHER, "home")


def test_the_pad_for_a_new_code_closes_when_another_window_sets_one(latched):
    """Two windows do not choose a code at the same time."""
    latched.app.latch.open()
    latched.app.go("setup")
    press(latched, "Another code")
    keep_tablet(load_tablet(), latch=ANOTHER)
    latched.wait(lambda: latched.app.screens.current == "home")
    assert latched.app.latch.shut


def test_of_two_windows_that_set_a_code_the_quicker_one_has_set_it(quick):
    """The other one is told that its code is not kept, and asks for the one that is."""
    keep_tablet(load_tablet(), latch=quick)
    latch, answers = Latch(Desk(), Hours()), []
    latch.open()
    latch.set_code("9999", answers.append)
    keep_tablet(load_tablet(), latch=ANOTHER)
    while not answers:
        Clock.tick()
    assert (answers, load_tablet().latch, latch.shut) == ([False], ANOTHER, True)


def test_wrong_codes_of_another_window_make_this_one_wait(quick):
    """Two windows are no way to two tries: each waits from the last wrong code of either."""
    keep_tablet(load_tablet(), latch=quick)
    clock = Hours()
    here, there = Latch(Desk(), clock), Latch(Desk(), clock)
    for _ in range(FREE_TRIES):
        assert tries(there, WRONG) is False
        clock.now += 1
    assert tries(here, CODE) is None
    assert (here.wrong, here.wait_left()) == (FREE_TRIES, wait_after(FREE_TRIES))


_GUESSING = """
import sys
from kivy.clock import Clock
from evaltrack.device.tablet import count_wrong_code, load_tablet
mine = load_tablet()
print("ready", flush=True)
sys.stdin.readline()
for _ in range(int(sys.argv[1])):
    mine = count_wrong_code(mine)
"""


def test_wrong_codes_of_two_windows_at_once_are_all_counted():
    """Two processes that count at the same time lose none, while a third changes the look."""
    keep_tablet(load_tablet(), latch=SEALED)
    look = load_tablet()
    command = [sys.executable, "-c", _GUESSING, "60"]
    both = [subprocess.Popen(command, stdin=-1, stdout=-1, text=True) for _ in range(2)]
    assert [child.stdout.readline() for child in both] == ["ready\n"] * 2
    for child in both:
        child.stdin.write("go\n")
        child.stdin.flush()
    while any(child.poll() is None for child in both):
        look = keep_tablet(look, dark=not look.dark)
    for child in both:
        child.communicate()
    assert [child.returncode for child in both] == [0, 0]
    assert load_tablet().wrong_codes == 120
    assert load_tablet().dark == look.dark


@pytest.mark.parametrize("leave", ["on_pause", "board"])
def test_a_code_set_in_another_window_keeps_what_is_put_away(drive, season_path, leave):
    """A window that never asked for a code goes to the bench with the others when it is put away."""
    driver = drive(season_path)
    running(driver)
    driver.app.go("team")
    keep_tablet(load_tablet(), latch=ANOTHER)
    driver.app.dispatch("on_pause") if leave == "on_pause" else driver.app.go("board")
    assert (driver.app.screens.current, driver.app.desk.tablet.latch) == ("board", ANOTHER)


def test_a_try_that_nobody_could_look_at_is_not_called_wrong(quick, monkeypatch):
    """A tablet without memory for the hash says so; the try counts all the same, or there was a way round."""
    keep_tablet(load_tablet(), latch=quick)
    monkeypatch.setattr("evaltrack.device.passcode._stretch", no_memory)
    latch, answers = Latch(Desk(), Hours()), []
    assert latch.try_code(CODE, answers.append)
    while not answers:
        Clock.tick()
    assert (answers, latch.shut, load_tablet().wrong_codes) == ([None], True, 1)


def no_memory(*_):
    """Fail as a hash does that gets no memory."""
    raise MemoryError


# what is under way when somebody leaves


def test_who_leaves_the_pad_before_the_answer_stays_where_he_is(latched):
    """The right code, then Back: neither the screen nor the latch opens behind the next one's back."""
    press(latched, "Team board")
    for digit in CODE:
        press(latched, digit)
    press(latched, "Enter")
    press(latched, "Back")
    latched.wait(lambda: not latched.app.latch._trying)
    latched.frames(3)
    assert (latched.app.screens.current, latched.app.latch.shut) == ("home", True)
    assert load_tablet().wrong_codes == 0


def test_a_pause_before_the_answer_leaves_the_latch_shut(latched):
    """The tablet that was put away while the code was looked at asks for it again."""
    press(latched, "Team board")
    for digit in CODE:
        press(latched, digit)
    press(latched, "Enter")
    latched.app.dispatch("on_pause")
    latched.wait(lambda: not latched.app.latch._trying)
    latched.frames(3)
    assert (latched.app.screens.current, latched.app.latch.shut) == ("code", True)
    type_code(latched, CODE)
    assert latched.app.screens.current == "team"


def test_who_leaves_the_pad_before_a_new_code_is_kept_has_set_none(drive, season_path):
    """Back while the code is being sealed: none is set, and no screen comes by itself."""
    driver = drive(season_path)
    driver.app.go("setup")
    press(driver, "Set a code")
    type_code(driver, CODE)
    for digit in CODE:
        press(driver, digit)
    before = threading.active_count()
    press(driver, "Enter")
    press(driver, "Back")
    driver.app.go("home")
    driver.wait(lambda: threading.active_count() <= before)
    driver.frames(3)
    assert (driver.app.screens.current, load_tablet().latch) == ("home", "")
