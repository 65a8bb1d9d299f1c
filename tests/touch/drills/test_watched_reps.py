"""Six reps before a step is saved: every slot has somebody, whoever plays in one group or two."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from lined_up import D, F, player, step_of

from evaltrack.touch.drills.watched_reps import in_their_lines, six_reps, stand_ins

SQUAD = [player(name) for name in ("D1", "D2", "D3", "F1", "F2", "F3", "G1")]
SQUAD += [replace(player("D8"), also=F), replace(player("F8"), also=D), replace(player("F9"), also=D)]


@given(
    st.lists(st.sampled_from(SQUAD), unique=True),
    st.sampled_from(["Da>Db>Dc Fd", "Da Db Fc Gd", "Fa>Fb Fc Fd", "Da>Db Fc>Fd Ge"]),
)
def test_nobody_lacks_in_any_rep(roster, recipe):
    """Who stands in does so for a slot of a line that is too short, and moves nobody into another line."""
    step = step_of(recipe)
    lined = in_their_lines(step, roster)
    invented = stand_ins(step, lined)
    reps = six_reps(step, [*lined, *invented])
    assert all(len(rotation.slots) == len(step.slots) for rotation in reps)
    assert {one.id: reps[0].groups[one.id] for one in lined} == {one.id: one.position for one in lined}
    assert len(invented) <= len(step.slots)
