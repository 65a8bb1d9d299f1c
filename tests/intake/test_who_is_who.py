"""Which player of the season each line of a roster is: by name, by what is said, or asked, never guessed."""

from dataclasses import replace
from datetime import date

import pytest

from evaltrack.errors import IntakeError
from evaltrack.intake.roster import read_roster_file
from evaltrack.intake.roster_matching import next_roster
from evaltrack.language import Language, speaking
from evaltrack.rink.player import Player, Position, Status

ODA = Player("2", "Oda Marsh", Position.DEFENCE, 2014)
ODA_TWO = Player("4", "oda marsh", Position.FORWARD, 2015)
PETRA = Player("7", "Petra Fern", Position.FORWARD, 2014, Status.LIMITED)
JUNO = Player("9", "Juno Reed", Position.GOALIE, 2014, Status.AWAY, date(2026, 3, 1))
GONE = Player("7", "Åse Løkken", Position.FORWARD, 2014, Status.LEFT)


@pytest.fixture
def become(tmp_path):
    """Return what a roster of some lines makes of players: each id with number and status, and who is new."""

    def made(text: str, *everyone: Player, **said):
        path = tmp_path / "roster.csv"
        path.write_text(text, "utf-8")
        found = next_roster(read_roster_file(path), everyone, **said)
        return (
            {one.id: (one.number, str(one.status)) for one in found.kept},
            [one.number for one in found.joined],
            {one.id: str(one.status) for one in found.left},
        )

    return made


HEAD = "number,name,position\n"


def test_a_name_that_stands_once_is_known_by_any_number(become):
    """Whoever swaps numbers stays who they are; who is not in it has left; the rest is new."""
    text = HEAD + "9,petra  FERN,F\n7,Juno Reed,G\n11,Wren Hollis,D\n"
    kept, joined, left = become(text, ODA, PETRA, JUNO)
    assert kept == {PETRA.id: ("9", "limited"), JUNO.id: ("7", "away")}
    assert (joined, left) == (["11"], {ODA.id: "left"})


def test_of_what_the_roster_has_no_column_for_they_stay_as_they_were(tmp_path):
    """Year of birth, status and the day of coming back; where there is a column, its empty cells count."""
    path = tmp_path / "roster.csv"
    path.write_text(HEAD + "9,Juno Reed,G\n", "utf-8")
    assert next_roster(read_roster_file(path), [JUNO]).kept == (JUNO,)
    path.write_text("number,name,position,birth_year,status\n9,Juno Reed,G,,\n", "utf-8")
    (one,) = next_roster(read_roster_file(path), [JUNO]).kept
    assert one == replace(JUNO, birth_year=None, status=Status.FULL, away_until=None)


def test_who_comes_back_is_known_unless_the_year_of_birth_is_another(become):
    """By a name that nobody else has; they are back whatever the status of before."""
    assert become(HEAD + "12,Åse Løkken,F\n", GONE) == ({GONE.id: ("12", "full")}, [], {})
    year = "number,name,position,birth_year\n12,Åse Løkken,F,"
    assert become(f"{year}2014\n", GONE)[0] == {GONE.id: ("12", "full")}
    assert become(f"{year}2013\n", GONE) == ({}, ["12"], {})
    twin = replace(GONE, id=ODA.id)
    assert become(HEAD + "12,Åse Løkken,F\n", GONE, twin) == ({}, ["12"], {})


def test_who_is_told_apart_by_a_number_is_not_asked_about(become):
    """Two of one name with their own numbers are themselves; a new one of their name is asked about."""
    both = HEAD + "2,Oda Marsh,D\n4,Oda Marsh,F\n"
    assert become(both, ODA, ODA_TWO)[0] == {ODA.id: ("2", "full"), ODA_TWO.id: ("4", "full")}
    with pytest.raises(IntakeError, match="line 3: the name Oda Marsh does not tell who this is"):
        become(HEAD + "2,Oda Marsh,D\n5,Oda Marsh,F\n", ODA, ODA_TWO)


def test_whoever_cannot_be_known_is_asked_about_in_a_whole_sentence(become):
    """A name that several have, with all their numbers; a number that another name has now."""
    with pytest.raises(IntakeError) as asked:
        become(HEAD + "5,Oda Marsh,D\n7,Wren Hollis,F\n", ODA, ODA_TWO, PETRA)
    assert asked.value.complaints == (
        "roster.csv, line 2: the name Oda Marsh does not tell who this is (on the team with 2 and 4); "
        "say it with --same 5=2, or with --new 5",
        "roster.csv, line 3: number 7 is Petra Fern until now; if Wren Hollis is the same player, say --same "
        "7=7, if another one, --new 7",
    )
    with speaking(Language.FRENCH_CANADA), pytest.raises(IntakeError, match="2 et 4"):
        become(HEAD + "5,Oda Marsh,D\n", ODA, ODA_TWO)


def test_what_is_said_is_believed(become):
    """Whose number was whose, and who is new, also under a name of somebody who stays away."""
    text = HEAD + "5,Oda Marsh,D\n7,Wren Hollis,F\n"
    kept, joined, left = become(text, ODA, ODA_TWO, PETRA, same={"5": "4"}, new=("7",))
    assert (kept, joined) == ({ODA_TWO.id: ("5", "full")}, ["7"])
    assert left == {ODA.id: "left", PETRA.id: "left"}


@pytest.mark.parametrize(
    ("same", "new", "told"),
    [
        ({"6": "2"}, (), "there is no number 6 in the roster"),
        ({}, ("6",), "there is no number 6 in the roster"),
        ({"5": "3"}, (), "nobody on the team wears number 3"),
        ({"5": "2", "7": "2"}, (), "one player is named twice"),
        ({"5": "2"}, ("5",), "one player is named twice"),
    ],
)
def test_what_is_said_of_nobody_or_twice_is_refused(become, same, new, told):
    """Before any line is looked at."""
    with pytest.raises(IntakeError, match=told):
        become(HEAD + "5,Oda Marsh,D\n7,Wren Hollis,F\n", ODA, PETRA, same=same, new=new)
