"""What a player of two positions changes in the figures: nothing, and for whom they are watched: for both."""

from dataclasses import astuple, replace

from planned_seasons import skills as group_skills
from seasons import season

from evaltrack.analysis.standings.coverage import coverage_of
from evaltrack.analysis.standings.standings import standings_of
from evaltrack.paper.tables.standings import as_csv, as_table
from evaltrack.rink.player import Position

D, F = Position.DEFENCE, Position.FORWARD


def lined_up(also: Position | None):
    """Return the cells, players and skills of a season whose first four defend; the first plays forward too.

    Only they were watched in the harder step.
    """
    cells, roster, skills = season(players=8)
    defend = cells["player"].isin([one.id.bytes for one in roster[:4]])
    cells = cells[defend | (cells["step"] == "two_on_one")].reset_index(drop=True)
    roster = [replace(one, position=D) if number < 4 else one for number, one in enumerate(roster)]
    return cells, [replace(roster[0], also=also), *roster[1:]], skills


def test_the_share_of_a_player_of_two_positions_is_that_of_the_first():
    """The same tries give the same figures to a D/F as to a D, and to all others theirs; an F/D differs."""
    cells, roster, skills = lined_up(None)
    both = [replace(roster[0], also=F), *roster[1:]]
    one, two = (standings_of(cells, players, skills) for players in (roster, both))
    assert [astuple(s)[3:] for s in one] == [astuple(s)[3:] for s in two]
    assert [s.position for s in two[:2]] == ["D/F", "D/F"]
    forward = [replace(roster[0], position=F, also=D), *roster[1:]]
    assert standings_of(cells, forward, skills)[0].share != one[0].share


def test_tables_name_both_and_say_which_counts():
    """The CSV has D/F; the table says by which steps the share goes, and only where somebody plays both."""
    said = (
        "Who plays in two positions has the share under the steps and pressure that the one named first gets."
    )
    cells, both, skills = lined_up(F)
    found = standings_of(cells, both, skills)
    assert as_csv(found).splitlines()[1].split(",")[:4] == ["1", "Player 1", "D/F", "s0"]
    assert said in as_table(found)
    assert said not in as_table([one for one in found if one.position != "D/F"])


def test_coverage_has_the_skills_of_both():
    """Whoever plays both and was never seen is to be watched in the skills of defenders and of forwards."""
    cells, roster, _ = lined_up(F)
    keys = {position: [s.key for s in group_skills() if s.suits(position)] for position in (D, F)}
    rows = coverage_of(cells.iloc[:0], roster, group_skills())
    assert {row.skill for row in rows if row.player == "1"} == {*keys[D], *keys[F]}
    assert {row.skill for row in rows if row.player == "2"} == set(keys[D])
