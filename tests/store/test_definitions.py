"""Skills and drills that change during the season.

Cases: same definition, no new series; changed definition, a new one; order; part of the catalogue; steps
that fall away; all or nothing.
"""

from dataclasses import replace

import pytest
from lanterns_season import DRILLS, SKILLS, definition, tally

from evaltrack.errors import NotSavedError
from evaltrack.rink.drill import Drill, Step


def test_an_unchanged_definition_goes_on(season):
    """A new name, target or suggestion is no new series: the tries so far still count."""
    season.log.add(tally(0))
    season.catalogue.write([replace(SKILLS[0], name="First pass", target=0.7, at_home=("x",))], [])
    assert season.catalogue.skills()[0] == replace(SKILLS[0], name="First pass", target=0.7, at_home=("x",))
    assert len(season.log.cells()) == 1


@pytest.mark.parametrize("part", ["starts", "done", "missed", "not_counted"])
def test_a_changed_definition_starts_a_new_series(season, part):
    """Whichever part of the definition changes: earlier tries stay in the log and leave the cells."""
    season.log.add(tally(0))
    words = replace(SKILLS[0].definition, **{part: "Something else."})
    season.catalogue.write([replace(SKILLS[0], definition=words)], [])
    assert season.catalogue.skills()[0].version == 2
    assert season.catalogue.skills()[0].definition == words
    assert season.log.cells() == []
    assert season.log.tallies() == [tally(0)]
    season.log.add(tally(1, skill_version=2))
    assert [cell[-2:] for cell in season.log.cells()] == [(1, 1)]


def test_a_definition_that_comes_back_is_a_third_series(season):
    """Going back to the first words does not mix old tries with new ones."""
    season.log.add(tally(0))
    for words in (definition("Other."), SKILLS[0].definition):
        season.catalogue.write([replace(SKILLS[0], definition=words)], [])
    assert season.catalogue.skills()[0].version == 3
    assert season.log.cells() == []


def test_the_whole_catalogue_can_be_put_in_another_order(season):
    """Skills and drills come in the order in which all of them were written last."""
    season.catalogue.write(SKILLS[::-1], DRILLS[::-1])
    assert season.catalogue.skills() == SKILLS[::-1]
    assert season.catalogue.drills() == DRILLS[::-1]


def test_writing_one_leaves_the_others_in_place(season):
    """A changed skill or drill keeps its place, a new one goes to the end, the others stay whole."""
    new_skill = replace(SKILLS[1], key="lane_fill", name="Fill the lane")
    new_drill = Drill("wall_work", "Wall work", (Step("free", "Free", ()), Step("pressured", "Pressed", ())))
    season.catalogue.write([new_skill, replace(SKILLS[2], target=0.8)], [new_drill])
    season.catalogue.write([], [replace(DRILLS[1], name="Stops")])
    assert season.catalogue.skills() == [*SKILLS[:2], replace(SKILLS[2], target=0.8), new_skill]
    assert season.catalogue.drills() == [DRILLS[0], replace(DRILLS[1], name="Stops"), new_drill]


def test_a_step_that_is_not_named_any_more_goes_to_the_end(season):
    """A drill's dropped step stays, since tallies may name it, but after the steps that are named."""
    two, three = DRILLS[0].steps
    four = Step("two_regroups", "2 regroups", ())
    season.catalogue.write([], [replace(DRILLS[0], steps=(three, four))])
    assert season.catalogue.drills()[0].steps == (three, four, two)


def test_a_catalogue_is_written_whole_or_not_at_all(season):
    """A fault in the last drill takes back the new definition of the first skill too."""
    twice = replace(DRILLS[0], steps=(replace(DRILLS[0].steps[0], slots=DRILLS[0].steps[0].slots[:1] * 2),))
    with pytest.raises(NotSavedError):
        season.catalogue.write([replace(SKILLS[0], definition=definition("New."))], [twice])
    assert season.catalogue.skills() == SKILLS
    assert season.catalogue.drills() == DRILLS
