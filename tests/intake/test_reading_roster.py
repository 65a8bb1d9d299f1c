"""roster.csv: real-world files that must be read, and every fault at its line."""

import unicodedata
from datetime import date

import pytest
from lanterns_files import PLAYERS, ROSTER_CSV, D, F, G

from evaltrack.intake.roster import read_roster

YEAR = date.today().year
HEAD = "number,name,position,birth_year,status\n"

GOOD = {
    "plain": ROSTER_CSV,
    "byte-order mark": "\ufeff" + ROSTER_CSV,
    "Windows line ends": ROSTER_CSV.replace("\n", "\r\n"),
    "old line ends": ROSTER_CSV.replace("\n", "\r"),
    "tabs": ROSTER_CSV.replace('"Fern, Petra O\'"', "Fern; Petra O'").replace(",", "\t").replace(";", ","),
    "semicolons": ROSTER_CSV.replace('"Fern, Petra O\'"', "Fern| Petra O'")
    .replace(",", ";")
    .replace("|", ","),
    "separator named": "sep=;\r\n"
    + ROSTER_CSV.replace('"Fern, Petra O\'"', "Fern| Petra O'").replace(",", ";").replace("|", ","),
    "no last line end": ROSTER_CSV.rstrip("\n"),
    "empty lines": ROSTER_CSV.replace("\n", "\n\n,,,,\n   \n").removesuffix("\n"),
    "header in capitals, quoted": ROSTER_CSV.replace(
        HEAD, '"Number"," NAME ","Position","Birth Year","STATUS"\n'
    ),
    "empty columns at the end": "".join(line + ",,\n" for line in ROSTER_CSV.splitlines()),
    "every field quoted": "\n".join(
        line if '"' in line else '"' + line.replace(",", '","') + '"' for line in ROSTER_CSV.splitlines()
    ),
    "words and blanks": ROSTER_CSV.replace(",G,", ", Goalie ,")
    .replace("Åse Løkken,F", " Åse\u00a0  Løkken ,left-wing")
    .replace(",D,", ",DEFENSE,")
    .replace("17,Juno Reed,F", "017,Juno Reed,Centre"),
    "decomposed letters": unicodedata.normalize("NFD", ROSTER_CSV),
}
BAD_LINES = {
    "no number": (",Ann,D,,", "the number is missing"),
    "four digits": ("1234,Ann,D,,", "`1234` is not a jersey number"),
    "letter O": ("O7,Ann,D,,", "did you mean 07?"),
    "letter l": ("l2,Ann,D,,", "did you mean 12?"),
    "number sign": ("#7,Ann,D,,", "did you mean 7?"),
    "decimal": ("7.0,Ann,D,,", "did you mean 7?"),
    "word": ("seven,Ann,D,,", "one to three digits"),
    "negative": ("-7,Ann,D,,", "not a jersey number"),
    "other digits": ("٧,Ann,D,,", "not a jersey number"),
    "superscript": ("²,Ann,D,,", "not a jersey number"),
    "used twice": ("02,Ann,D,,", "number 2 stands in line 2 too"),
    "no name": ("7,  ,D,,", "the name is missing"),
    "long name": (f"7,{'n' * 61},D,,", "61 characters; at most 60"),
    "control character": ("7,A\x07nn,D,,", "U+0007"),
    "control character like a blank": ("7,A\x1cnn,D,,", "U+001C"),
    "turned writing": ("7,A\u202enn,D,,", "U+202E"),
    "zero-width": ("7,A\u200bnn,D,,", "U+200B"),
    "no position": ("7,Ann,,,", "the position is missing"),
    "odd position": ("7,Ann,Rover,,", "`Rover` is not a position; write D, F or G"),
    "two-digit year": ("7,Ann,D,14,", "not a year of birth"),
    "old year": ("7,Ann,D,1899,", "not a year of birth"),
    "year to come": (f"7,Ann,D,{YEAR + 1},", "not a year of birth"),
    "date of birth": ("7,Ann,D,2014-05-03,", "write the year alone, 2014"),
    "date of birth, turned": ("7,Ann,D,3.5.2014,", "write the year alone, 2014"),
    "odd status": ("7,Ann,D,,hurt", "`hurt` is not a status"),
    "status close": ("7,Ann,D,,awy", "did you mean `away`?"),
    "too many values": ("7,Reed, Ann,D,2014,full", "6 values for 5 columns"),
    "quote in a quoted field": ('7,"Ann "Pip" Reed",D,,', 'each " twice'),
}
BAD_HEADERS = {
    "none": ("1,Ann,D\n", "must name the columns: number,name,position"),
    "unknown column": ("number,name,position,shoots\n1,A,D,left\n", "unknown column `shoots`"),
    "misspelt column": ("number,nmae,position\n1,A,D\n", "did you mean `name`?"),
    "column missing": ("number,name\n1,A\n", "the column `position` is missing"),
    "column twice": ("number,name,position,Name\n1,A,D,B\n", "the column `name` stands twice"),
}


@pytest.mark.parametrize("kind", GOOD)
def test_real_world_files(kind, brought):
    """What spreadsheets and people make of the same roster is read as the same roster."""
    assert read_roster(brought(GOOD[kind], "roster.csv")) == PLAYERS


def test_columns_in_any_order(brought):
    """Optional columns may be left out, and the rest stand in any order."""
    players = read_roster(brought("position,number,name\nD,4,Ann\n", "roster.csv"))
    assert [(player.number, player.position, player.birth_year) for player in players] == [("4", D, None)]


@pytest.mark.parametrize(
    ("word", "position"),
    [
        ("d", D),
        ("Defence", D),
        ("DEFENSE", D),
        ("forward", F),
        ("Wing", F),
        ("center", F),
        ("CENTRE", F),
        ("goalie", G),
    ],
)
def test_words_of_the_trade(word, position, brought):
    """Positions may be written out, in either spelling and any case."""
    (player,) = read_roster(brought(f"number,name,position\n4,Ann,{word}\n", "roster.csv"))
    assert player.position is position


@pytest.mark.parametrize(
    ("written", "worn"), [("0", "0"), ("00", "00"), ("07", "7"), ("007", "7"), ("100", "100")]
)
def test_numbers_as_worn(written, worn, brought):
    """A leading zero is dropped, but 0 and 00 are two jerseys."""
    (player,) = read_roster(brought(f"number,name,position\n{written},Ann,D\n", "roster.csv"))
    assert player.number == worn


def test_ids_are_fresh(brought):
    """Every player gets an id of their own."""
    players = read_roster(brought(ROSTER_CSV, "roster.csv"))
    assert len({player.id for player in players}) == len(players)


@pytest.mark.parametrize("fault", BAD_LINES)
def test_bad_lines(fault, brought, complaints):
    """Every kind of fault is told with its line, and the good lines do not save the file."""
    line, words = BAD_LINES[fault]
    (found,) = complaints(read_roster, brought(f"{HEAD}2,Bo,F,,\n\n{line}\n", "roster.csv"))
    assert found.startswith("roster.csv, line 4: ")
    assert words in found


@pytest.mark.parametrize("fault", BAD_HEADERS)
def test_bad_headers(fault, brought, complaints):
    """A header that cannot be used is told at line 1; no column is swallowed."""
    text, words = BAD_HEADERS[fault]
    found = complaints(read_roster, brought(text, "roster.csv"))
    assert all(text.startswith("roster.csv, line 1: ") for text in found)
    assert words in found[0]


def test_header_behind_empty_lines(brought, complaints):
    """Lines are counted as an editor counts them."""
    (found,) = complaints(read_roster, brought("\n\nnumber,name,place\n1,A,D\n", "roster.csv"))[1:]
    assert found == "roster.csv, line 3: the column `position` is missing; add it"


def test_line_that_names_the_separator_counts(brought, complaints):
    """The line above the header, which some spreadsheets write, counts as a line."""
    (found,) = complaints(read_roster, brought("sep=;\nnumber;name;position\n1;A;X\n", "roster.csv"))
    assert found.startswith("roster.csv, line 3: ")


def test_line_break_in_a_quoted_name(brought, complaints):
    """A quoted line break belongs to its field, and later lines keep their numbers."""
    (found,) = complaints(read_roster, brought(f'{HEAD}2,"Bo\nReed",F,,\n3,Ann,X,,\n', "roster.csv"))
    assert found.startswith("roster.csv, line 4: ")


def test_quotation_mark_never_closed(brought, complaints):
    """An open quotation mark is told where it opens, not at the end of the file."""
    (found,) = complaints(read_roster, brought(f'{HEAD}2,Bo,F,,\n3,"Ann,D,,\n4,Cy,D,,\n', "roster.csv"))
    assert found.startswith("roster.csv, line 3: a quotation mark opens here")


def test_endless_field(brought, complaints):
    """A field that swallows the rest of a long file is told where it begins."""
    rest = "Ann\n" * 40_000
    (found,) = complaints(read_roster, brought(f'{HEAD}2,Bo,F,,\n3,"{rest},D', "roster.csv"))
    assert found.startswith("roster.csv, line 3: a field here is far too long")


def test_value_in_a_nameless_column(brought, complaints):
    """A value without a column name is not swallowed."""
    text = "number,name,position,\n1,A,D,\n2,B,D,left\n"
    (found,) = complaints(read_roster, brought(text, "roster.csv"))
    assert found.startswith("roster.csv, line 3: `left` stands in a column without a name")


def test_header_alone(brought, complaints):
    """A roster without a player is refused."""
    assert complaints(read_roster, brought(HEAD, "roster.csv")) == (
        "roster.csv: there is no player in it; add one line for each",
    )


def test_forty_players(brought, complaints):
    """Forty players are read, the forty-first is complained of once."""
    lines = [f"{number},Ann,F,," for number in range(1, 44)]
    assert len(read_roster(brought(HEAD + "\n".join(lines[:40]), "roster.csv"))) == 40
    (found,) = complaints(read_roster, brought(HEAD + "\n".join(lines), "roster.csv"))
    assert found == "roster.csv, line 42: this is player 41; a roster holds at most 40"


def test_every_fault_of_every_line(brought, complaints):
    """All faults are told at once, several of one line too, in the order of the lines."""
    found = complaints(read_roster, brought(f"{HEAD}x,,Q,99,gone\n5,Bo,F,,\n5,,F,,\n", "roster.csv"))
    assert [text.split(":")[0] for text in found] == ["roster.csv, line 2"] * 5 + ["roster.csv, line 4"] * 2
