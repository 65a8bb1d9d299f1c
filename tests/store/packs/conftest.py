"""Two tablets with copies of one season, and what passes between them."""

import shutil
from pathlib import Path

import pytest
from three_tablets import NOON

from evaltrack.store.opening import open_season
from evaltrack.store.packs.joined import Joined
from evaltrack.store.packs.pack_file import read_pack


class Pair:
    """Two open copies of a season, ``one`` and ``other``, of the tablets ``one`` and ``two``."""

    def __init__(self, template: Path, folder: Path):
        self.paths = [Path(shutil.copy(template, folder / f"{name}.db")) for name in ("one", "two")]
        self.one, self.two = map(open_season, self.paths)

    def give(self, giver, taker, name: str = "a.pack", now: int = NOON) -> Joined:
        """Let one tablet join all that the other one has."""
        return taker.packs.join([(name, read_pack(name, giver.packs.pack("giver", at=now)))], now=now)

    def exchange(self, now: int = NOON) -> tuple[Joined, Joined]:
        """Let both join what the other one has, packed before either joins."""
        packs = [
            read_pack(name, one.packs.pack(name, at=now)) for name, one in (("1", self.one), ("2", self.two))
        ]
        return self.one.packs.join([("2", packs[1])], now=now), self.two.packs.join(
            [("1", packs[0])], now=now
        )

    def close(self) -> None:
        """Close both files."""
        self.one.close()
        self.two.close()


@pytest.fixture
def pair(season_template, tmp_path):
    """Return two tablets with one season and no tally."""
    found = Pair(season_template, tmp_path)
    yield found
    found.close()
