"""The app on a tablet where nothing was opened yet."""

import pytest
from counted_taps import Counted


@pytest.fixture
def counted(drive, window):
    """Return the app on an empty home folder, its taps counted."""
    return Counted(drive())
