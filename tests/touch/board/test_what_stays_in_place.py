"""What keeps its place on the boards, what is mirrored for the left hand, and which chip is lit."""

from kivy.core.window import Window
from on_boards import board_of, both_ways_up, screen_of, tap
from pressing import keys_of, press

from evaltrack.rink.tally import Outcome
from evaltrack.touch.widgets.button import TapButton

KINDS = ("Group", "By rep", "Player")


def places(driver):
    """Return where each tile and each key of the board lies."""
    driver.settle()
    board = board_of(driver)
    return dict(board.layout.tiles), dict(board.layout.buttons)


@both_ways_up
def test_no_tile_moves_when_a_hint_goes(bench):
    """The hint, the last tallies, undo and redo, a message: the tiles of each board lie where they lay."""
    screen, desk = screen_of(bench), bench.app.desk
    for kind in KINDS:
        press(bench, kind)
        before = places(bench)
        assert screen.ids.last.hint
        tap(bench, 0, Outcome.DONE)
        assert places(bench) == before
        press(bench, "Undo")
        assert screen.redoes
        assert places(bench) == before
        desk.message = "not saved: the disk of this tablet is full; this tap does not count"
        assert places(bench) == before
        desk.message = ""
        assert places(bench) == before
        press(bench, "Redo")
        press(bench, "Undo")


@both_ways_up
def test_no_player_moves_when_the_question_for_the_observer_goes(drive, season_path, window):
    """On the screen that starts a practice the room of the question is kept."""
    driver = drive(season_path)
    driver.app.go("start")
    driver.settle()
    start = driver.app.screens.current_screen
    before = {key.title: (*key.pos, *key.size) for key in keys_of(driver)}
    assert start.asks
    start.ids.observer.text = "Ines"
    driver.settle()
    assert not start.asks
    assert {key.title: (*key.pos, *key.size) for key in keys_of(driver)} == before


def bars(driver):
    """Return the middle of each key in the bars, and of the strip and the clock, by what they are."""
    driver.settle()
    screen = screen_of(driver)
    named = {key.title: key for key in screen.walk(restrict=True) if isinstance(key, TapButton)}
    named |= {"strip": screen.ids.last, "since": screen.ids.foot.children[0 if left(driver) else -1]}
    return {name: widget.to_window(*widget.center) for name, widget in named.items()}


def left(driver):
    return driver.app.desk.tablet.hand == "left"


GROUPS = (("Undo", "Redo", "Group", "strip", "since"), ("2 against 1", "Next rep", "Outlet pass"))


@both_ways_up
def test_the_left_hand_mirrors_the_bars_of_every_board_and_no_tile(bench):
    """What stands on the right for the right hand stands as far on the left for the left one."""
    screen, desk = screen_of(bench), bench.app.desk
    tap(bench, 0, Outcome.DONE)
    tap(bench, 1, Outcome.DONE)
    press(bench, "Undo")
    for kind in KINDS:
        press(bench, kind)
        right, tiles = bars(bench), places(bench)
        desk.remember(hand="left")
        screen.on_pre_enter()
        mirrored = bars(bench)
        assert places(bench) == tiles
        assert set(mirrored) == set(right)
        for one, other in ((a, b) for group in GROUPS for a in group for b in group):
            if one in right and other in right and right[one][0] < right[other][0]:
                assert mirrored[one][0] > mirrored[other][0], (kind, one, other)
        assert mirrored["Undo"][0] < Window.width / 2 < right["Undo"][0]
        # blocks of keys change sides as blocks: within one they stand as before
        for one, other in (("Group", "By rep"), ("By rep", "Player"), ("Pressure", "Practice")):
            assert (right[one][0] < right[other][0]) == (mirrored[one][0] < mirrored[other][0])
        desk.remember(hand="right")
        screen.on_pre_enter()
        assert bars(bench) == right


def lit(driver):
    """Return which chips of skills are lit, those that turn the page included."""
    driver.settle()
    row = screen_of(driver).ids.skills
    return [chip.title for chip in row.children if chip.active]


@both_ways_up
def test_the_chip_of_the_watched_skill_is_always_lit(bench, drive, season_path):
    """On each page of the skills, after another step, another skill by key, another board, a restart."""
    desk = bench.app.desk

    def watched():
        return [desk.skills[desk.station.skill].name]

    assert lit(bench) == watched()
    seen = set()
    for _ in range(6):
        press(bench, "more")
        assert lit(bench) == watched()
        seen |= {chip.title for chip in screen_of(bench).ids.skills.children}
    assert {skill.name for skill in desk.skills.values()} <= seen
    for _ in range(len(desk.skills)):
        bench.key(ord("k"), "k")
        assert lit(bench) == watched()
        press(bench, "more")
        assert lit(bench) == watched()
    for step in (step.key for step in desk.drill.steps):
        desk.run(desk.drill.key, step)
        assert lit(bench) == watched()
    last = desk.watched_skills()[-1].key
    assert desk.watch(skill=last)
    press(bench, "By rep")
    press(bench, "Group")
    assert lit(bench) == watched()
    bench.close()
    again = drive(season_path)
    assert lit(again) == [again.app.desk.skills[last].name]
