"""A roster that is pasted: every usual order and separator gives the same lines, and nothing is swallowed."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_files import PLAYERS, ROSTER_CSV

from evaltrack.errors import IntakeError
from evaltrack.intake.pasted_table import LONGEST_PASTE
from evaltrack.intake.roster import is_position, read_roster
from evaltrack.intake.roster_lines import MOST_LINES, RosterLine, judged, pasted, read_lines
from evaltrack.places import sample_roster

HEADS = {
    "number": ["number", "#", "No.", "Jersey Number", "NR", "Numéro"],
    "name": ["name", "Player", "FULL NAME", "Nom"],
    "position": ["position", "Pos", "POS.", "Poste"],
    "birth_year": ["birth_year", "Born", "Year of birth", "Année de naissance"],
}
ODD = (
    "Zoë Łukasik",
    "Aoife Ní Dhúlain",
    "Kaan Yıldız",
    "Nguyễn Ánh",
    "Seán O'Brien-Ó Sé",
    "李 小龙",
    "Ðóra Þórsdóttir",
)
LETTERS = st.characters(codec="utf-8", categories=["Lu", "Ll", "Lo"])
NAMES = st.sampled_from(ODD) | st.lists(st.text(LETTERS, min_size=2, max_size=8), min_size=2, max_size=3).map(
    " ".join
)
STATUSES = "full", "limited", "away"
LINES = st.lists(
    st.tuples(
        st.integers(0, 999).map(str),
        NAMES,
        st.sampled_from(
            ["D", "F", "G", "defence", "Left Wing", "goalie", "Défenseur", "ailière", "gardienne"]
        ),
        st.integers(2012, 2020).map(str) | st.just(""),
    ),
    min_size=1,
    max_size=20,
    unique_by=lambda line: line[0],
)


def plain(lines):
    """Return lines as they are once blanks and the forms of letters are the same."""
    from evaltrack.intake.text import folded

    return [RosterLine(*map(folded, line)) for line in lines]


@given(
    LINES,
    st.sampled_from("\t;,"),
    st.permutations(list(HEADS)),
    st.booleans(),
    st.sampled_from(["\n", "\r\n"]),
    st.data(),
)
def test_any_order_and_separator_gives_the_lines_as_they_were(lines, separator, order, headed, end, data):
    """Columns in any order, with a header in the usual words or with none, are found by what is in them."""
    names = [name for _, name, _, _ in lines]
    assert not any(map(is_position, names))  # no made name is one
    if not headed and not all(line[3] for line in lines):
        lines = [(*line[:3], "2014") for line in lines]
    rows = [dict(zip(("number", "name", "position", "birth_year"), line, strict=True)) for line in lines]
    table = [separator.join(row[column] for column in order) for row in rows]
    if headed:
        table.insert(0, separator.join(data.draw(st.sampled_from(HEADS[column])) for column in order))
    found = pasted(end.join(table) + data.draw(st.sampled_from(["", end])))
    assert found.lines == plain(lines)
    assert found.remarks == []


@given(st.text() | st.text('\t;,"\n\r #0127DFGab.') | st.binary().map(lambda raw: raw.decode("latin1")))
def test_whatever_is_pasted_gives_lines_or_a_sentence(text):
    """Nothing on a clipboard breaks it but in a sentence, and each line is a player or says why not."""
    try:
        found = pasted(text)
    except IntakeError:
        return
    assert found.lines
    for line in judged(found.lines):
        assert (line.player is None) == bool(line.complaints)


@settings(deadline=None)
@given(LINES)
def test_a_roster_file_reads_as_the_command_reads_it(tmp_path_factory, lines):
    """The app and `evaltrack new` make the same players of one roster.csv."""
    path = tmp_path_factory.mktemp("brought") / "roster.csv"
    rows = [",".join(line) for line in lines]
    path.write_text("\n".join(["number,name,position,birth_year", *rows]), encoding="utf-8")
    assert [line.player for line in judged(read_lines(path).lines)] == read_roster(path)


def test_the_shipped_roster_reads_without_a_complaint():
    """The invented team's own file is taken whole."""
    path = sample_roster() / "roster.csv"
    assert [line.player for line in judged(read_lines(path).lines)] == read_roster(path)


def test_a_name_with_a_comma_is_turned_round_and_that_is_told():
    """A spreadsheet's `Fern, Petra` is Petra Fern; whoever sees the list is told that it was changed."""
    found = pasted("7\tFern, Petra\tD\n9\tBo Tarnquist\tF")
    assert [line.name for line in found.lines] == ["Petra Fern", "Bo Tarnquist"]
    assert "turned round" in found.remarks[0]
    names = [line.name for line in pasted(ROSTER_CSV).lines]
    assert len(names) == len(PLAYERS)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("#7\tBo\tTarnquist\tD", RosterLine("7", "Bo Tarnquist", "D")),
        ("7.0;Bo Tarnquist;Left Wing", RosterLine("7", "Bo Tarnquist", "Left Wing")),
        ("First name,Last name,#\nBo,Tarnquist,00", RosterLine("00", "Bo Tarnquist", "")),
        ("Last\tFirst\tNo.\nTarnquist\tBo\t4", RosterLine("4", "Bo Tarnquist", "")),
        ("7 Bo Tarnquist D", RosterLine("7", "Bo Tarnquist", "D")),
        ("7. Bo Tarnquist", RosterLine("7", "Bo Tarnquist", "")),
        ("Bo Tarnquist", RosterLine("", "Bo Tarnquist", "")),
        ("sep=;\n7;Bo Tarnquist;D", RosterLine("7", "Bo Tarnquist", "D")),
        ('7,"Bo ""Bolt"" Tarnquist",D', RosterLine("7", 'Bo "Bolt" Tarnquist', "D")),
        ('7\tBo "Bolt Tarnquist\tD', RosterLine("7", 'Bo "Bolt Tarnquist', "D")),
        ("\ufeffnumber,name,position\n7,Bo\u00a0 Tarnquist,D\n,,\n", RosterLine("7", "Bo Tarnquist", "D")),
        ("7\tBo Tarnquist\tD\t2014\tlimited", RosterLine("7", "Bo Tarnquist", "D", "2014", "limited")),
        ("O7,Bo Tarnquist,D", RosterLine("O7", "Bo Tarnquist", "D")),
    ],
)
def test_as_people_write_it(text, line):
    """Signs, decimals, two columns of names, blanks alone, stray quotation marks: one player."""
    assert pasted(text).lines == [line]


@pytest.mark.parametrize("stray", ["14", "left"])
def test_what_stands_beside_is_neither_number_nor_name(stray):
    """One more value, alone in its column, moves no numbers, gets into no name, and is told."""
    found = pasted(f"7,Bo,D\n8,Ann,F\nO9,Pip,F\n31,Ilze,G,{stray}")
    assert [(line.number, line.name) for line in found.lines] == [
        ("7", "Bo"),
        ("8", "Ann"),
        ("O9", "Pip"),
        ("31", "Ilze"),
    ]
    assert found.remarks == [f"Left out, for want of a heading: `{stray}`."]


def test_what_has_no_place_in_a_line_is_named():
    """A column that means nothing here, and cells beyond the header, are told and not swallowed."""
    found = pasted("number,name,position,shoots\n7,Bo,D,left,captain")
    assert found.lines == [RosterLine("7", "Bo", "D")]
    assert found.remarks == [
        "Left out: the column `shoots`.",
        "Left out, for want of a heading: `captain`.",
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "there is no player in it"),
        (" \n,,\n", "there is no player in it"),
        ("number,name,position\n", "there is no player in it"),
        ("7,Bo,D\n" * (MOST_LINES + 1), f"{MOST_LINES + 1} lines are no roster"),
        ("x" * (LONGEST_PASTE + 1), "characters are no roster"),
    ],
)
def test_no_roster_at_all_is_refused_in_a_sentence(text, told):
    """Nothing, a header alone, or a book on the clipboard."""
    with pytest.raises(IntakeError, match=told):
        pasted(text)


def test_every_fault_is_told_at_its_line_at_once():
    """A number twice, a hidden letter, a missing position, too many players: each where it is."""
    lines = [RosterLine("7", "Bo", "D"), RosterLine("07", "Ann", "F"), RosterLine("8", "A\u200bnn", "")]
    lines += [RosterLine(str(100 + i), f"Player {i}", "F") for i in range(38)]
    found = judged(lines)
    assert found[0].complaints == ()
    assert re.match("number 7 stands in line 1 too", found[1].complaints[0])
    assert [text[:12] for text in found[2].complaints] == ["the name hol", "the position"]
    assert all(line.complaints == () for line in found[3:40])
    assert "at most 40" in found[40].complaints[0]


@pytest.mark.parametrize("end", ["", "\n", "\r\n"])
def test_a_quoted_name_with_the_separator_in_it_is_one_name(end):
    """However many characters there are around it; a mark that does not close is a part of the name."""
    assert pasted(f'7,"Fern, Petra",D{end}').lines == [RosterLine("7", "Petra Fern", "D")]
    assert pasted(f'7,"Petra Fern,D{end}').lines == [RosterLine("7", '"Petra Fern', "D")]
