"""A tap that cannot be saved is told at once and not counted; the next one counts when the trouble is over.

Troubles: a full disk (a small one, and by SQLite's own limit), a disk that fails, a lock, a read-only file,
a file that is deleted, moved or replaced, a journal deleted, a player erased, a rule broken. All through the
real app, with real touches and the real store. And a season file that cannot be opened at the start.
"""

import os
import shutil
import sqlite3
import subprocess
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from time import perf_counter

import pytest
from seasons_for_touch import new_season

from evaltrack.rink.tally import Outcome
from evaltrack.store.connection import BENCH_WAIT
from evaltrack.store.opening import open_season
from evaltrack.touch import app as app_module

posix = pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file in its place")


@pytest.fixture(autouse=True)
def nobody_else_reads(monkeypatch):
    """Let no standings be worked out: on a slow machine another process would have the file open too."""
    monkeypatch.setattr(app_module, "_SETTLED", 3600)


@pytest.fixture
def bench(start_bench, season_path):
    """Return the driver of an app on the board."""
    return start_bench(season_path)


@pytest.fixture
def window_size():
    """Return a function that turns or resizes the window until the end of the test."""
    from kivy.core.window import Window

    before = Window.size
    yield Window.resize
    Window.resize(*before)


def board_of(driver):
    return driver.app.screens.get_screen("board").ids.board


def tap(driver, place=3, outcome=Outcome.DONE):
    """Tap the half of a tile; the answer is there within the frame."""
    tile = board_of(driver).layout.tile(place)
    x = tile.x + tile.width * (0.75 if outcome is Outcome.DONE else 0.25)
    driver.tap((x, tile.y + tile.height / 2))


def press(driver, title):
    """Tap the button with this title."""
    driver.settle()
    screen = driver.app.screens.current_screen
    (button,) = [w for w in screen.walk() if getattr(w, "title", None) == title and not w.disabled]
    driver.tap(button)
    driver.settle()


def shown(driver):
    """Return what the screen counts: in all, and on the fourth tile."""
    return driver.app.screens.get_screen("board").total, board_of(driver).faces[3].done


def told(driver):
    """Return the sentence on the board, which has to be wholly visible; empty when there is none."""
    driver.frames(2)
    texts = [w for w in driver.app.screens.current_screen.walk() if "saved" in getattr(w, "text", "")]
    for words in texts:
        words.texture_update()
        assert words.opacity == 1
        assert words.texture_size[0] <= words.width
        assert words.texture_size[1] <= words.height
    return texts[0].text if texts else ""


def kept(path):
    with open_season(path) as season:
        return season.log.count()


@contextmanager
def pragma(driver, name, value, back):
    driver.app.desk.season._connection.execute(f"PRAGMA {name} = {value}")
    yield
    driver.app.desk.season._connection.execute(f"PRAGMA {name} = {back}")


@contextmanager
def full(driver, path):
    """Let the file grow no more, until the taps have filled its last page."""
    (pages,) = driver.app.desk.season._connection.execute("PRAGMA page_count").fetchone()
    with pragma(driver, "max_page_count", pages, 2**30):
        while not driver.app.desk.message:
            tap(driver)
        yield


@contextmanager
def failing(driver, path):
    """Let the disk refuse to write more of the journal."""
    import resource

    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    wal = path.with_name(f"{path.name}-wal").stat().st_size
    resource.setrlimit(resource.RLIMIT_FSIZE, (wal + 1000, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@contextmanager
def locked(driver, path):
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield
        other.execute("ROLLBACK")


@contextmanager
def read_only(driver, path):
    with pragma(driver, "query_only", 1, 0):
        yield


@contextmanager
def moved(driver, path):
    away = path.rename(path.with_name("elsewhere.db"))
    yield
    away.rename(path)


@contextmanager
def unplugged(driver, path):
    """Take file and journal away, and bring them back as other files: a disk taken out and put in."""
    names = [path, path.with_name(f"{path.name}-wal")]
    copies = [Path(shutil.copy(name, name.with_name(f"copy-{name.name}"))) for name in names]
    for name in names:
        name.unlink()
    yield
    for name, copy in zip(names, copies, strict=True):
        copy.rename(name)


@contextmanager
def replaced(driver, path):
    """Let another file lie in the place of the season file, and take it away again."""
    away = path.rename(path.with_name("elsewhere.db"))
    path.write_text("milk, bread")
    yield
    away.replace(path)


@contextmanager
def broken_rule(driver, path):
    connection = driver.app.desk.season._connection
    connection.execute(
        "CREATE TEMP TRIGGER no BEFORE INSERT ON main.tally BEGIN SELECT RAISE(ABORT, 'no'); END"
    )
    yield
    connection.execute("DROP TRIGGER no")


TROUBLES = [
    pytest.param(full, "the disk is full; make room", id="full disk"),
    pytest.param(failing, "the disk is full or failing", id="failing disk", marks=posix),
    pytest.param(locked, "another program is using the season file", id="locked"),
    pytest.param(read_only, "is read-only; ask for write permission", id="read-only"),
    pytest.param(moved, "the season file is gone; bring it back", id="moved", marks=posix),
    pytest.param(unplugged, "the season file is gone; bring it back", id="unplugged", marks=posix),
    pytest.param(replaced, "another file lies in the season file's place", id="replaced", marks=posix),
    pytest.param(broken_rule, "a value is missing, or is not one", id="broken rule"),
]


@pytest.mark.parametrize(("trouble", "words"), TROUBLES)
def test_a_tap_in_trouble_is_told_and_not_counted_and_the_next_one_counts(bench, season_path, trouble, words):
    """The sentence says what is wrong and that the tap does not count; tile, total and file agree."""
    tap(bench)
    with trouble(bench, season_path):
        before = shown(bench)
        for _ in range(2):
            tap(bench)
            assert told(bench).startswith("not saved: ")
            assert words in told(bench)
            assert told(bench).endswith("; this tap does not count")
            assert shown(bench) == before
    tap(bench)
    bench.frames(1)
    assert told(bench) == ""
    assert shown(bench) == (before[0] + 1, before[1] + 1)
    bench.close()
    assert kept(season_path) == before[0] + 1


@pytest.mark.parametrize(("trouble", "words"), TROUBLES[1:-1])  # without those that are for tallies only
def test_an_undo_in_trouble_takes_nothing_back(bench, season_path, trouble, words):
    """What cannot be withdrawn stays on the screen and in the file, and is withdrawn when it can be."""
    tap(bench)
    screen = bench.app.screens.get_screen("board")
    with trouble(bench, season_path):
        before = shown(bench)
        screen.undo()
        assert words in told(bench)
        assert shown(bench) == before
    screen.undo()
    assert told(bench) == ""
    assert shown(bench) == (before[0] - 1, before[1] - 1)
    bench.close()
    assert kept(season_path) == before[0] - 1


@posix
def test_a_deleted_journal_costs_no_tap(bench, season_path):
    """The file is opened again before the next tap, with all that was only in the journal."""
    tap(bench)
    season_path.with_name(f"{season_path.name}-wal").unlink()
    tap(bench)
    assert (told(bench), shown(bench)) == ("", (2, 2))
    bench.close()
    assert kept(season_path) == 2


@posix
def test_a_season_file_without_this_practice_takes_no_tap(bench, season_path, tmp_path):
    """When a file of another time comes back, the board says so instead of counting into nothing."""
    tap(bench)
    for name in (season_path, season_path.with_name(f"{season_path.name}-wal")):
        name.unlink()
    new_season(tmp_path / "backup.db").rename(season_path)
    for _ in range(2):
        tap(bench)
        assert told(bench).startswith("not saved: the season file that came back knows nothing of this")
        assert shown(bench) == (1, 1)
    bench.close()
    assert kept(season_path) == 0


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)])
def test_an_erased_player_takes_no_tap_and_the_others_do(bench, season_path, window_size, size):
    """A player who is no longer in the file is not tallied; the neighbour is; upright it is told as well."""
    window_size(*size)
    bench.settle()
    player = bench.app.desk.players[3].id.bytes
    with closing(sqlite3.connect(season_path)) as other, other:
        other.execute("DELETE FROM attendance WHERE player = ?", (player,))
        other.execute("DELETE FROM player WHERE id = ?", (player,))
    tap(bench)
    assert "it names a player" in told(bench)
    assert shown(bench) == (0, 0)
    tap(bench, place=4)
    assert (told(bench), shown(bench)) == ("", (1, 0))


def test_taps_on_a_locked_file_do_not_pile_up(bench, season_path):
    """The first tap waits a quarter of a second at most, and the twenty of a second less than that second."""
    took = []
    with locked(bench, season_path):
        for _ in range(20):
            start = perf_counter()
            tap(bench)
            took.append(perf_counter() - start)
    assert took[0] >= BENCH_WAIT
    assert sum(took[1:]) < 20 / 8  # an eighth of a second each, with a noisy machine
    assert shown(bench) == (0, 0)


def test_a_small_disk_that_is_really_full(start_bench, small_disk):
    """Another program fills the disk; taps are refused until there is room, and none is lost."""
    path = new_season(small_disk / "season.db")
    bench = start_bench(path)
    tap(bench)
    filler = small_disk / "film"
    with filler.open("wb", buffering=0) as film, suppress(OSError):
        while film.write(b"x" * 4096):
            pass
    while not bench.app.desk.message:
        tap(bench)
    before = shown(bench)
    tap(bench)
    assert "the disk is full; make room" in told(bench)
    assert shown(bench) == before == (before[0], before[0])
    filler.unlink()
    tap(bench)
    assert (told(bench), shown(bench)) == ("", (before[0] + 1, before[0] + 1))
    bench.close()
    assert kept(path) == before[0] + 1


def test_a_read_only_disk_is_told_at_the_start_and_again_until_it_is_writable(drive, small_disk):
    """A card with its lock on: the app opens at home and says why, and opens the season when it may."""
    path = new_season(small_disk / "season.db")
    subprocess.run(["mount", "-o", "remount,ro", small_disk], check=True)
    driver = drive(path)
    assert driver.app.screens.current == "home"
    assert "is read-only" in driver.app.desk.message
    press(driver, "Open it again")
    assert "is read-only" in driver.app.desk.message
    subprocess.run(["mount", "-o", "remount,rw", small_disk], check=True)
    press(driver, "Open it again")
    assert driver.app.desk.season
    assert driver.app.desk.message == ""


@posix
def test_a_read_only_file_is_told_at_the_start_and_leads_to_the_board_once_it_is_writable(
    start_bench, drive, season_path
):
    """A file marked read-only while its practice runs: one tap goes on with it when it may be written to."""
    bench = start_bench(season_path)
    tap(bench)
    bench.close()
    season_path.chmod(0o444)
    driver = drive(season_path)
    assert driver.app.screens.current == "home"
    assert "is read-only" in driver.app.desk.message
    season_path.chmod(0o644)
    press(driver, "Open it again")
    assert driver.app.screens.current == "board"
    assert shown(driver) == (1, 1)
