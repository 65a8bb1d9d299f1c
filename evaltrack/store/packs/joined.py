"""What became of a join, as plain values."""

from collections import Counter
from dataclasses import dataclass, field
from uuid import UUID


@dataclass(frozen=True, slots=True)
class Written:
    """What a tablet wrote, and when by its clock.

    ``kind``, ``key`` and ``field`` say of what, as in `edits`; of other facts the kind is their table, and
    there is no field. ``value`` is what it says.
    """

    kind: str
    key: tuple
    field: str
    value: tuple
    tablet: str
    clock: int


@dataclass(frozen=True, slots=True)
class Lost(Written):
    """A change that lost against a newer one of a tablet that did not know of it; both stay in the file.

    ``won`` is what the newer one says.
    """

    won: tuple | None = None
    won_tablet: str = ""


@dataclass(slots=True)
class Joined:
    """What packs brought.

    Parameters
    ----------
    new : how many facts of each table were new, changes of fields as ``edit``.
    lost : what lost against newer changes.
    ahead : by tablet, how many ms its clock is ahead, where that is more than a day.
    clashes : facts of one key that differ, by table: two tablets have one id.
    doubled : numbers that two players were given, and what one of them has in its place.
    renamed : the keys of practices that are now others.
    erased : who was erased on another tablet and is still here.
    struck : how many texts that came had the name of somebody who was erased, which was struck out.
    to_read : texts that came in of which nobody can say whether they have such a name.
    """

    new: Counter[str] = field(default_factory=Counter)
    lost: list[Lost] = field(default_factory=list)
    ahead: dict[str, int] = field(default_factory=dict)
    clashes: Counter[str] = field(default_factory=Counter)
    doubled: list[tuple[str, str]] = field(default_factory=list)
    renamed: dict[str, str] = field(default_factory=dict)
    practices: int = 0
    erased: list[UUID] = field(default_factory=list)
    struck: int = 0
    to_read: list[Written] = field(default_factory=list)
