"""Players by short names and steps by short recipes, for the tests of lines and rotations."""

from uuid import UUID

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.places import sample_roster
from evaltrack.rink.drill import Drill, Slot, Step, drill_named
from evaltrack.rink.player import Player, Position
from evaltrack.rink.rotation.rotation import Rotation

D, F, G = Position.DEFENCE, Position.FORWARD, Position.GOALIE


def player(name: str) -> Player:
    """Return the player ``D3``, ``F12`` or ``G1``: his position group, and his number."""
    return Player(name[1:], f"Player {name}", Position(name[0]), id=ident(name))


def players(names: str) -> list[Player]:
    """Return players by their names, in this order."""
    return [player(name) for name in names.split()]


def ident(name: str) -> UUID:
    """Return the id of the player of this name."""
    return UUID(int=1000 * "DFG".index(name[0]) + int(name[1:]))


def name_of(player: UUID) -> str:
    """Return the name of the player with this id."""
    return f"{'DFG'[player.int // 1000]}{player.int % 1000}"


def step_of(recipe: str, key: str = "a_step") -> Step:
    """Return the step of a recipe such as ``Da>Db Fc``: two slots of defenders on one way, one forward's."""
    slots = []
    for way in recipe.split():
        places = way.split(">")
        for place, after in zip(places, [*places[1:], None], strict=True):
            onward = after and after[1:]
            slots.append(Slot(place[1:], place, Position(place[0]), onward, ()))
    return Step(key, key, tuple(slots))


def drill_of(*recipes: str, key: str = "a_drill") -> Drill:
    """Return a drill whose steps ``step0``, ``step1`` have these recipes."""
    return Drill(key, key, tuple(step_of(recipe, f"step{n}") for n, recipe in enumerate(recipes)))


def shipped_drill(key: str) -> Drill:
    """Return a drill of the catalogue that is shipped."""
    skills = read_skills(sample_roster() / "skills.toml")
    return drill_named(read_drills(sample_roster() / "drills.toml", skills), key)


def in_slots(rotation: Rotation) -> dict[str, str]:
    """Return the names of the players in the slots, by slot key."""
    return {key: name_of(ident) for key, ident in rotation.slots.items()}


def in_line(rotation: Rotation, group: Position) -> str:
    """Return the names of the players in a line, the next one first."""
    return " ".join(name_of(ident) for ident in rotation.queues[group])
