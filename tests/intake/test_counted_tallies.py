"""tallies.csv with a count in each line: how a sheet of paper is typed in."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lanterns_files import DRILLS, PLAYERS, SKILLS
from test_round_trips_of_files import SAME_FOLDER

from evaltrack.intake.tallies import read_tallies
from evaltrack.intake.tally_columns import MOST_TIMES

HEAD = "times,player,outcome,pressure,skill,date,drill,step,observer\n"
REST = "stop,2025-09-04,breakout,one,Ann Reed"
BAD_COUNTS = {
    "strokes": ("||||", "`||||` is no count; write in `times` a whole number"),
    "a word": ("four", "`four` is no count"),
    "a half": ("2.5", "`2.5` is no count"),
    "below nothing": ("-1", "`-1` is no count"),
    "other digits": ("٣", "is no count"),
    "a slip": ("100", "`100` is too many; at most 99 fit"),
    "a very long one": ("9" * 5000, "is too many"),
}


@pytest.fixture
def read(brought):
    """Return a reading of a text as tallies.csv."""
    return lambda text: read_tallies(brought(text, "tallies.csv"), PLAYERS, SKILLS, DRILLS)


def ids(loaded) -> list:
    """Return the ids of what was loaded, in order."""
    return sorted(tally.id for tally in loaded.tallies)


def test_a_line_stands_for_as_many_tries(read):
    """Three times done under pressure are three tallies that differ in nothing but their ids."""
    loaded = read(f"{HEAD}3,2,done,yes,{REST}\n1,17,missed,no,{REST}\n")
    assert [(tally.outcome, tally.pressure) for tally in loaded.tallies] == [("done", True)] * 3 + [
        ("missed", False)
    ]
    assert len(set(ids(loaded))) == 4


@pytest.mark.parametrize("nothing", ["", "0", "00", " "])
def test_a_line_without_a_count_is_passed_over(read, nothing):
    """Nothing and 0 are no tally, and it is told how many lines had none."""
    loaded = read(f"{HEAD}{nothing},2,done,no,{REST}\n2,2,missed,no,{REST}\n")
    assert [tally.outcome for tally in loaded.tallies] == ["missed", "missed"]
    assert loaded.passed == 1


def test_without_the_column_every_line_is_one_try(read):
    """A file that knows nothing of counts is read as before."""
    loaded = read(f"{HEAD.removeprefix('times,')}2,done,no,{REST}\n")
    assert (len(loaded.tallies), loaded.passed) == (1, 0)


def test_a_day_without_a_count_is_no_practice(read):
    """Lines that were left empty do not make up a practice that nobody tallied in."""
    other_day = REST.replace("09-04", "09-11")
    loaded = read(f"{HEAD}1,2,done,no,{REST}\n,2,done,no,{other_day}\n")
    assert [practice.key for practice in loaded.practices] == ["2025-09-04"]


@SAME_FOLDER
@given(counts=st.lists(st.integers(0, 6), min_size=4, max_size=4).filter(any), order=st.randoms())
def test_counts_and_single_lines_name_the_same_tallies(tmp_path, counts, order):
    """Whether tries are counted or stand line by line, in whatever order, their ids are the same."""

    def read(lines):
        (tmp_path / "tallies.csv").write_text(HEAD + "".join(lines), encoding="utf-8")
        return read_tallies(tmp_path / "tallies.csv", PLAYERS, SKILLS, DRILLS)

    kinds = [f"{number},{outcome},no,{REST}\n" for number in (2, 17) for outcome in ("done", "missed")]
    counted = [f"{count},{kind}" for count, kind in zip(counts, kinds, strict=True)]
    single = [f"1,{kind}" for count, kind in zip(counts, kinds, strict=True) for _ in range(count)]
    order.shuffle(single)
    assert ids(read(counted)) == ids(read(single))


def test_a_grown_count_adds_the_difference(read):
    """From 3 to 5 adds two tallies and keeps the ids of the three."""
    three, five = (ids(read(f"{HEAD}{count},2,done,no,{REST}\n")) for count in (3, 5))
    assert set(three) < set(five)
    assert len(five) == 5


@pytest.mark.parametrize("fault", BAD_COUNTS)
def test_bad_counts(fault, brought, complaints):
    """What is no count is told with its line, and nothing of the file is taken."""
    count, words = BAD_COUNTS[fault]
    path = brought(f"{HEAD}1,2,done,no,{REST}\n{count},17,done,no,{REST}\n", "tallies.csv")
    (found,) = complaints(read_tallies, path, PLAYERS, SKILLS, DRILLS)
    assert found.startswith("tallies.csv, line 3: ")
    assert words in found


def test_the_most_that_fits(read):
    """As many as the refusal says do fit."""
    assert len(read(f"{HEAD}{MOST_TIMES},2,done,no,{REST}\n").tallies) == MOST_TIMES


@pytest.mark.parametrize(("typed", "meant"), [
    ("0000000005", 5), ("00000000000000000000099", 99), ("0" * 4000 + "7", 7), ("05", 5), ("1", 1),
], ids=lambda value: str(value)[:8])  # fmt: skip
def test_zeros_in_front_count_for_nothing(read, typed, meant):
    """A count with any number of zeros in front is the number behind them."""
    assert len(read(f"{HEAD}{typed},2,done,no,{REST}\n").tallies) == meant


def test_zeros_alone_are_none(read):
    """A count of nothing but zeros passes its line over, however many they are."""
    loaded = read(f"{HEAD}1,2,done,no,{REST}\n{'0' * 4000},2,done,no,{REST}\n")
    assert (len(loaded.tallies), loaded.passed) == (1, 1)


def test_a_form_in_which_nothing_was_typed(brought, complaints):
    """A form that is still empty is refused, with what to write and where."""
    path = brought(f"{HEAD},2,done,no,{REST}\n0,17,done,no,{REST}\n", "tallies.csv")
    (found,) = complaints(read_tallies, path, PLAYERS, SKILLS, DRILLS)
    assert found == "tallies.csv: no line has a count; write in `times` how often it was seen"


def test_a_wrong_line_without_a_count_is_told_too(brought, complaints):
    """A line that cannot be right is not passed over in silence because its count is empty."""
    path = brought(f"{HEAD}1,2,done,no,{REST}\n,71,done,no,{REST}\n", "tallies.csv")
    (found,) = complaints(read_tallies, path, PLAYERS, SKILLS, DRILLS)
    assert "line 3: there is no player `71`" in found


def test_what_spreadsheets_leave_alone(read):
    """#00 is the jersey 00 and not 0, and 2025_09_04 is a date: both survive any spreadsheet."""
    plain = read(f"{HEAD}2,00,done,no,{REST}\n")
    assert plain.tallies[0].player == PLAYERS[1].id
    assert ids(read(f"{HEAD}2,#00,done,no,{REST.replace('-', '_')}\n")) == ids(plain)


@pytest.mark.parametrize(
    ("said", "otherwise"), [("2025-09-04", "2025-09_04"), ("2025-09-04", "9/4/2025"), (",2,", ",##2,")]
)
def test_half_kept_forms_are_refused(said, otherwise, brought, complaints):
    """A date or number that is neither the one form nor the other is told with its line."""
    text = f"{HEAD}1,2,done,no,{REST}\n".replace(said, otherwise)
    (found,) = complaints(read_tallies, brought(text, "tallies.csv"), PLAYERS, SKILLS, DRILLS)
    assert found.startswith("tallies.csv, line 2: ")
