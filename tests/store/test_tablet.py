"""The settings of a tablet are found again, and their loss costs no more than asking again.

Cases: kept and found; garbage of many kinds; values of the wrong kind; values that make no sense; a missing
folder; a read-only folder; the usual places.
"""

import json
import sys
from dataclasses import astuple, fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evaltrack.store.tablet import PLAUSIBLE_PX_PER_MM, Tablet, keep_tablet, load_tablet, tablet_folder

KINDS = [setting.type for setting in fields(Tablet)]
SEAL = "scrypt14:" + "0a" * 16 + ":" + "0b" * 32
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
]


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
    assert [path.name for path in home.iterdir()] == ["tablet.json"]


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
        ("board", "chess"),
        ("wrong_codes", -1), ("wrong_codes", True), ("wrong_codes", 10**30), ("sound", 1),
    ],
)  # fmt: skip
def test_settings_that_make_no_sense_are_left_out(home, name, value):
    """A third hand, a screen of no density, a code in plain text: each is as good as not set."""
    home.mkdir(parents=True)
    (home / "tablet.json").write_text(json.dumps({"id": "a1", "observer": "Ines", name: value}))
    assert load_tablet() == Tablet(id="a1", observer="Ines")


settings_kept = st.fixed_dictionaries(
    {
        "season": st.text(),
        "observer": st.text(),
        "dark": st.booleans(),
        "hand": st.sampled_from(["right", "left"]),
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


@settings(max_examples=60, deadline=None)
@given(found=json_values)
def test_any_json_gives_settings_of_the_right_kinds(tmp_path_factory, found):
    """Whatever JSON lies there, each setting is of its kind and the tablet has an id."""
    folder = tmp_path_factory.mktemp("tablet")
    (folder / "tablet.json").write_text(json.dumps(found))
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("EVALTRACK_HOME", str(folder))
        loaded = load_tablet()
        assert loaded.id
        assert all(type(value) is kind for value, kind in zip(astuple(loaded), KINDS, strict=True))
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
