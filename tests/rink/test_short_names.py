"""Names on tiles: short, and never two alike where the names differ."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaltrack.rink.player import Player, Position
from evaltrack.rink.short_names import name_within, short_names, shorter_names


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


@pytest.mark.parametrize(
    ("names", "shorter"),
    [
        (["Anna-Lena Marsh", "Juno Reed"], ["Anna", ""]),
        (["Anna-Lena Marsh", "Anna Reed"], ["", ""]),
        (["Anna-Lena Marsh", "Anna-Sofie Reed"], ["", ""]),
        (["Anna-Lena Marsh", "Anna-Lena Reed"], ["Anna M.", "Anna R."]),
        (["O'Shea Marsh", "J-P Reed"], ["", ""]),
    ],
)
def test_the_first_part_of_a_double_name_where_nobody_else_has_it(names, shorter):
    """It stands for the name where that is too long, and never for two players."""
    team = [Player(str(number), name, Position.FORWARD) for number, name in enumerate(names)]
    found = shorter_names(short_names(team))
    assert [found.get(player.id, "") for player in team] == shorter


_DOUBLE = st.builds(
    "{} {}".format,
    st.sampled_from(["Anna", "Anna-Lena", "Anna-Lou", "Lena", "Lena-Sofie-Ida", "O'Nele"]),
    st.text("abc", min_size=1, max_size=3),
)


@given(st.lists(_DOUBLE, unique=True, max_size=12), st.lists(st.integers(0, 30), min_size=12, max_size=12))
def test_names_are_never_ambiguous_and_never_longer_than_their_room(names, rooms):
    """Whatever room each tile has, what stands on it fits, and stands on no other player's tile."""
    team = [Player(str(number), name, Position.FORWARD) for number, name in enumerate(names)]
    short = short_names(team)
    shorter, shown = shorter_names(short), []
    for player, room in zip(team, rooms, strict=False):
        forms = short[player.id], shorter.get(player.id, "")
        shown.append(name_within(forms, lambda form, room=room: len(form) <= room))
        assert len(shown[-1]) <= room
        assert shown[-1] or all(len(form) > room for form in forms if form)
    named = [name for name in shown if name]
    assert len(set(named)) == len(named)
