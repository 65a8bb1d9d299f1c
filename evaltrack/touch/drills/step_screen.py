"""A step: its name and its slots beside a plan of the ice; the form of a chosen slot in their place."""

from functools import partial
from math import dist
from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty, StringProperty

from evaltrack.language import mark, tr
from evaltrack.rink.drill import Step
from evaltrack.rink.ice_plan.ice import Point
from evaltrack.rink.ice_plan.plan_geometry import ROOM, plan_of, spot_at
from evaltrack.rink.practice import Surface
from evaltrack.touch.drills.draft.draft_words import fault_words, slot_words, title_of
from evaltrack.touch.drills.draft_bar import OrderedRow, moves
from evaltrack.touch.drills.draft_screen import DraftScreen
from evaltrack.touch.drills.named_part import NamedPart
from evaltrack.touch.drills.plan.rink_plan import Disc, RinkPlan  # noqa: F401  the kv rule names the plan
from evaltrack.touch.drills.plan.view import initials
from evaltrack.touch.drills.slot_form import SlotForm
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.sheet import Heading, Line, Option, keys_for

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_HINT = mark("The name of the step, 16 letters at most")


class StepScreen(DraftScreen):
    """Shows the step of a path, and the form of ``slot`` when one is chosen.

    ``surface`` is the one on which it is planned, ``faulty`` says that the step has something to mend;
    ``on_watch`` asks for its reps.
    """

    __events__ = ("on_watch",)
    slot = StringProperty("")
    surface = StringProperty(Surface.HALF.value)
    faulty = BooleanProperty(False)

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self._path: tuple = ()

    def open(self, path: tuple) -> None:
        """Show another step, and none of its slots' forms."""
        self._path, self.slot = path, ""

    @property
    def step(self) -> Step | None:
        """Return the step as it is being changed, None when it is not there any more."""
        return self.draft.at(self._path)

    def on_pre_enter(self, *_):
        """Show the step as it is being changed."""
        self.desk.message = ""
        self._show_from_top()

    def on_back(self, *_):
        """Leave the form of a slot, or the step."""
        if self.slot:
            self.choose("")
        else:
            self.dispatch("on_left")

    def choose(self, slot: str) -> None:
        """Show the form of a slot; the step itself when it is chosen already, or empty."""
        self.desk.message = ""
        self.slot = "" if slot == self.slot else slot
        self._show_from_top()

    def draw_on(self, surface: str) -> None:
        """Plan the step on another surface."""
        self.draft.change(self._path, mark("the ice"), surface=Surface(surface))
        self.show()

    def say_contact(self, contact: bool | None) -> None:
        """Say that the step has contact, or none, or as its slots meet."""
        self.draft.change(self._path, mark("the contact"), contact=contact)
        self.show()

    def put(self, place: Point) -> None:
        """Let the slot that is chosen stand at a place on the ice, unless another one stands there."""
        if not self.slot:
            return
        plan = self.ids.plan.plan
        others = [at for key, at in plan.places.items() if key != self.slot] + [*plan.lines.values()]
        if min((dist(place, other) for other in others), default=ROOM) < ROOM:
            self.desk.message = tr("Another slot or a line stands there; tap the ice beside it.")
            return
        self.desk.message = ""
        spot = spot_at(plan.ice, *place)
        self.draft.change((*self._path, self.slot), mark("the place"), spot=spot)
        self.show()

    def add(self) -> None:
        """Add a slot, and show its form."""
        self.choose(self.draft.add(self._path)[-1])

    def _show_from_top(self) -> None:
        self.ids.view.scroll_y = 1
        self.show()

    def show(self) -> None:
        """Show the step, or leave when it is not there any more."""
        if self.step is None:
            self.dispatch("on_left")
            return
        if self.draft.at((*self._path, self.slot)) is None:
            self.slot = ""
        super().show()
        self._draw_plan()

    def follow(self) -> None:
        """Show what a letter of a name changes, and leave the field under the fingers alone."""
        self._head()
        self.ids.bar.show(self.draft)
        self._draw_plan()

    def _head(self) -> None:
        drill = title_of(self.draft.at(self._path[:1]))
        name = title_of(self.step)
        self.heading = title_of(self.draft.at((*self._path, self.slot))) if self.slot else name
        self.summary = (
            tr("a slot of {name}, {drill}", name=name, drill=drill)
            if self.slot
            else tr("a step of {drill}", drill=drill)
        )

    def _draw_plan(self) -> None:
        step, plan = self.step, self.ids.plan
        self.faulty = bool(self.draft.faults(self._path))
        plan.step = step
        self.surface = step.surface.value
        plan.plan = plan_of(step)
        plan.discs = {
            slot.key: Disc(initials(slot.name), slot.name.strip(), slot.key == self.slot)
            for slot in step.slots
        }

    def parts(self) -> list:
        """Return the form of the slot that is chosen, or the step's name and its slots."""
        self._head()
        if self.slot:
            return SlotForm(self, (*self._path, self.slot)).parts()
        return [self._name(), *self._slots()]

    def _name(self) -> NamedPart:
        name = NamedPart(hint=tr(_HINT), text=self.step.name)
        name.tell(self.draft.own_faults(self._path))

        def write(_, text: str) -> None:
            self.draft.change(self._path, mark("the name"), name=text)
            name.tell(self.draft.own_faults(self._path))
            self.follow()

        name.bind(on_write=write)
        return name

    def _slots(self) -> list:
        add = Option(tr("Add a slot"), tr("at the end"), self.add)
        return [
            Heading(text=tr("Slots, from the net outwards")),
            *(self._row(number) for number in range(len(self.step.slots))),
            keys_for([add]),
            Line(text=tr("Tap a slot, here or on the plan, to change it."), soft=True),
            Heading(text=tr("Contact: a plan keeps players who take none away from it")),
            keys_for(self._contact(), "150sp"),
        ]

    def _contact(self) -> list[Option]:
        said = {
            None: (tr("As slots meet"), tr("who has an opponent")),
            True: (tr("Contact"), ""),
            False: (tr("None"), ""),
        }
        return [
            Option(*words, partial(self.say_contact, contact), contact is self.step.contact)
            for contact, words in said.items()
        ]

    def _row(self, number: int) -> OrderedRow:
        slots = self.step.slots
        slot, path = slots[number], (*self._path, slots[number].key)
        wrong = fault_words(self.draft, path)
        groups = {group for player in self.desk.players for group in player.positions}
        said = wrong or slot_words(slot, self.step, self.draft.skills, groups)
        row = ListRow(title=title_of(slot), small=said, marked=bool(wrong))
        keys = moves(self.draft, path, self.show, (number, len(slots)))
        return OrderedRow(row, partial(self.choose, slot.key), keys)
