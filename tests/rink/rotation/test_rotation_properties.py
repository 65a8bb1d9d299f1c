"""What holds of a line whatever happens at the bench.

Random steps and squads; then anything in any order: the next rep, a new step, arrivals, leavings,
corrections, changes taken back. After each: nobody is in two places, nobody absent is anywhere, everyone here
is in one slot or in one line, no slot is empty while somebody waits for it, the facts played again give the
same line, a rep that was begun stays as it is. Over any run of reps between two changes by hand, turns in a
group differ by at most one.
"""

from collections import Counter
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from lined_up import D, F, player, players, step_of

from evaltrack.rink.drill import Drill, Step
from evaltrack.rink.practice import Rep
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.rotation.rotation_fact import Change
from evaltrack.rink.rotation.running import RunningRotation, changes_for, replay

ONE_GROUP = [player(f"{group}{n}") for group, count in (("D", 5), ("F", 7), ("G", 2)) for n in range(count)]
BOTH = [replace(player("D9"), also=F), replace(player("F9"), also=D), replace(player("D8"), also=F)]
SQUAD = [*ONE_GROUP, *BOTH]
IDS = st.sampled_from([p.id for p in SQUAD])
SLOTS = st.sampled_from([f"{group.lower()}{n}" for group in "DFG" for n in range(6)])


@st.composite
def steps(draw, key: str = "a_step", longest: int = 2) -> Step:
    """Draw a step whose ways are, for each group, equally long or differ by one rep.

    Slots of different steps share keys, so that players find theirs in the next step; the order is any.
    """
    ways = []
    for group in "DFG":
        shortest = draw(st.integers(1, longest))
        lengths = draw(st.lists(st.integers(shortest, min(shortest + 1, longest)), max_size=3))
        keys = iter([f"{group}{group.lower()}{n}" for n in range(sum(lengths))])
        ways += [">".join(next(keys) for _ in range(length)) for length in lengths]
    slots = step_of(" ".join(ways), key).slots
    return Step(key, key, tuple(draw(st.permutations(slots))))


@st.composite
def drills(draw) -> Drill:
    """Draw a drill of three steps."""
    return Drill("a_drill", "A drill", tuple(draw(steps(f"step{n}")) for n in range(3)))


def came_in(before: Rotation, after: Rotation) -> Counter:
    """Count who came in from one rep to the next, from the slots alone.

    A player who is where their slot led, past slots left empty, has stayed in the drill.
    """
    onward = {slot.key: slot.next for slot in before.step.slots}

    def led(key):
        key = onward[key]
        while key in before.closed:
            key = onward[key]
        return key

    stayed = {who for key, who in before.slots.items() if led(key) and after.slots.get(led(key)) == who}
    return Counter(who for who in after.slots.values() if who not in stayed)


def uneven(rotation: Rotation, totals: list[Counter]) -> int:
    """Return by how many turns two of a group differ at most, since any of the earlier reps.

    ``totals`` counts who came in up to each rep, the present one last.
    """
    worst = 0
    for since in totals[:-1]:
        for group in set(rotation.groups.values()):
            turns = [totals[-1][who] - since[who] for who, g in rotation.groups.items() if g == group]
            worst = max(worst, max(turns) - min(turns))
    return worst


class Bench(RuleBasedStateMachine):
    """An assistant who does anything at any moment, and a log that is played again after each."""

    @initialize(drill=drills(), squad=st.lists(st.sampled_from(SQUAD), unique=True))
    def line_up(self, drill, squad):
        self.drill, self.here = drill, {p.id for p in squad}
        rep = Rep("2025-10-04", drill.key, "step0", {}, "bench", 0)
        self.line, fact = RunningRotation.first([drill], rep, squad)
        self.facts, self.reps, self.totals = [fact], [self.line.rep], [Counter()]

    def keep(self, made):
        self.line, fact = made
        self.facts.append(fact)
        if fact.change.begins_rep:
            self.reps.append(self.line.rep)
        if fact.change is not Change.NEXT:
            self.totals = [Counter()]

    @rule(reps=st.integers(1, 9))
    def play(self, reps):
        for _ in range(reps):
            before = self.line.rotation
            self.keep(self.line.next_rep(1))
            self.totals.append(self.totals[-1] + came_in(before, self.line.rotation))
            assert uneven(self.line.rotation, self.totals) <= 1

    @rule(n=st.integers(0, 2), played=st.booleans())
    def change_step(self, n, played):
        self.keep(self.line.change_step(self.drill.key, f"step{n}", played, 1))

    @rule(who=st.sampled_from(SQUAD), group=st.sampled_from([None, D, F]))
    def arrive(self, who, group):
        self.here.add(who.id)
        group, also = (group, None) if group else (who.position, who.also)
        self.keep(self.line.arrive(replace(who, position=group, also=also), 1))

    @rule(who=IDS)
    def leave(self, who):
        self.here.discard(who)
        self.keep(self.line.leave(who, 1))

    @rule(slot=SLOTS, who=IDS)
    def swap(self, slot, who):
        self.keep(self.line.swap(slot, who, 1))
        if slot in {s.key for s in self.line.rotation.step.slots} and who in self.here:
            assert self.line.rotation.slots[slot] == who

    @rule(slot=SLOTS)
    def empty(self, slot):
        self.keep(self.line.empty(slot, 1))
        assert slot not in self.line.rotation.slots

    @precondition(lambda self: self.line.can_go_back)
    @rule()
    def go_back(self):
        before = self.line.before
        self.keep(self.line.back(1))
        assert (self.line.rotation, self.line.rep.id) == (before.rotation, before.rep.id)

    @rule(present=st.sets(st.sampled_from(SQUAD)))
    def mark_attendance(self, present):
        self.here = {p.id for p in present}
        for made in changes_for(self.line, present, 1):
            self.keep(made)

    @rule(squad=st.lists(st.sampled_from(SQUAD), unique=True), n=st.integers(0, 2))
    def line_up_anew(self, squad, n):
        self.here = {p.id for p in squad}
        rep = Rep("2025-10-04", self.drill.key, f"step{n}", {}, "bench", 1)
        self.keep(RunningRotation.first([self.drill], rep, squad))

    @invariant()
    def everyone_here_is_in_one_place_and_nobody_else_anywhere(self):
        rotation = self.line.rotation
        places = Counter(rotation.slots.values())
        for line in rotation.queues.values():
            places.update(line)
        assert places == Counter(self.here)
        assert rotation.groups.keys() == self.here
        assert rotation.slots.keys() <= {s.key for s in rotation.step.slots} - rotation.closed

    @invariant()
    def everyone_waits_in_the_line_of_his_group(self):
        for group, line in self.line.rotation.queues.items():
            assert {self.line.rotation.groups[who] for who in line} <= {group}

    @invariant()
    def no_slot_is_empty_while_somebody_waits_for_it(self):
        rotation = self.line.rotation
        for slot in rotation.step.slots:
            if slot.key not in rotation.slots and slot.key not in rotation.closed:
                assert not rotation.queues[slot.position]

    @invariant()
    def the_log_gives_the_same_line(self):
        again = replay([self.drill], self.facts)
        assert (again.rotation, again.rep, again.rep.id) == (
            self.line.rotation,
            self.line.rep,
            self.line.rep.id,
        )

    @invariant()
    def a_rep_that_was_begun_stays(self):
        """A correction leaves the rep that its tallies name, with the slots it began with."""
        assert self.line.rep.id in {rep.id for rep in self.reps}
        assert {rep.id: rep for rep in self.reps}[self.line.rep.id] == self.line.rep

    @invariant()
    def turns_are_what_was_seen(self):
        """Turns counted by the rotation grow by what the slots alone show."""
        assert min(self.line.rotation.turns.values(), default=0) >= 0
        if len(self.totals) == 1:
            self.at_first = dict(self.line.rotation.turns)
        grown = Counter()
        for (who, _), turns in self.line.rotation.turns.items():
            grown[who] += turns
        for (who, _), turns in self.at_first.items():
            grown[who] -= turns
        assert +grown == self.totals[-1]


TestBench = Bench.TestCase
TestBench.settings = settings(max_examples=30, stateful_step_count=25, deadline=None)


@given(
    step=steps(longest=4),
    squad=st.lists(st.sampled_from(SQUAD), unique=True),
    comings=st.lists(st.sampled_from(SQUAD), max_size=6),
)
@settings(max_examples=30, deadline=None)
def test_turns_on_long_ways_while_players_come_and_go(step, squad, comings):
    """Routes of up to four reps: turns differ by at most one, a late comer's counted from the arrival."""
    rotation = Rotation.first(step, squad)
    for who in [None, *comings]:
        if who:
            rotation = rotation.leave(who.id) if who.id in rotation.groups else rotation.arrive(who)
        totals = [Counter()]
        for _ in range(12):
            before, rotation = rotation, rotation.next_rep()
            totals.append(totals[-1] + came_in(before, rotation))
            assert uneven(rotation, totals) <= 1


def test_ways_that_differ_by_two_reps_are_not_shared_evenly():
    """Ways of three reps and of one, four players: over two reps one comes in twice and one never."""
    rotation, totals = Rotation.first(step_of("Fa>Fb>Fc Fd"), players("F1 F2 F3 F4")), [Counter()]
    for _ in range(12):
        before, rotation = rotation, rotation.next_rep()
        totals.append(totals[-1] + came_in(before, rotation))
    assert uneven(rotation, totals) == 2
