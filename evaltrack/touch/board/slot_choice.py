"""What can be put right of one slot: who is in it, who goes off the ice, who comes."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import NamedTuple
from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.drill import Slot
from evaltrack.rink.player import Player
from evaltrack.touch.desk.bench_rotation import BenchRotation
from evaltrack.touch.tiles.faces import ButtonFace


class Option(NamedTuple):
    """A button to choose, and what it does."""

    face: ButtonFace
    act: Callable[[], object]


def options(
    slot: Slot,
    bench: BenchRotation,
    there: Player | None,
    names: Mapping[UUID, str],
    limit_of: Callable[[Player], str],
) -> list[Option]:
    """Return what may have happened in a slot, in which ``there`` stands on the screen or nobody.

    First who could be in it, then who is not here yet, or not any more, and comes now; then that nobody is.
    """
    made = [
        Option(ButtonFace(names[p.id], p.number, limit=limit_of(p)), partial(bench.swap, slot.key, p.id))
        for p in bench.could_be(slot)
    ]
    made += [
        Option(ButtonFace(names[p.id], p.number, tr("comes now")), partial(bench.comes, slot.key, p))
        for p in bench.could_come(slot)
    ]
    if there:
        gone = ButtonFace(tr("off the ice"), small=tr("{number} goes now", number=there.number))
        made.append(Option(gone, partial(bench.off, there.id)))
    made.append(Option(ButtonFace(tr("nobody"), small=slot.name), partial(bench.empty, slot.key)))
    made.append(Option(ButtonFace(tr("leave it"), small=slot.name), lambda: None))
    return made
