"""Drills reached and changed by finger."""

import pytest
from by_finger import ByFinger


@pytest.fixture
def drills(drive, season_path, window):
    """Return the screens of the drills under a finger, reached from home."""
    by_finger = ByFinger(drive(season_path))
    by_finger.tap("Drills")
    assert by_finger.name == "drills"
    return by_finger
