"""Wishes for meetings in a CSV: every bad line is told with its number, and nothing is half taken."""

from datetime import time

import pytest
from invented_evenings import DAY, START
from lanterns_season import PLAYERS

from evaltrack.errors import IntakeError
from evaltrack.intake.meeting_wishes import read_meeting_wishes
from evaltrack.rink.meeting_evening import Evening, MeetingWish, MeetingWishKind
from evaltrack.rink.meeting_times import starts_of

ONE, OTHER = PLAYERS[:2]
STARTS = starts_of(Evening("e", DAY, START))


def wishes(tmp_path, text: str, tables: int = 2):
    path = tmp_path / "wishes.csv"
    path.write_text(text, encoding="utf-8")
    return read_meeting_wishes(path, PLAYERS, tables, STARTS)


def test_every_kind_is_read_in_the_order_of_the_file(tmp_path):
    """Semicolons, columns in any order, capitals, an hour of one digit, underscores for blanks."""
    text = "Wish;value;PLAYER\n" + "".join(
        f"{line};{ONE.number}\n"
        for line in (
            "not before;18:30",
            "Not_After;9:30",
            "at;18:24",
            "TABLE;2",
            f"sibling;{OTHER.number}",
            f"not with;{OTHER.number}",
            "not coming;",
        )
    )
    kinds = MeetingWishKind
    assert wishes(tmp_path, text) == [
        MeetingWish(kinds.NOT_BEFORE, ONE.id, at=time(18, 30)),
        MeetingWish(kinds.NOT_AFTER, ONE.id, at=time(9, 30)),
        MeetingWish(kinds.AT, ONE.id, at=time(18, 24)),
        MeetingWish(kinds.TABLE, ONE.id, table=2),
        MeetingWish(kinds.SIBLING, ONE.id, other=OTHER.id),
        MeetingWish(kinds.NOT_WITH, ONE.id, other=OTHER.id),
        MeetingWish(kinds.NOT_COMING, ONE.id),
    ]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("{0},early,18:30", "line 2: `early` is no wish; write one of: not before, not after, at, table, "),
        ("{0},not before,soon", "line 2: `soon` is no time of day; write it as 18:30"),
        ("{0},not before,18:30:05", "is no time of day"),
        ("{0},at,18:25", "line 2: no meeting begins at 18:25; write 18:24 or 18:36"),
        ("{0},table,3", "line 2: there is no table `3`; the tables are 1 to 2"),
        ("{0},table,00012", "line 2: there is no table `00012`; the tables are 1 to 2"),
        ("{0},sibling,999", "line 2: there is no player 999 on the roster"),
        ("{0},sibling,{0}", "line 2: the wish is about two players"),
        ("{0},not coming,yes", "line 2: not coming needs no value; take `yes` out"),
        ("x,not coming,", "line 2: "),
    ],
)
def test_a_bad_line_is_told_and_nothing_is_taken(tmp_path, line, said):
    """With the file and the line; a second bad line is told beside it."""
    text = f"player,wish,value\n{line.format(ONE.number)}\n{OTHER.number},not coming,\n777,not coming,\n"
    with pytest.raises(IntakeError) as refused:
        wishes(tmp_path, text)
    assert said in str(refused.value)
    assert "wishes.csv, line 2: " in str(refused.value)
    assert "line 4: there is no player 777" in str(refused.value)


def test_too_many_wishes_are_refused(tmp_path):
    """A file of hundreds is no file of wishes."""
    text = "player,wish\n" + f"{ONE.number},not coming\n" * 201
    with pytest.raises(IntakeError, match="more than 200 wishes"):
        wishes(tmp_path, text)
