"""Whatever is touched on the way to a season: no fault, and never half a season file."""

import random

import pytest
from counted_taps import rows_of
from kivy.core.clipboard import Clipboard
from pressing import keys_of
from test_first_steps import SHEET

from evaltrack.device.season_places import guides_folder, seasons_folder
from evaltrack.errors import EvaltrackError
from evaltrack.store.opening import open_season
from evaltrack.touch.seasons import file_screen

PASTES = (SHEET, "7,Bo,D", "nonsense", "7,Bo,D\n7,Ann,X", "\t\t\n")
NAMES = ("Kestrels", "", "Zoë", "雪 千代", "x" * 70, "A\u200bB")
TOUCHES = 200


@pytest.mark.parametrize("seed", range(2))
def test_random_touches_leave_no_fault_and_no_half_season(counted, tmp_path, monkeypatch, faults, seed):
    """Keys, rows, fields and pastes at random: nothing is logged, and each season file there is whole."""
    chance = random.Random(seed)
    (tmp_path / "roster.csv").write_text("number,name,position\n5,Ann,F\n", encoding="utf-8")
    monkeypatch.setattr(file_screen, "home", lambda: tmp_path)
    counted.app.allowed = lambda name: name if name in OURS else "seasons"
    seen = set()
    for _ in range(TOUCHES):
        counted.wait(lambda: not getattr(counted.screen, "making", False))
        Clipboard.copy(chance.choice(PASTES))
        touch_something(counted, chance)
        seen.add(counted.screen.name)
    counted.wait(lambda: not getattr(counted.screen, "making", False))
    assert faults == []
    assert seen == set(OURS)
    for path in seasons_folder().glob("*"):
        assert path == guides_folder() or whole(path), path


OURS = ("seasons", "file", "our_team", "roster")


def touch_something(driver, chance) -> None:
    """Tap a key that is not the way to the rest of the disk, or type a name into a field."""
    fields = [driver.screen.ids[name] for name in ("team", "age_class", "name") if name in driver.screen.ids]
    if fields and chance.random() < 0.3:
        chance.choice(fields).text = chance.choice(NAMES)
        return
    keys = [key for key in keys_of(driver) if not key.title.startswith("Up to") and min(key.size) > 1]
    away = [row for row in rows_of(driver) if row.to_window(*row.center)[1] < 100]
    driver.tap(chance.choice([key for key in keys if key not in away]))
    driver.frames(2)


def whole(path) -> bool:
    """Say whether this is a season file with players, or what belongs to the one that is open."""
    if path.suffix != ".db":
        return path.name.endswith((".db-wal", ".db-shm"))
    try:
        with open_season(path) as season:
            return bool(season.people.players() and season.catalogue.skills())
    except EvaltrackError:
        return False
