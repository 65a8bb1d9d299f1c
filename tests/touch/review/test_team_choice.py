"""The order of the team board: by number or by name as a reader looks for it."""

from made_standings import standing

from evaltrack.rink.player import Player, Position
from evaltrack.rink.skill import Definition, Skill
from evaltrack.touch.review.team_choice import Choice, choose

D, F = Position.DEFENCE, Position.FORWARD

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


def test_who_plays_both_stands_once_in_the_first_block_and_in_each_filter():
    """What they do in the other group has a column where they stand; a filter shows what belongs to it."""
    skills = [
        Skill(key, key, groups, "", Definition("", "", "", ""), "")
        for key, groups in (("gap_up", (D,)), ("lane_fill", (F,)), ("stop", (D, F)))
    ]
    both, forward = Player("5", "Oda Marsh", D, also=F), Player("7", "Juno Reed", F)
    made = [standing(both, one) for one in skills] + [standing(forward, skills[1])]

    def shown(choice):
        blocks = choose([both, forward], skills, made, choice).blocks
        return [(b.group, [p.number for p in b.players], [s.key for s in b.skills]) for b in blocks]

    every = ["gap_up", "lane_fill", "stop"]
    assert shown(Choice()) == [(D, ["5"], every), (F, ["7"], ["lane_fill"])]
    assert shown(Choice(D)) == [(D, ["5"], every)]
    assert shown(Choice(F)) == [(F, ["5", "7"], ["lane_fill", "stop"])]
