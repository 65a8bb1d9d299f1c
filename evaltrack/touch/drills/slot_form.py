"""The form of a slot: its name, who fills it, what is watched there, where its player goes, whom it meets."""

from collections.abc import Callable
from functools import partial
from typing import Protocol

from kivy.metrics import dp, sp

from evaltrack.language import mark, tr
from evaltrack.rink.drill import Slot, Step
from evaltrack.rink.player import Position
from evaltrack.touch.drills.draft.draft_words import nobody, title_of
from evaltrack.touch.drills.draft.drills_draft import DrillsDraft
from evaltrack.touch.drills.named_part import NamedPart
from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.sheet import Heading, Keys, Line, Option, keys_for

_GROUPS = {
    Position.DEFENCE: mark("filled from the line of defenders"),
    Position.FORWARD: mark("filled from the line of forwards"),
    Position.GOALIE: mark("stands in the goal"),
}
_FIELDS = {  # a change of each in words, for whoever takes it back
    "position": mark("position"),
    "skills": mark("skills"),
    "next": mark("where to"),
    "against": mark("against"),
    "spot": mark("spot"),
}
_TITLES = {
    Position.DEFENCE: mark("Defender"),
    Position.FORWARD: mark("Forward"),
    Position.GOALIE: mark("Goalie"),
}
_WIDE = "190dp"


class _Screen(Protocol):
    """What the form asks of the screen it stands in."""

    draft: DrillsDraft
    step: Step
    show: Callable[[], None]
    follow: Callable[[], None]


def _keys(options: list[Option]) -> Keys:
    """Return keys on which long names have two lines."""
    keys = keys_for(options, _WIDE)
    keys.row_default_height = max(dp(72), sp(72))
    for key in keys.children:
        key.wraps = True
    return keys


class SlotForm:
    """The parts of the form, made of the draft as it is; each key changes it and has the screen shown again.

    What is wrong stands under its own heading.
    """

    def __init__(self, screen: _Screen, path: tuple):
        self._screen, self._path = screen, path
        self._draft: DrillsDraft = screen.draft
        self._slot: Slot = self._draft.at(path)
        self._others = [slot for slot in screen.step.slots if slot.key != self._slot.key]

    def parts(self) -> list:
        """Return the parts from top to bottom."""
        return [
            self._name(),
            *self._part(tr("Who fills it"), "position", self._groups()),
            *self._remark(),
            *self._part(tr("Worth watching here"), "skills", self._skills()),
            *self._part(tr("Then its player goes"), "next", self._onward()),
            *self._part(tr("Against"), "against", self._met()),
            *self._place(),
            *self._take_out(),
        ]

    def _name(self) -> NamedPart:
        name = NamedPart(hint=tr("The name of the slot, as it stands on the board"), text=self._slot.name)
        name.tell(self._draft.own_faults(self._path))

        def write(_, text: str) -> None:
            self._draft.change(self._path, mark("the name"), name=text)
            name.tell(self._draft.own_faults(self._path))
            self._screen.follow()

        name.bind(on_write=write)
        return name

    def _part(self, heading: str, field: str, options: list[Option]) -> list:
        faults = [fault.text for fault in self._draft.own_faults(self._path) if fault.field == field]
        wrong = [Line(text="\n".join(faults), weight=fonts.SEMIBOLD)] if faults else []
        return [Heading(text=heading), *wrong, _keys(options)]

    def _set(self, field: str, value) -> None:
        self._draft.change(self._path, _FIELDS[field], **{field: value})
        self._screen.show()

    def _option(self, title: str, small: str, field: str, value) -> Option:
        chosen = getattr(self._slot, field) == value
        return Option(title, small, partial(self._set, field, value), chosen)

    def _groups(self) -> list[Option]:
        return [
            self._option(tr(_TITLES[group]), tr(words), "position", group) for group, words in _GROUPS.items()
        ]

    def _remark(self) -> list:
        there = {group for player in self._screen.desk.players for group in player.positions}
        position = self._slot.position
        return [] if position in there else [Line(text=nobody(position), soft=True)]

    def _skills(self) -> list[Option]:
        skills, watched = self._draft.skills, self._slot.skills
        keys = [key for key, skill in skills.items() if skill.suits(self._slot.position)]
        keys += [key for key in watched if key not in keys]
        return [self._skill(key) for key in keys]

    def _skill(self, key: str) -> Option:
        skills, watched = self._draft.skills, self._slot.skills
        on = key in watched
        then = tuple(one for one in watched if one != key) if on else (*watched, key)
        name = skills[key].name if key in skills else key
        small = tr("number {place} on the board", place=watched.index(key) + 1) if on else ""
        return Option(name, small, partial(self._set, "skills", then), on)

    def _onward(self) -> list[Option]:
        slot = self._slot
        same = [one for one in self._others if one.position is slot.position or one.key == slot.next]
        out = self._option(tr("Out"), tr("to the end of the line"), "next", None)
        options = [self._option(title_of(one), tr("for the next rep"), "next", one.key) for one in same]
        return [out, *options, *self._lost(slot.next, "next")]

    def _met(self) -> list[Option]:
        nobody_met = self._option(tr("Nobody"), tr("in particular"), "against", None)
        options = [self._option(title_of(one), one.position.word, "against", one.key) for one in self._others]
        return [nobody_met, *options, *self._lost(self._slot.against, "against")]

    def _lost(self, key: str | None, field: str) -> list[Option]:
        """Return a key for what the slot names and the step does not have."""
        there = {one.key for one in self._others}
        return [] if key is None or key in there else [self._option(key, tr("not in this step"), field, key)]

    def _place(self) -> list:
        """Say how the slot gets its place on the plan, and offer to forget it."""
        own = self._slot.spot is not None
        said = [fault.text for fault in self._draft.own_faults(self._path) if fault.field == "spot"]
        said.append(
            tr("Tap the ice to put the slot there.") if not own else tr("It stands where it was put.")
        )
        forget = Option(
            tr("In the order of the slots"), tr("forget its own place"), partial(self._set, "spot", None)
        )
        keys = [_keys([forget])] if own else []
        return [Heading(text=tr("On the plan")), Line(text=" ".join(said), soft=not said[1:]), *keys]

    def _take_out(self) -> list:
        if not self._others:
            return []
        out = Option(tr("Take this slot out"), tr("Undo brings it back"), self._take)
        return [Heading(text=""), keys_for([out])]

    def _take(self) -> None:
        self._draft.take_out(self._path)
        self._screen.show()
