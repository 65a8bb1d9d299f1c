"""What the tiles and buttons of a board show. Plain values."""

from typing import NamedTuple


class Face(NamedTuple):
    """What a tile shows: in its tab a jersey number or none, and a name, of a player or a skill.

    ``caption`` is a line of words at its foot. ``watched`` is False for a player who is not watched in this
    skill. A tile that is not ``here`` takes no taps, and its caption says why. ``brief`` is a shorter form
    of a player's name for where the name has no room; where neither has, the number stands alone. ``limit``
    says what the player may not do. ``first`` marks a player whom the plan says to look at first.
    """

    number: str
    name: str
    done: int = 0
    missed: int = 0
    unseen: int = 0
    caption: str = ""
    watched: bool = True
    here: bool = True
    brief: str = ""
    limit: str = ""
    first: bool = False


class ButtonFace(NamedTuple):
    """What a button on a board shows: a jersey number or none, a title, a small line. ``chosen`` fills it.

    ``limit`` says what the player on it may not do, ``brief`` is a shorter form of their name.
    """

    title: str
    number: str = ""
    small: str = ""
    chosen: bool = False
    limit: str = ""
    brief: str = ""
