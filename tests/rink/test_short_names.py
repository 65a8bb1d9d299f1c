"""Names on tiles: short, and never two alike where the names differ."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.player import Player, Position
from evaltrack.rink.short_names import short_names


def shortened(*names: str) -> list[str]:
    """Return the short names of a team of these players, in the same order."""
    team = [Player(str(number), name, Position.FORWARD) for number, name in enumerate(names)]
    short = short_names(iter(team))
    return [short[player.id] for player in team]


@pytest.mark.parametrize(
    ("names", "short"),
    [
        (["Oda Marsh", "Juno Reed"], ["Oda", "Juno"]),
        (["Oda Marsh", "Oda Reed", "Juno Reed"], ["Oda M.", "Oda R.", "Juno"]),
        (["Oda Marsh", "Oda Maple", "Oda Reed"], ["Oda Mar.", "Oda Map.", "Oda R."]),
        (["Oda Mar", "Oda Marsh"], ["Oda Mar", "Oda Mars."]),
        (["Oda M", "Oda Reed"], ["Oda M", "Oda R."]),
        (["Oda", "Oda Reed"], ["Oda", "Oda R."]),
        (["Oda van Dijk", "Oda van Loon"], ["Oda van D.", "Oda van L."]),
        (["Oda Marsh", "Oda Marsh"], ["Oda Marsh", "Oda Marsh"]),
    ],
)
def test_a_first_name_and_as_much_more_as_it_takes(names, short):
    """The first name alone; shared, with as many letters of the last as no other one begins with."""
    assert shortened(*names) == short


_NAMES = st.builds("{} {}".format, st.sampled_from(["Oda", "Juno"]), st.text("abc", min_size=1, max_size=4))


@given(st.lists(_NAMES, unique=True, max_size=8))
def test_different_names_stay_different(names):
    """Whatever the names, each short one begins with its own first name and belongs to one player."""
    short = shortened(*names)
    assert len(set(short)) == len(names)
    assert all(name.startswith(brief.rstrip(".")) for name, brief in zip(names, short, strict=True))
