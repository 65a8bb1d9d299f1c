"""wishes.csv: together, apart or not again, by numbers; every bad line is told."""

import pytest

from evaltrack.errors import IntakeError
from evaltrack.intake.wishes import read_wishes
from evaltrack.rink.plan import Wish, WishKind

ROSTER = ["0", "00", "2", "7"]


def wishes(tmp_path, text: str):
    """Read a file with this text."""
    path = tmp_path / "wishes.csv"
    path.write_text(text, encoding="utf-8")
    return read_wishes(path, ROSTER)


def test_wishes_are_read_as_other_tables_are(tmp_path):
    """Columns in any order, semicolons, capitals; 0 and 00 are two players."""
    assert wishes(tmp_path, "Player;other;wish\n0;00;Together\n2;7;apart\n") == [
        Wish(WishKind.TOGETHER, "0", "00"),
        Wish(WishKind.APART, "2", "7"),
    ]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("near,2,7", "line 2: `near` is no wish; write together, apart or not again"),
        ("apart,2,9", "line 2: there is no player 9 on the roster"),
        ("apart,2,x", "line 2: "),
        ("apart,2,2", "line 2: a wish is about two players"),
        ("not_again,2,7", "is no wish"),
    ],
)
def test_a_bad_line_is_told(tmp_path, line, said):
    """With the file and the line, and nothing is taken in."""
    with pytest.raises(IntakeError) as refused:
        wishes(tmp_path, f"wish,player,other\n{line}\ntogether,0,2\n")
    assert said in str(refused.value)
