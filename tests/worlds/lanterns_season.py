"""The values that the tests of the store put into files: an invented team, two practices, a few skills."""

from datetime import date
from uuid import UUID

from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.practice import Practice, Station, Surface
from evaltrack.rink.skill import Definition, Skill
from evaltrack.rink.tally import Outcome, Tally

TEAM = {"team": "Kettle Bay Lanterns", "age_class": "12U"}
D, F, G = Position.DEFENCE, Position.FORWARD, Position.GOALIE
OBSERVERS = ("Ines", "Tuomo")

PLAYERS = [
    Player("10", "Oda Marsh", D, 2013, id=UUID(int=10)),
    Player("0", "Wim Tallow", G, id=UUID(int=1)),
    Player("2", 'Petra "Pip" O\'Fern', D, 2014, Status.LIMITED, UUID(int=2)),
    Player("00", "Åse Løkken", F, 2013, Status.AWAY, UUID(int=3)),
    Player("7", "Juno Reed", F, 2014, id=UUID(int=7)),
]


def definition(done: str = "It reaches the partner's stick.") -> Definition:
    """Return a definition that differs from another by what counts as done."""
    return Definition("He has the puck.", done, "It does not.", "He is knocked over.")


SKILLS = [
    Skill("outlet_pass", "Outlet pass", (D,), "on the tape", definition(), "Head up.", ("Wall passes.",)),
    Skill("wall_puck_feet", "Wall puck", (F,), "with the feet", definition("Kept."), "On the go.", (), 0.5),
    Skill("shot_on_net", "Shot on net", (D, F), "hits the net", definition("On net."), "A thud.", ("a", "b")),
]

DRILLS = [
    Drill(
        "breakout_attack",
        "Breakout and attack",
        (
            Step(
                "two_on_one",
                "2 v 1",
                (
                    Slot("breakout_d", "Breakout D", D, "line_d", ("outlet_pass", "shot_on_net")),
                    Slot("line_d", "Line D", D, None, ("shot_on_net",)),
                    Slot("wall_f", "Wall F", F, None, ("wall_puck_feet", "shot_on_net")),
                ),
            ),
            Step("three_on_one", "3 v 1", (Slot("wall_f", "Wall F", F, None, ("wall_puck_feet",)),)),
        ),
    ),
    Drill("stops_starts", "Stops and starts", (Step("on_lines", "On lines", ()),)),
]
STEPS = [(drill.key, step.key) for drill in DRILLS for step in drill.steps]

PRACTICES = [
    Practice("2025-10-04", date(2025, 10, 4), Surface.FULL),
    Practice("2025-10-11", date(2025, 10, 11), Surface.HALF, 1_760_000_000_000, 1_760_003_600_000),
]


def tally(n: int, outcome: Outcome = Outcome.DONE, **changes) -> Tally:
    """Return the n-th tally: player 10, outlet pass, first practice, unless told otherwise."""
    values = {
        "practice": PRACTICES[0].key,
        "player": PLAYERS[0].id,
        "skill": "outlet_pass",
        "drill": "breakout_attack",
        "step": "two_on_one",
        "observer": OBSERVERS[0],
        "tablet": "bench",
        "at": 1_759_600_000_000 + n,
        "id": UUID(int=1000 + n),
    }
    return Tally(outcome=outcome, **{**values, **changes})


def station(**changes) -> Station:
    """Return what the bench tablet watches first, unless told otherwise."""
    values = {
        "practice": PRACTICES[0].key,
        "drill": "breakout_attack",
        "step": "two_on_one",
        "skill": "outlet_pass",
        "observer": OBSERVERS[0],
        "tablet": "bench",
        "at": 1_759_600_000_000,
    }
    return Station(**{**values, **changes})
