"""Three tablets with wrong clocks do what they like and swap packs in any order: in the end all are equal.

Cases: any acts, packs lost, old and joined again, with the tables compared row by row and the practices as
they are printed; who has seen all has the last word; the standings; that the acts meet what they are to meet.
"""

import random
import shutil
import tempfile
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule
from three_tablets import ACTS, WRONG, ThreeTablets

from evaltrack.analysis.standings.standings import read_standings

OWN_ACTS = sorted(set(ACTS) - {"pack", "join"})


def settled(world: ThreeTablets) -> None:
    """Let everybody join what everybody has, and hold all of them against each other and the model."""
    world.settle()
    first, *others = world.dumps()
    for other in others:
        assert {name: rows for name, rows in other.items() if rows != first[name]} == {}
    assert len(set(world.practices())) == 1
    assert {row[0] for row in first["tally"]} == {ident.bytes for ident in world.made}
    assert {row[0] for row in first["withdrawal"]} == {ident.bytes for ident in world.withdrawn}
    world.settle()
    assert world.dumps() == [first, *others], "joining again changes nothing"


def last_word_counts(world: ThreeTablets) -> None:
    """Let one that has seen all change everything by a slow clock: it counts on every tablet."""
    wanted = world.last_say()
    world.settle()
    assert world.in_force() == [wanted] * 3


def machine(template: Path) -> type[RuleBasedStateMachine]:
    """Return the machine over copies of a season file."""

    class Tablets(RuleBasedStateMachine):
        @initialize(seed=st.integers(0, 2**32), offs=st.tuples(*[st.sampled_from(WRONG)] * 3))
        def start(self, seed, offs):
            self.folder = Path(tempfile.mkdtemp())
            self.world = ThreeTablets(template, self.folder, random.Random(seed), offs)

        @rule(which=st.integers(0, 2), name=st.sampled_from(OWN_ACTS))
        def note(self, which, name):
            self.world.act(which, name)

        @rule(which=st.integers(0, 2))
        def pack(self, which):
            self.world.act(which, "pack")

        @rule(which=st.integers(0, 2))
        def join(self, which):
            self.world.act(which, "join")

        def teardown(self):
            if hasattr(self, "world"):
                try:
                    settled(self.world)
                    last_word_counts(self.world)
                finally:
                    self.world.close()
                    shutil.rmtree(self.folder)

    return Tablets


def test_all_tablets_end_equal(season_template):
    """Whatever they do, in whichever order the packs go round."""
    case = machine(season_template).TestCase
    case.settings = settings(
        max_examples=8, stateful_step_count=30, deadline=None, suppress_health_check=list(HealthCheck)
    )
    case().runTest()


@pytest.mark.parametrize("seed", range(2))
def test_they_end_equal_in_their_standings_byte_for_byte(season_template, tmp_path, seed):
    """Shares, intervals and calls are those of one season, on whichever tablet they are worked out."""
    world = ThreeTablets(season_template, tmp_path, random.Random(seed))
    for name in ("begin", *["tally"] * 6, "begin", *["tally"] * 6):
        for which in range(3):
            world.act(which, name)
    for _ in range(20):
        world.act(world.chance.randrange(3), world.chance.choice(ACTS))
    settled(world)
    texts = {repr(read_standings(tablet.season)) for tablet in world.tablets}
    world.close()
    assert len(texts) == 1
    assert "Standing(" in texts.pop()


def test_the_acts_meet_what_tablets_meet(season_template, tmp_path):
    """Keys of practices change, changes lose, clocks are ahead."""
    met: Counter[str] = Counter()
    for seed in range(1000, 1004):
        (tmp_path / str(seed)).mkdir()
        world = ThreeTablets(season_template, tmp_path / str(seed), random.Random(seed))
        for _ in range(50):
            world.act(world.chance.randrange(3), world.chance.choice(ACTS))
        settled(world)
        met += world.met
        world.close()
    assert not met["one key, two facts"]
    least = {"keys changed": 3, "changes lost": 20, "clocks ahead": 3, "facts": 500}
    assert {name: met[name] for name, count in least.items() if met[name] < count} == {}
