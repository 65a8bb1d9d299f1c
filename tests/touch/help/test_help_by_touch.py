"""The key for help on every screen, its page, the way back to where one was, and hints that go after use."""

import re
from datetime import date

import pypdf
import pytest
from every_screen import show
from kivy.core.window import Window
from on_boards import board_of, both_ways_up, screen_of, tap
from pressing import keys_of, press
from test_help_pages import titles_of

from evaltrack.device.passcode import seal
from evaltrack.device.season_places import guides_folder
from evaltrack.device.tablet import BoardKind, Hand, keep_tablet, load_tablet
from evaltrack.rink.tally import Outcome
from evaltrack.touch.help.first_hint import FirstHint
from evaltrack.touch.help.help_key import HelpKey
from evaltrack.touch.help.help_screens import FIRST_ACTS
from evaltrack.touch.help.help_sheet import HelpSheet, Point
from evaltrack.touch.help.sketch import Sketch
from evaltrack.touch.help.sketch_rows import read_row
from evaltrack.touch.tablet.tablet_screens import ScreenName
from evaltrack.touch.widgets.button import TapButton
from evaltrack.words.help_pages import help_pages

# keys that say all there is to say, or stand beside what they change
PLAIN_KEYS = re.compile(
    r"Back( to the board)?|Home|Go on with the practice.*|more|Locked|Up|Down|Take out|Off|On|Letter|PNG"
    r"|English|Français|backups|Clear the keys|Erase|By name|Every(one| skill)|Defenders?|Forwards?|Goalies?"
    r"|Also forward|[\d+–−-].*|(A|4) (minute|weeks) \w+"
)
F1, ESCAPE, TAB, ENTER = 282, 27, 9, 13
LEAST = 53  # dp: 9 mm on a tablet of ten inches


def help_key(driver) -> HelpKey:
    (key,) = [part for part in driver.app.screens.current_screen.children if isinstance(part, HelpKey)]
    return key


def ask_for_help(driver) -> HelpSheet:
    driver.settle()
    driver.tap(help_key(driver))
    driver.settle()
    return driver.app.screens.current_screen.cover


def go_back(driver) -> None:
    (back,) = [w for w in driver.app.screens.current_screen.cover.walk() if getattr(w, "title", "") == "Back"]
    driver.tap(back)
    driver.settle()


def every_screen(driver):
    """Show one screen after the other, filled as far as it takes a player or a practice to fill it."""
    for name in ScreenName:
        yield show(driver, name).name


def not_spoken_of(screen) -> list[str]:
    """Return the titles of the screen's own keys that none of its pages of help names."""
    pages = [page for name, page in help_pages().items() if screen.name in (name, name.rpartition("_")[0])]
    drawn = [item.words for page in pages for row in page.sketch for item in read_row(row).items]
    said = " ".join([*drawn, *(point for page in pages for point in page.points)])
    keys = {w.title for w in screen.walk() if isinstance(w, TapButton) and w.parent is not screen}
    own = sorted(keys & titles_of(screen.name))
    named = [key for key in own if re.search(rf"(?<!\w){re.escape(key)}(?!\w)", said)]
    return [key for key in own if key and key not in named and not PLAIN_KEYS.fullmatch(key)]


def overlaps(one, other) -> bool:
    (x, y), (u, v) = one.to_window(*one.pos), other.to_window(*other.pos)
    return (
        x < u + other.width - 1
        and u < x + one.width - 1
        and y < v + other.height - 1
        and v < y + one.height - 1
    )


def hint_of(driver) -> str:
    """Return the hint that can be read on the screen in front."""
    parts = driver.app.screens.current_screen.walk(restrict=True)
    return "".join(part.text for part in parts if isinstance(part, FirstHint) and part.height > 1)


def work_off(driver) -> None:
    """Wait until all long work that the screens asked for is answered: what is told of it comes and goes."""
    answered = []
    driver.app.worker.ask(int, answered.append, answered.append)
    driver.wait(lambda: answered)


@both_ways_up
def test_the_key_has_one_place_on_every_screen_and_covers_nothing(window, start_bench, season_path):
    """In the upper right corner, everywhere within two dp, 9 mm a side to touch, and over no other key."""
    driver, places = start_bench(season_path), set()
    for name in every_screen(driver):
        key, screen = help_key(driver), driver.app.screens.current_screen
        assert (key.right, key.top) == (Window.width, Window.height), name
        assert min(key.size) >= LEAST
        places.add((round(key.face[0]), round(key.face[1] + key.face[3])))
        others = [w for w in screen.walk(restrict=True) if isinstance(w, TapButton) and w is not key]
        shown = [w for w in others if w.opacity and min(w.size) > 1 and w.parent is not screen]
        assert not [w.title for w in shown if overlaps(w, key)], name
    assert len({x for x, _ in places}) == 1
    assert max(y for _, y in places) - min(y for _, y in places) <= 2


@both_ways_up
def test_the_key_stays_in_the_bar_from_one_season_to_the_next(window, start_bench, season_path):
    """The invented team's strip goes and comes while another screen is in front: the key is not under it."""
    driver = start_bench(season_path)
    strip = driver.app.invented_mark
    strip.show(True)
    driver.settle()
    driver.app.go("home")
    driver.settle()
    strip.show(False)
    strip.show(True)
    driver.app.go("board")
    driver.settle()
    assert help_key(driver).top == help_key(driver).bar.top < Window.height


@both_ways_up
def test_every_screen_opens_its_page_and_back_leads_to_where_one_was(window, start_bench, season_path):
    """Each page has its heading, its points and its drawing, none cut, and speaks of every key of its screen;
    after Back the screen is as it was."""
    driver, missing = start_bench(season_path), []
    for name in every_screen(driver):
        screen = driver.app.screens.current_screen
        work_off(driver)
        missing += [(name, key) for key in not_spoken_of(screen)]
        before = [(type(w), *w.pos, *w.size) for w in screen.walk(restrict=True)]
        sheet, page = ask_for_help(driver), help_pages()[name]
        assert sheet.heading == page.heading
        points = [w for w in sheet.walk() if isinstance(w, Point)]
        (sketch,) = [w for w in sheet.walk() if isinstance(w, Sketch)]
        assert [point.number for point in points] == list(range(1, len(page.points) + 1))
        assert all(point.ids.words.height == point.ids.words.texture_size[1] for point in points)
        assert not any(overlaps(point, sketch) for point in points)
        assert len(sketch.rows) == len(page.sketch)
        assert sketch.height == pytest.approx(sketch.wanted)
        assert sketch.canvas.children[0].children
        go_back(driver)
        assert driver.app.screens.current == name
        assert [(type(w), *w.pos, *w.size) for w in screen.walk(restrict=True)] == before
    assert missing == [], str(missing)


@pytest.mark.parametrize("kind", BoardKind)
def test_each_board_has_a_page_of_its_own(start_bench, season_path, kind):
    """Whoever asks for help by rep reads of reps and plates, and not of the board that is not in front."""
    driver = start_bench(season_path)
    screen_of(driver).choose(kind)
    page = help_pages()[{BoardKind.GROUP: "board"}.get(kind, f"board_{kind}")]
    assert ask_for_help(driver).heading == page.heading
    assert kind == BoardKind.GROUP or page != help_pages()["board"]


def test_while_the_day_is_asked_help_and_hint_speak_of_the_day(start_demo):
    """No line tells to tap players who are not shown yet; it comes with them."""
    driver = start_demo()
    driver.app.screen("start")._today = lambda: date(2026, 11, 26)
    press(driver, "Start a practice")
    assert driver.app.screens.current_screen.asked
    (hint,) = [part for part in driver.app.screens.current_screen.walk() if isinstance(part, FirstHint)]
    assert (hint.text, hint.height) == ("", 0)
    assert ask_for_help(driver).heading == help_pages()["start_day"].heading
    go_back(driver)
    (answer,) = [key for key in keys_of(driver) if key.small == "the day chosen above"]
    driver.tap(answer)
    driver.settle()
    assert hint_of(driver) == help_pages()["start"].hint
    assert ask_for_help(driver).heading == help_pages()["start"].heading


def test_what_was_chosen_stays_chosen(drive, season_path):
    """Two players taken out at the start and another drill: after the help they still are."""
    driver = drive(season_path)
    press(driver, "Start a practice")
    screen = driver.app.screens.current_screen
    for switch in list(screen.ids.players.children)[:2]:
        driver.tap(switch)
    press(driver, "Wall work")
    chosen = set(screen._here), screen.drill
    ask_for_help(driver)
    go_back(driver)
    assert (screen._here, screen.drill) == chosen
    assert len(screen._here) == 18
    assert screen.drill == "wall_work"


def test_no_touch_and_no_key_reaches_the_board_under_its_help(start_bench, season_path):
    """Taps all over the page, and every key of the board, leave the season as it was."""
    driver = start_bench(season_path)
    sheet = ask_for_help(driver)
    for place in range(20):
        tap(driver, place, Outcome.DONE)
    for letter in "dmuzpskn123":
        driver.key(ord(letter), letter)
    for key in (ENTER, 273, 274, 275, 276):
        driver.key(key)
    assert driver.app.screens.current_screen.cover is sheet
    assert driver.app.desk.total == 0
    assert not driver.app.desk.station.pressure
    go_back(driver)
    tap(driver, 0, Outcome.DONE)
    assert driver.app.desk.total == 1


def test_help_by_keyboard(start_bench, season_path):
    """F1 opens it, Tab and Enter press its keys, Escape leads back, and the board has its keys again."""
    driver = start_bench(season_path)
    screen = screen_of(driver)
    driver.key(F1)
    assert screen.cover
    driver.key(TAB)
    (focused,) = [w for w in screen.walk() if getattr(w, "focused", False)]
    assert focused in list(screen.cover.walk())
    driver.key(ENTER)
    assert not screen.cover
    driver.key(F1)
    driver.key(ESCAPE)
    assert not screen.cover
    assert driver.app.screens.current == "board"
    driver.key(ord("p"), "p")
    assert driver.app.desk.station.pressure


def test_help_goes_when_another_screen_comes(start_bench, season_path):
    """A practice that is left open leads home from under the help; the board has no page over it then."""
    driver = start_bench(season_path)
    ask_for_help(driver)
    driver.app.desk.leave_open()
    driver.settle()
    assert driver.app.screens.current == "home"
    assert not driver.app.screens.get_screen("board").cover


def test_the_latch_is_not_passed_by_help(drive, season_path):
    """On the pad, help opens and leads back to the pad, which still asks."""
    keep_tablet(load_tablet(), latch=seal("2468", rounds=1))
    driver = drive(season_path)
    driver.app.go("team")
    assert driver.app.screens.current == "code"
    assert ask_for_help(driver).heading == help_pages()["code"].heading
    go_back(driver)
    assert driver.app.screens.current == "code"
    assert not driver.app.screens.has_screen("team")


@pytest.mark.parametrize("hand", Hand)
@both_ways_up
def test_the_tiles_stay_where_they_are(window, start_bench, season_path, hand):
    """The board has the whole width, and the key for help stands above it, for both hands."""
    keep_tablet(load_tablet(), hand=hand.value)
    driver = start_bench(season_path)
    board = board_of(driver)
    assert board.width == Window.width
    assert help_key(driver).y >= board.top
    assert screen_of(driver).ids.head.height == (92 if Window.width > Window.height else 132)


# hints


@pytest.mark.parametrize("name", FIRST_ACTS)
def test_a_newcomer_has_a_hint(start_bench, season_path, name):
    """One line on each of these screens, once there is something to do it with."""
    driver = start_bench(season_path)
    desk = driver.app.desk
    desk.tally(desk.players[0].id, Outcome.DONE)
    driver.app.go(name)
    driver.wait(lambda: hint_of(driver))
    assert hint_of(driver) == help_pages()[name].hint


def test_a_hint_stays_until_its_act_and_goes_for_good(drive, season_path):
    """Looking is not enough; after the act it is gone, on this tablet also after the app was closed."""
    driver = drive(season_path)
    for _ in range(2):
        press(driver, "Roster")
        assert hint_of(driver)
        press(driver, "Back")
    press(driver, "Roster")
    shown = [key for key in keys_of(driver) if key.title.startswith("2 ")]
    driver.tap(shown[0])
    driver.settle()
    assert driver.app.screens.current == "player_form"
    press(driver, "Back")
    assert hint_of(driver) == ""
    driver.close()
    again = drive(season_path)
    press(again, "Roster")
    assert hint_of(again) == ""
    press(again, "Back")
    press(again, "Start a practice")
    assert hint_of(again)


def test_a_hint_does_not_go_under_a_finger(drive, season_path):
    """What stands below the hint keeps its place until the screen is left."""
    driver = drive(season_path)
    press(driver, "Start a practice")
    screen = driver.app.screens.current_screen
    places = [key.pos[:] for key in screen.ids.players.children]
    driver.app._learn("start")
    driver.settle()
    assert [key.pos[:] for key in screen.ids.players.children] == places


def test_outcomes_that_were_tapped_are_known_from_then_on(start_bench, season_path):
    """Done, then missed: off the board both are known acts of this tablet, unseen is not yet."""
    driver = start_bench(season_path)
    tap(driver, 0, Outcome.DONE)
    tap(driver, 1, Outcome.MISSED)
    assert load_tablet().acts == ()
    press(driver, "Practice")
    assert set(load_tablet().acts) == {"done", "missed"}


# the guide


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_guide_is_printed_from_any_page_of_help(start_bench, season_path, paper):
    """One tap writes it where the seasons lie, and the page says where; what was on the board stays."""
    driver = start_bench(season_path)
    sheet = ask_for_help(driver)
    titled = [w for w in sheet.walk() if getattr(w, "title", "") == "Print the guide"]
    driver.tap(titled[0 if paper == "letter" else 1])
    written = guides_folder() / f"guide-kettle-bay-lanterns-12u-{paper}.pdf"
    driver.wait(lambda: str(written) in sheet.told)
    reader = pypdf.PdfReader(written)
    assert len(reader.pages) == 2
    assert round(float(reader.pages[0].mediabox.width)) == (612 if paper == "letter" else 595)


def test_a_latched_tablet_prints_no_guide(drive, season_path):
    """The help of the bench stays free; a file is made only by whoever knows the code."""
    keep_tablet(load_tablet(), latch=seal("2468"))
    driver = drive(season_path)
    driver.key(F1)
    sheet = driver.app.screens.current_screen.cover
    sheet.dispatch("on_guide", "a4")
    assert sheet.told.startswith("This tablet is latched")
    driver.app.latch.open()
    sheet.dispatch("on_guide", "a4")
    assert sheet.told == "The guide is being made ..."


def test_the_guide_needs_no_season(drive, tmp_path):
    """Before there is any season it has the words that are shipped."""
    driver = drive()
    assert driver.app.screens.current == "seasons"
    sheet = ask_for_help(driver)
    sheet.dispatch("on_guide", "a4")
    driver.wait(lambda: "guide-a4.pdf" in sheet.told)
    assert (guides_folder() / "guide-a4.pdf").exists()


@both_ways_up
def test_the_hint_of_the_board_names_what_was_not_tapped_yet(window, start_bench, season_path):
    """Each outcome is told until it was tapped, and never again, also not in the next practice."""
    driver = start_bench(season_path)
    last, tiles = screen_of(driver).ids.last, board_of(driver).layout.tile(0)
    assert last.hint == "Right half: done. Left half: missed. The name: not seen"
    tap(driver, 0, Outcome.DONE)
    assert last.hint == "Left half: missed. The name: not seen"
    tap(driver, 3, Outcome.UNSEEN)
    assert last.hint == "Left half: missed"
    tap(driver, 0, Outcome.MISSED)
    assert last.hint == ""
    assert board_of(driver).layout.tile(0) == tiles
    press(driver, "Practice")
    press(driver, "End practice")
    desk = driver.app.desk
    assert desk.begin(date(2026, 1, 21), desk.players, "breakout_attack", "two_on_one", "Ines")
    driver.app.go("board")
    for title in ("Group", "By rep", "Player"):
        press(driver, title)
        assert last.hint == ""
