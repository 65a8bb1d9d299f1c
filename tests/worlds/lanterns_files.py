"""A small invented catalogue and roster for the tests of intake, as text and as values."""

from evaltrack.intake.csv_text import csv_text
from evaltrack.intake.roster import OPTIONAL, REQUIRED
from evaltrack.rink.drill import Drill, Slot, Step
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.skill import Definition, Skill

D, F, G = Position.DEFENCE, Position.FORWARD, Position.GOALIE

SKILLS_TOML = """\
# A comment, and below a key that looks like a header inside a text.
[[skill]]
key = "outlet_pass"
name = "Outlet pass"
for = ["D"]
caption = "reaches a team-mate"
starts = "The puck leaves the blade."
done = "A team-mate has it."
missed = "Nobody has it."
not_counted = "The whistle."
looks_like = "a firm pass"
at_home = ["Pass a ball against a wall."]
target = 0.65

[[skill]]
key = "stop"
name = "Stop"
for = ["F", "D"]
caption = "dead stop"
starts = "The line."
done = \"\"\"
Stands still,
[[skill]]
key = balanced.\"\"\"
missed = "Glides."
not_counted = "Bumped."
looks_like = "a full stop"
"""

SKILLS = [
    Skill(
        "outlet_pass",
        "Outlet pass",
        (D,),
        "reaches a team-mate",
        Definition("The puck leaves the blade.", "A team-mate has it.", "Nobody has it.", "The whistle."),
        "a firm pass",
        ("Pass a ball against a wall.",),
        0.65,
    ),
    Skill(
        "stop",
        "Stop",
        (D, F),
        "dead stop",
        Definition("The line.", "Stands still, [[skill]] key = balanced.", "Glides.", "Bumped."),
        "a full stop",
    ),
]

DRILLS_TOML = """\
[[drill]]
key = "breakout"
name = "Breakout"

[[drill.step]]
key = "one"
name = "One"

[[drill.step.slot]]
key = "new_d"
name = "New D"
position = "D"
next = "old_d"
skills = ["outlet_pass", "stop"]

[[drill.step.slot]]
key = "old_d"
name = "Old D"
position = "D"
next = "out"
skills = []

[[drill.step]]
key = "two"
name = "Two"

[[drill.step.slot]]
key = "wall_f"
name = "Wall F"
position = "F"
next = "out"
skills = ["stop"]
"""

DRILLS = [
    Drill(
        "breakout",
        "Breakout",
        (
            Step(
                "one",
                "One",
                (
                    Slot("new_d", "New D", D, "old_d", ("outlet_pass", "stop")),
                    Slot("old_d", "Old D", D, None, ()),
                ),
            ),
            Step("two", "Two", (Slot("wall_f", "Wall F", F, None, ("stop",)),)),
        ),
    )
]

ROSTER_CSV = """\
number,name,position,birth_year,status
0,Wim Tallow,G,,
00,Åse Løkken,F,2013,away
2,"Fern, Petra O'",D,2014,limited
17,Juno Reed,F,2014,full
"""

PLAYERS = [
    Player("0", "Wim Tallow", G),
    Player("00", "Åse Løkken", F, 2013, Status.AWAY),
    Player("2", "Fern, Petra O'", D, 2014, Status.LIMITED),
    Player("17", "Juno Reed", F, 2014),
]


def roster_bytes(players: list[Player]) -> bytes:
    """Return these players as a roster.csv, in this order."""
    lines = [(p.number, p.name, p.position, p.birth_year or "", p.status) for p in players]
    return csv_text((*REQUIRED, *OPTIONAL), lines).encode()
