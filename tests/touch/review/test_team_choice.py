"""The order of the team board: by number or by name as a reader looks for it."""

from evaltrack.rink.player import Player, Position
from evaltrack.touch.review.team_choice import Choice, choose

NAMES = (
    "Ada Quill", "Åke Dahl", "Đurđa Babić", "Ebbe Strand", "Łucja Wrona", "mika Aalto", "Nils Øst",
    "Otto Lind", "Øyvind Haug", "Pål Þór", "Þóra Vik", "Uma Best", "Zoë Quill",
)  # fmt: skip


def _names(choice: Choice) -> list[str]:
    players = [Player(str(40 - place), name, Position.FORWARD) for place, name in enumerate(NAMES)]
    return [player.name for player in choose(players[::2] + players[1::2], [], [], choice).players]


def test_letters_of_other_alphabets_stand_where_a_reader_looks_for_them():
    """Ø is looked for under O, Ł under L and Þ under Th, whatever the accents and capitals."""
    assert _names(Choice(by_name=True)) == list(NAMES)
    assert _names(Choice()) == list(reversed(NAMES))


def test_namesakes_stand_by_number():
    """Two players of one name go by number, and so do two who differ in an accent only."""
    players = [Player(number, name, Position.GOALIE) for number, name in (("9", "Åse Li"), ("3", "Ase Li"))]
    pair = [*players, Player("1", "Åse Li", Position.GOALIE)]
    assert [p.number for p in choose(pair, [], [], Choice(by_name=True)).players] == ["1", "3", "9"]
