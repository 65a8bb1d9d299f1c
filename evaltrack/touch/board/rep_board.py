"""The board by rep: the slots of this rep as they stand on the ice, and below them who comes next."""

from dataclasses import dataclass
from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.drill import Slot
from evaltrack.rink.player import Position
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.rotation.rotation_fact import RotationFact
from evaltrack.rink.rotation.running import RunningRotation
from evaltrack.rink.short_names import short_names, shorter_names
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.touch.board.rotation_words import change_in_words, why_empty
from evaltrack.touch.board.slot_choice import Option, options
from evaltrack.touch.desk.bench_rotation import BenchRotation
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.desk.undone import Act
from evaltrack.touch.tiles.faces import ButtonFace, Face
from evaltrack.touch.tiles.placement import Placement, stacked
from evaltrack.touch.tiles.rep_layout import rep_rows, with_choice

_MOST_SKILLS = 3  # worth watching in one slot
_GLANCE = 300  # ms in which nobody reads a new number and taps on it


@dataclass(frozen=True, slots=True)
class _Tile:
    slot: Slot
    skill: str
    following: bool = False  # of the next rep


class RepBoard:
    """A tile for each slot and skill of this rep, and one for the first skill of each slot of the next.

    A tally of who comes next begins the next rep by itself. ``choosing`` is the key of the slot whose player
    is being corrected, empty when none is.
    """

    def __init__(self, desk: Desk):
        self._desk = desk
        self._bench = BenchRotation(desk)
        self._slots: list[Slot] = []
        self._tiles: list[_Tile] = []
        self._names: dict[UUID, str] = {}
        self._brief: dict[UUID, str] = {}
        self.choosing = ""
        self._offered: list[Option] = []  # below the slots, as they are shown
        self._before: tuple[RunningRotation, int] | None = None

    def take_up(self) -> bool:
        """Go on with the rotation; read again who is here and which step runs."""
        self._bench.take_up()
        self._before = None
        if self._bench.running is None:
            return False
        self._names = short_names(self._desk.known_here())
        self._brief = shorter_names(self._names)
        self._slots = self._bench.slots()
        now = [_Tile(slot, skill) for slot in self._slots for skill in slot.skills[:_MOST_SKILLS]]
        skaters = [slot for slot in self._slots if slot.skills and slot.position is not Position.GOALIE]
        self._tiles = now + [_Tile(slot, slot.skills[0], True) for slot in skaters]
        if self.choosing not in {slot.key for slot in self._slots}:
            self.choosing = ""
        return True

    @property
    def words(self) -> tuple[str, str]:
        """Return which rep of which step runs."""
        step = f"{self._desk.drill.name}, {self._desk.step.name}"
        if not self._slots:
            step = tr("{step} has no slots: tally on the group's board", step=step)
        return tr("Rep {number}", number=self._bench.running.number), step

    @property
    def question(self) -> tuple[str, ...]:
        """Return what is asked while a slot is being put right, in the place of `words`; else nothing."""
        if not self.choosing:
            return ()
        return tr("Who is {name}?", name=self._chosen_slot().name), tr("tap who it is, or what happened")

    @property
    def following(self) -> list[tuple[str, str]]:
        """Return number and name of everyone who will be in the next rep, in order of the slots."""
        coming = self._bench.rotation.next_rep().slots
        inside = [coming[slot.key] for slot in self._slots if slot.key in coming]
        return [(self._desk.player(ident).number, self._names[ident]) for ident in inside]

    @property
    def last_change(self) -> RotationFact | None:
        """Return the change of the rotation that was the last act; None where it was a tally, or none."""
        return self._bench.last_change

    @property
    def can_go_back(self) -> bool:
        """Say whether the last change of the rotation can be taken back."""
        return self._bench.can_go_back

    def name(self, player: UUID) -> str:
        """Return a player's name as it stands on the board."""
        return self._names.get(player, "")

    def lay_out(self, area: Rect) -> Placement:
        """Place the slots, and who comes next or could be in the slot that is corrected."""
        counts = [min(len(slot.skills), _MOST_SKILLS) for slot in self._slots]
        starters = sum(tile.following for tile in self._tiles)
        base = stacked(area, rep_rows(counts, starters, area))
        if not self.choosing:
            return base
        return with_choice(base, len(self._offered), len(self._slots) + 1)

    def faces(self) -> list[Face | None]:
        """Return what each tile shows."""
        return [self.face(place) for place in range(len(self._tiles))]

    def face(self, place: int) -> Face | None:
        """Return what one tile shows: of this rep a skill, of the next one a player."""
        tile = self._tiles[place]
        ident, skill = self._player(tile), self._desk.skills[tile.skill]
        if ident is None:
            why = why_empty(tile.slot, self._rotation_of(tile))
            return Face(
                "", skill.name, caption=tr("{what}: {more}", what=why, more=tile.slot.name), here=False
            )
        counts = [self._desk.count(ident, outcome, tile.skill) for outcome in Outcome]
        if tile.following:
            player = self._desk.player(ident)
            more = {"brief": self._brief.get(ident, ""), "limit": self._desk.limit_of(player)}
            more["first"] = ident in self._desk.look_first(tile.skill)
            return Face(player.number, self._names[ident], *counts, caption=skill.name, **more)
        return Face("", skill.name, *counts, caption=skill.caption)

    def buttons(self) -> list[ButtonFace]:
        """Return the plates of the slots, the button for the next rep, and who could be in a slot."""
        plates = [self._plate(slot) for slot in self._slots]
        buttons = [*plates, ButtonFace(tr("Next rep"), small=tr("a tally begins it"))]
        self._offered = self._options() if self.choosing else []
        return buttons + [option.face for option in self._offered]

    def _plate(self, slot: Slot) -> ButtonFace:
        rotation, chosen = self._bench.rotation, slot.key == self.choosing
        ident = rotation.slots.get(slot.key)
        if ident is None:
            return ButtonFace(why_empty(slot, rotation), small=slot.name, chosen=chosen)
        player = self._desk.player(ident)
        limit, brief = self._desk.limit_of(player), self._brief.get(ident, "")
        return ButtonFace(self._names[ident], player.number, slot.name, chosen, limit, brief)

    def place_of(self, tally: Tally) -> int | None:
        """Return the tile of this rep on which a tally counts, or None when it is on none."""
        now = [(self._player(tile), tile.skill) if not tile.following else None for tile in self._tiles]
        wanted = (tally.player, tally.skill)
        return now.index(wanted) if wanted in now else None

    def tally(self, place: int, outcome: Outcome) -> tuple[Tally | None, bool]:
        """Commit a tap; one on the next rep begins it too. Say whether all is to be shown again."""
        tile, at = self._tiles[place], self._desk.now()
        stood = self._stood_before(at)
        ident = self._rotation_of(tile, stood).slots.get(tile.slot.key)
        if ident is None:
            return None, False
        where = tile.slot.key, tile.skill
        if stood:
            rep = self._bench.rep if tile.following else stood.rep
            return self._desk.tally(ident, outcome, tile.skill, rep, at, tile.slot.key), True
        more = bool(tile.following or self.choosing or not self._bench.is_kept)
        tally = self._bench.tally(ident, outcome, where, at, tile.following)
        if tally:
            self.choosing = ""
            self._before = (self._bench.running.before, at) if tile.following else None
        return tally, more

    def _stood_before(self, at: int) -> RunningRotation | None:
        """Return the rotation before a tally moved it, for a finger that was on its way already.

        The second of two fingers, and the second tap of a quick two, mean what stood there.
        """
        if self._before and 0 <= at - self._before[1] < _GLANCE:
            return self._before[0]
        return None

    def undone(self, tally: Tally) -> bool:
        """Go back to the rep before when the tally that was taken back had begun this one."""
        self._before = None
        return self._bench.undone(tally)

    def press(self, index: int) -> None:
        """Take the plate of a slot, the button for the next rep, or who is in the slot after all."""
        self._before = None
        if index < len(self._slots):
            key = self._slots[index].key
            self.choosing = "" if key == self.choosing else key
        elif index == len(self._slots):
            self.next_rep()
        elif self.choosing:
            self._correct(index - len(self._slots) - 1)

    def next_rep(self) -> None:
        """Begin the next rep."""
        self.choosing, self._before = "", None
        self._bench.next_rep()

    def back(self) -> None:
        """Take the last change of the rotation back."""
        self.choosing, self._before = "", None
        if self.can_go_back:
            self._bench.back()

    def can_redo(self, act: Act) -> bool:
        """Say whether changes that were undone can be made again."""
        return self._bench.running is not None and self._bench.can_redo(act)

    def redo(self, act: Act) -> bool:
        """Make changes again that were undone, and the tally that went with them."""
        self.choosing, self._before = "", None
        return self._bench.redo(act)

    def in_words(self, act: Act) -> str:
        """Return what the last change in an act was: a rep that began, or who was put into which slot."""
        change = act.changes[-1]
        slot = next((slot.name for slot in self._slots if slot.key == change.slot), "")
        number = change.player and self._desk.player(change.player).number
        return change_in_words(change, slot, number)

    def _correct(self, number: int) -> None:
        chosen = self._offered[number]
        self.choosing = ""
        chosen.act()

    def _options(self) -> list[Option]:
        slot = self._chosen_slot()
        ident = self._bench.rotation.slots.get(slot.key)
        return options(
            slot, self._bench, ident and self._desk.player(ident), self._names, self._desk.limit_of
        )

    def _chosen_slot(self) -> Slot:
        return next(slot for slot in self._slots if slot.key == self.choosing)

    def _player(self, tile: _Tile) -> UUID | None:
        return self._rotation_of(tile).slots.get(tile.slot.key)

    def _rotation_of(self, tile: _Tile, stood: RunningRotation | None = None) -> Rotation:
        """Return the rotation to which a tile belongs, of this rep or of the next one."""
        rotation = (stood or self._bench.running).rotation
        return rotation.next_rep() if tile.following else rotation
