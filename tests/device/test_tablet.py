"""The settings of a tablet are found again, and their loss costs no more than asking again.

Cases: kept and found; garbage of many kinds; values of the wrong kind; values that make no sense; a missing
folder; a read-only folder; the usual places; several windows that change them; whose eyes they are for; what
killed writers leave.
"""

import json
import os
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evaltrack.device import settings_file
from evaltrack.device.settings_file import WINDOW_WAIT
from evaltrack.device.tablet import (
    PLAUSIBLE_PX_PER_MM,
    Tablet,
    change_tablet,
    count_wrong_code,
    keep_tablet,
    load_tablet,
    look_again,
    tablet_file,
    tablet_folder,
)
from evaltrack.language import Language

KINDS = {setting.name: setting.type for setting in fields(Tablet) if setting.name != "seen"}
SALTED = "0a" * 16 + ":" + "0b" * 32
SEAL = f"scrypt14:{SALTED}"
GARBAGE = [
    b"",
    b"\xff\xfe\x00",
    b"{",
    b"null",
    b"[]",
    b"7",
    b'"id"',
    b'{"id": ""}',
    b"[" * 100_000,
    b"[" * 30_000,
    b'{"id": "a1", "season": ' + b"[" * 20_000 + b"]" * 20_000 + b"}",
    b'{"id": "a1", "observer": "' + b"x" * 70_000 + b'"}',
    b'{"id": NaN, "wrong_codes": ' + b"9" * 5_000 + b"}",
]
on_posix = pytest.mark.skipif(sys.platform == "win32", reason="modes and signals of POSIX")


@pytest.fixture
def home(tmp_path, monkeypatch) -> Path:
    """Return a folder for the settings that is not there yet."""
    folder = tmp_path / "deep" / "evaltrack"
    monkeypatch.setenv("EVALTRACK_HOME", str(folder))
    return folder


def test_what_is_kept_is_found(home):
    """Settings come out as they went in, in a folder that was made for them."""
    kept = keep_tablet(Tablet(), season="/seasons/ü.db", observer="Ines", dark=True)
    assert load_tablet() == kept
    assert (kept.season, kept.observer, kept.dark) == ("/seasons/ü.db", "Ines", True)
    assert sorted(path.name for path in home.iterdir()) == ["tablet.json", "tablet.lock"]


def test_a_tablet_keeps_its_id(home):
    """The first start gives the tablet its id, and every later one finds it."""
    first = load_tablet()
    assert first.id
    assert load_tablet() == first
    assert load_tablet().id != Tablet().id


@pytest.mark.parametrize("garbage", GARBAGE, ids=range(len(GARBAGE)))
def test_garbage_gives_fresh_settings_that_stay(home, garbage):
    """A broken file never stops the app: fresh settings, kept at once."""
    home.mkdir(parents=True)
    (home / "tablet.json").write_bytes(garbage)
    fresh = load_tablet()
    assert fresh.id
    assert fresh == Tablet(id=fresh.id)
    assert load_tablet() == fresh


def test_settings_of_the_wrong_kind_are_left_out(home):
    """One setting that makes no sense does not take the others with it, nor get into the log."""
    home.mkdir(parents=True)
    found = {"id": ["a"], "season": "x.db", "observer": 7, "dark": "yes", "weather": "snow"}
    (home / "tablet.json").write_text(json.dumps(found))
    loaded = load_tablet()
    assert isinstance(loaded.id, str)
    assert loaded == Tablet(id=loaded.id, season="x.db")


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("hand", "both"), ("px_per_mm", 1.9), ("px_per_mm", 33.0), ("px_per_mm", float("nan")),
        ("px_per_mm", float("inf")), ("px_per_mm", -5.0), ("latch", "1234"), ("latch", SEAL + "0"),
        ("board", "chess"), ("latch", f"scrypt:30:8:1:{SALTED}"), ("latch", f"scrypt:15:8:33:{SALTED}"),
        ("latch", f"scrypt:15:8:0:{SALTED}"), ("latch", f"scrypt:15:8:-1:{SALTED}"), ("season", "a\0b.db"),
        ("season", "\ud800.db"), ("season", "x" * 5_000), ("season", "\x1b]0;x\x07.db"),
        ("observer", "x" * 500), ("player", "../../x"), ("language", "tlh"), ("language", "fr_CA"),
        ("wrong_codes", -1), ("wrong_codes", True), ("wrong_codes", 10**30), ("sound", 1),
    ],
)  # fmt: skip
def test_settings_that_make_no_sense_are_left_out(home, name, value):
    """A third hand, a screen of no density, a code in plain text: each is as good as not set."""
    home.mkdir(parents=True)
    (home / "tablet.json").write_text(json.dumps({"id": "a1", "observer": "Ines", name: value}))
    expected = {"observer": "Ines"} if name != "observer" else {}
    assert load_tablet() == Tablet(id="a1", **expected)


@pytest.mark.parametrize("observer", ["Ines\n", "In\x1b[2Jes", "\x9bIn", "\ud83d", "a\u2028b"])
def test_an_observer_with_control_characters_is_asked_for_again(home, observer):
    """What a terminal or a sheet would obey comes from no settings file."""
    home.mkdir(parents=True)
    (home / "tablet.json").write_text(json.dumps({"id": "a1", "observer": observer}))
    assert load_tablet() == Tablet(id="a1")


@pytest.mark.parametrize("ident", ["0a1b2c3d4e5f", "a1", "bench-tablet.2", "A" * 40])
def test_a_plain_id_stays(home, ident):
    """The tallies of a tablet go on under the id that they were begun with, whoever gave it."""
    home.mkdir(parents=True)
    (home / "tablet.json").write_text(json.dumps({"id": ident, "dark": True}))
    assert load_tablet() == Tablet(id=ident, dark=True)


@pytest.mark.parametrize(
    "ident", ["A" * 41, "=1+1", "a'; DROP", "a\nb", "\x1b[2J", "-a", "ü", "\ud800", 7, [1], True]
)
def test_an_id_of_a_strange_form_is_replaced(home, ident):
    """An id goes into every season file: one that is not plain gives way, and the other settings stay."""
    home.mkdir(parents=True)
    (home / "tablet.json").write_text(json.dumps({"id": ident, "dark": True}))
    found = load_tablet()
    assert found == Tablet(id=found.id, dark=True)
    assert found.id.isalnum()
    assert load_tablet() == found


plain = st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=60)
settings_kept = st.fixed_dictionaries(
    {
        "season": plain,
        "observer": plain,
        "dark": st.booleans(),
        "hand": st.sampled_from(["right", "left"]),
        "language": st.sampled_from(["", *(one.value for one in Language)]),
        "px_per_mm": st.just(0.0) | st.floats(*PLAUSIBLE_PX_PER_MM),
        "sound": st.booleans(),
        "vibration": st.booleans(),
        "latch": st.sampled_from(["", SEAL]),
        "wrong_codes": st.integers(0, 10_000),
    }
)


@settings(max_examples=40, deadline=None)
@given(changes=settings_kept)
def test_all_settings_come_out_as_they_went_in(tmp_path_factory, changes):
    """Whatever is set, the next start finds it, to the last digit of the density."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("EVALTRACK_HOME", str(tmp_path_factory.mktemp("tablet")))
        kept = keep_tablet(Tablet(), **changes)
        assert load_tablet() == kept


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.sampled_from(["id", "season", "dark", "else"]), inner),
    max_leaves=8,
)


@settings(max_examples=30, deadline=None)
@given(found=json_values)
def test_any_json_gives_settings_of_the_right_kinds(tmp_path_factory, found):
    """Whatever JSON lies there, each setting is of its kind and the tablet has an id."""
    folder = tmp_path_factory.mktemp("tablet")
    (folder / "tablet.json").write_text(json.dumps(found))
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("EVALTRACK_HOME", str(folder))
        loaded = load_tablet()
        assert loaded.id
        assert all(type(getattr(loaded, name)) is kind for name, kind in KINDS.items())
        assert load_tablet() == loaded


def test_a_folder_that_cannot_be_made(tmp_path, monkeypatch):
    """A file in the place of the folder costs the memory, not the start."""
    (tmp_path / "evaltrack").write_text("in the way")
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "evaltrack" / "below"))
    assert keep_tablet(load_tablet(), observer="Ines").observer == "Ines"
    assert load_tablet().observer == ""


def test_a_read_only_folder(read_only_folder, monkeypatch):
    """A folder that may not be written to costs the memory, not the start, and gets no draft."""
    with read_only_folder() as folder:
        monkeypatch.setenv("EVALTRACK_HOME", str(folder))
        assert keep_tablet(load_tablet(), dark=True).dark
        assert list(folder.iterdir()) == []


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="the places of the Linux desktop")
def test_the_usual_places(monkeypatch, tmp_path):
    """Settings lie where the desktop keeps them; an empty variable counts as none."""
    monkeypatch.delenv("EVALTRACK_HOME", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    assert tablet_folder() == tmp_path / "data" / "evaltrack"
    monkeypatch.setenv("XDG_DATA_HOME", "")
    assert tablet_folder() == tmp_path / ".local" / "share" / "evaltrack"


@pytest.mark.parametrize(("before", "since"), [("", SEAL), (SEAL, "")], ids=["set", "taken off"])
def test_a_latch_of_another_window_is_not_written_over(tablet_home, before, since):
    """A window that read the settings earlier changes its own choice and leaves the latch as it is now."""
    early = keep_tablet(load_tablet(), latch=before)
    keep_tablet(early, latch=since, wrong_codes=3)
    late = keep_tablet(early, dark=True)
    assert (late.latch, late.wrong_codes, late.dark) == (since, 3, True)
    assert load_tablet() == late


# what cannot be read or written


def test_a_folder_in_the_place_of_the_file(home):
    """Nothing is kept, nothing fails, no draft is left."""
    tablet_file().mkdir(parents=True)
    assert keep_tablet(load_tablet(), dark=True).dark
    assert not load_tablet().dark
    assert sorted(path.name for path in home.iterdir()) == ["tablet.json", "tablet.lock"]


def test_a_folder_in_the_place_of_the_lock(home):
    """Where nothing can be locked the settings are kept all the same."""
    (home / "tablet.lock").mkdir(parents=True)
    assert keep_tablet(load_tablet(), dark=True) == load_tablet()
    assert load_tablet().dark


def test_a_huge_file_is_not_read(home):
    """A hundred megabytes in the place of the settings cost neither memory nor time."""
    home.mkdir(parents=True)
    with tablet_file().open("wb") as file:
        file.truncate(100 * 2**20)
    before = time.process_time()
    assert load_tablet().season == ""
    assert time.process_time() - before < 0.5
    assert tablet_file().stat().st_size < 1000


@on_posix
def test_a_pipe_in_the_place_of_the_file_is_not_waited_for(home):
    """What never ends and never begins is no settings file."""
    home.mkdir(parents=True)
    os.mkfifo(tablet_file())
    assert load_tablet().id == load_tablet().id


def test_settings_too_long_to_be_read_again_are_not_written(home):
    """What the next start would refuse does not get into the file, and does not take the rest with it."""
    kept = keep_tablet(load_tablet(), dark=True)
    late = keep_tablet(kept, observer="x" * 100_000)
    assert late.observer == "x" * 100_000
    assert load_tablet() == kept


def test_a_user_without_a_home_taps_all_the_same(monkeypatch):
    """Nothing is kept and nothing fails where the system names no folder."""

    def none() -> Path:
        raise RuntimeError("no home")

    monkeypatch.delenv("EVALTRACK_HOME")
    for name in ("XDG_DATA_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(Path, "home", none)
    assert keep_tablet(load_tablet(), dark=True).dark
    assert not load_tablet().dark


# several windows of one tablet


def test_a_window_writes_only_what_it_changes(tablet_home):
    """Each of two windows changes its own settings; both are found, and neither goes back."""
    here = there = load_tablet()
    there = keep_tablet(there, season="b.db", hand="left", px_per_mm=9.5)
    here = keep_tablet(here, dark=True)
    assert load_tablet() == Tablet(id=here.id, season="b.db", hand="left", px_per_mm=9.5, dark=True)
    assert here.season == ""  # what is in hand here stays


def test_what_another_version_keeps_stays(tablet_home):
    """A setting that this version does not know is not this version's to remove."""
    mine = load_tablet()
    found = json.loads(tablet_file().read_text("utf-8"))
    tablet_file().write_text(json.dumps(found | {"weather": "snow", "deep": [[1]], "long": "ü" * 20_000}))
    keep_tablet(mine, dark=True)
    assert load_tablet().dark
    found = json.loads(tablet_file().read_text("utf-8"))
    assert "long" not in found  # together they would be too long to be read again
    tablet_file().write_text(json.dumps(found | {"weather": "snow"}))
    keep_tablet(mine, dark=False)
    assert json.loads(tablet_file().read_text("utf-8"))["weather"] == "snow"


def test_wrong_codes_are_not_lowered_by_a_window_that_knows_fewer(tablet_home):
    """Nine wrong codes in one window, then another look in the other: nine it stays, and ten come next."""
    here = there = keep_tablet(load_tablet(), latch=SEAL)
    for _ in range(9):
        here = count_wrong_code(here)
    there = keep_tablet(there, dark=True)
    assert (there.wrong_codes, load_tablet().wrong_codes) == (9, 9)
    assert count_wrong_code(there).wrong_codes == load_tablet().wrong_codes == 10


def test_threads_of_one_window_wait_for_each_other(tablet_home):
    """The system's lock is one of processes: within this one, too, no wrong code is lost."""
    mine = keep_tablet(load_tablet(), latch=SEAL)
    with ThreadPoolExecutor(4) as pool:
        list(pool.map(lambda _: count_wrong_code(mine), range(60)))
    assert load_tablet().wrong_codes == 60


changes_of_a_window = st.one_of(
    st.just("guess"),
    st.sampled_from(
        [{"dark": True}, {"dark": False}, {"hand": "left"}, {"observer": "Ines"}, {"season": "b.db"}]
    ),
)


@settings(max_examples=40, deadline=None)
@given(steps=st.lists(st.tuples(st.integers(0, 2), changes_of_a_window), max_size=20))
def test_three_windows_agree_on_what_is_on_disk(tmp_path_factory, steps):
    """Whatever three windows change in turn: on disk is what was set last, and each wrong code counts."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("EVALTRACK_HOME", str(tmp_path_factory.mktemp("tablet")))
        first = keep_tablet(load_tablet(), latch=SEAL)
        windows, last, guesses = [first] * 3, {}, 0
        for nth, step in steps:
            if step == "guess":
                windows[nth], guesses = count_wrong_code(windows[nth]), guesses + 1
            else:
                windows[nth] = keep_tablet(windows[nth], **step)
                last |= step
            assert windows[nth].wrong_codes == guesses
        assert load_tablet() == Tablet(id=first.id, latch=SEAL, wrong_codes=guesses, **last)
        assert all(look_again(window).wrong_codes == guesses for window in windows)


def test_wrong_codes_count_where_nothing_can_be_written(read_only_folder, monkeypatch):
    """A disk that takes nothing forgives no wrong code as long as the app runs, and gets it once it does."""
    with read_only_folder() as folder:
        monkeypatch.setenv("EVALTRACK_HOME", str(folder))
        mine = keep_tablet(load_tablet(), latch=SEAL)
        assert [(mine := count_wrong_code(look_again(mine))).wrong_codes for _ in range(5)] == [1, 2, 3, 4, 5]


def test_wrong_codes_count_where_the_settings_can_only_be_read(tablet_home, read_only_folder, monkeypatch):
    """The count goes on from the one on disk, and no look at the disk sets it back."""
    count_wrong_code(keep_tablet(load_tablet(), latch=SEAL))
    tablet_file().chmod(0o644)
    with read_only_folder(tablet_file()) as folder:
        monkeypatch.setenv("EVALTRACK_HOME", str(folder))
        mine = load_tablet()
        assert [(mine := count_wrong_code(look_again(mine))).wrong_codes for _ in range(4)] == [2, 3, 4, 5]
        assert load_tablet().wrong_codes == 1


def test_wrong_codes_count_while_the_disk_is_full(tablet_home, monkeypatch):
    """What the disk would not take is on it with the next change that it takes."""
    mine = count_wrong_code(keep_tablet(load_tablet(), latch=SEAL))
    with monkeypatch.context() as full:
        full.setattr(settings_file, "write_private", _disk_full)
        for _ in range(4):
            mine = count_wrong_code(look_again(mine))
    assert (mine.wrong_codes, load_tablet().wrong_codes) == (5, 1)
    assert keep_tablet(mine, dark=True).wrong_codes == load_tablet().wrong_codes == 5


def _disk_full(*_):
    raise OSError("no space left on device")


def test_a_change_that_changes_nothing_is_not_written(tablet_home):
    """A write waits for the disk: none is made for what is there already, nor for a look."""
    mine = keep_tablet(load_tablet(), dark=True)
    before = tablet_file().stat()
    look_again(keep_tablet(mine, dark=True, season=""))
    load_tablet()
    after = tablet_file().stat()
    assert (before.st_ino, before.st_mtime_ns) == (after.st_ino, after.st_mtime_ns)


_HOLDING = """
import sys
from evaltrack.device.settings_file import one_window_at_a_time
from evaltrack.device.tablet import tablet_folder
with one_window_at_a_time(tablet_folder()) as alone:
    print(alone, flush=True)
    sys.stdin.read()
"""


@pytest.fixture
def holding(tablet_home):
    """Return a process that has the settings in hand and does not give them back."""
    child = subprocess.Popen([sys.executable, "-c", _HOLDING], stdin=-1, stdout=-1, text=True)
    assert child.stdout.readline().strip() == "True"
    yield child
    child.kill()
    child.communicate()


def test_a_window_that_hangs_keeps_nobody_from_the_bench(holding):
    """The settings are changed without the lock then, after a while; a look does not even wait that long."""
    began = time.monotonic()
    mine = look_again(Tablet())
    assert time.monotonic() - began < WINDOW_WAIT / 2
    mine = change_tablet(mine, lambda _: {"dark": True}, wait=0.1)
    assert json.loads(tablet_file().read_text("utf-8"))["dark"]


def test_the_lock_ends_with_its_process(holding):
    """Killed in the midst of a change, a window leaves the settings to the others."""
    with settings_file.one_window_at_a_time(tablet_folder(), wait=0) as alone:
        assert not alone
    holding.kill()
    holding.wait()
    with settings_file.one_window_at_a_time(tablet_folder(), wait=0) as alone:
        assert alone


def test_a_window_that_is_busy_is_waited_for(holding):
    """It ends in a moment, and then the settings are changed with the lock."""
    holding.stdin.close()
    with settings_file.one_window_at_a_time(tablet_folder()) as alone:
        assert alone
    holding.stdin = None


def test_a_thread_that_waits_in_vain_gives_no_lock_of_another_away(tablet_home):
    """A lock goes as soon as its process closes the file, by whichever handle: it is not opened twice."""
    look = "from evaltrack.device.tablet import tablet_folder\n"
    look += "from evaltrack.device.settings_file import one_window_at_a_time\n"
    look += "with one_window_at_a_time(tablet_folder(), wait=0) as alone: print(alone)"
    with settings_file.one_window_at_a_time(tablet_folder()) as alone:
        assert alone
        with settings_file.one_window_at_a_time(tablet_folder(), wait=0) as again:
            assert not again
        told = subprocess.run([sys.executable, "-c", look], stdout=-1, text=True, check=True).stdout
    assert told.strip() == "False"


def test_a_fault_in_a_change_gives_the_lock_back(tablet_home):
    """Whatever goes wrong while the settings are in hand, the next one gets them."""
    with pytest.raises(ZeroDivisionError):
        change_tablet(load_tablet(), lambda _: {"dark": 1 / 0})
    with settings_file.one_window_at_a_time(tablet_folder(), wait=0) as alone:
        assert alone


# whose eyes they are for, and what was left behind


@on_posix
def test_the_settings_are_for_their_owner_only(home):
    """The folder that is made for them, the file, and the lock; also when they were open to all before."""
    old = os.umask(0)
    try:
        keep_tablet(load_tablet(), dark=True)
    finally:
        os.umask(old)
    modes = {path.name: path.stat().st_mode & 0o777 for path in [home, *home.iterdir()]}
    assert modes == {"evaltrack": 0o700, "tablet.json": 0o600, "tablet.lock": 0o600}
    tablet_file().chmod(0o644)
    load_tablet()
    assert tablet_file().stat().st_mode & 0o777 == 0o600


_WRITING = """
from evaltrack.device.tablet import keep_tablet, load_tablet
mine = load_tablet()
print("ready", flush=True)
while True:
    mine = keep_tablet(mine, dark=not mine.dark)
"""


@on_posix
def test_killed_writers_lose_nothing_and_their_drafts_go(tablet_home):
    """Kills in the midst of writing: whole settings each time, and an hour later no draft is left."""
    mine = keep_tablet(load_tablet(), latch=SEAL)
    for nth in range(8):
        child = subprocess.Popen([sys.executable, "-c", _WRITING], stdout=-1)
        with closing(child.stdout):
            child.stdout.readline()
            while not any(tablet_home.glob(".evaltrack-*.new")) and nth % 2:
                pass
            child.send_signal(signal.SIGKILL)
            child.wait()
        assert (load_tablet().id, load_tablet().latch) == (mine.id, SEAL)
    for draft in tablet_home.glob(".evaltrack-*.new"):
        os.utime(draft, (time.time() - 4000,) * 2)
    keep_tablet(mine, observer="Ines")
    assert not any(tablet_home.glob(".evaltrack-*.new"))


def test_a_draft_that_may_still_be_written_stays(tablet_home):
    """Only old ones go, those of earlier versions too, and nothing else."""
    young, old, older = (
        tablet_home / name for name in (".evaltrack-1.new", ".evaltrack-2.new", "tablet.new")
    )
    other = tablet_home / "season.new"
    ahead = tablet_home / ".evaltrack-3.new"  # the clock was set back since
    for file in (young, old, older, other, ahead):
        file.write_text("{")
    for file, seconds in ((old, -4000), (older, -4000), (other, -4000), (ahead, 4000)):
        os.utime(file, (time.time() + seconds,) * 2)
    keep_tablet(load_tablet(), dark=True)
    assert [file.exists() for file in (young, old, older, other, ahead)] == [True, False, False, True, False]


def test_a_start_without_a_latch_loads_no_hashes(tablet_home):
    """The first board waits for nothing that only a code needs."""
    code = "import sys; from evaltrack.device.tablet import load_tablet, keep_tablet, look_again;"
    code += "look_again(keep_tablet(load_tablet(), dark=True)); print('hashlib' in sys.modules)"
    told = subprocess.run([sys.executable, "-c", code], stdout=-1, text=True, check=True).stdout
    assert told.strip() == "False"
