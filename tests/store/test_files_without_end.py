"""A device in the place of a file is refused by its first megabytes and not read to its end."""

from pathlib import Path

import pytest

from evaltrack.errors import EvaltrackError
from evaltrack.store.packs.season_packs import pack_in
from evaltrack.store.salvage.salvaging import salvage

ENDLESS = Path("/dev/zero")


@pytest.mark.skipif(not ENDLESS.exists(), reason="it takes a device that has no end")
def test_a_device_without_end_is_no_pack_and_no_season(tmp_path):
    """Reading it to its end would take all the memory that there is."""
    with pytest.raises(EvaltrackError, match="larger than a pack"):
        pack_in(ENDLESS)
    with pytest.raises(EvaltrackError):
        salvage(ENDLESS, tmp_path / "saved.db")
    assert not list(tmp_path.iterdir())
