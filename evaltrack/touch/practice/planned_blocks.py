"""The blocks of a plan as keys, by which a practice starts and goes on."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from kivy.uix.gridlayout import GridLayout

from evaltrack.language import tr
from evaltrack.rink.drill import Drill
from evaltrack.rink.skill import Skill
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.events import EventSource


class PlannedBlock(NamedTuple):
    """A block with a step: its name, which station or when it is, and what to watch by key."""

    name: str
    place: str
    drill: str
    step: str
    watch: str


class PlannedBlocks(EventSource, GridLayout):
    """A key for each block of a plan that can be run; ``on_block`` brings the block of one that is tapped."""

    __events__ = ("on_block",)

    def show(self, card, drills: Iterable[Drill], skills: Mapping[str, Skill]) -> list[PlannedBlock]:
        """Show the blocks of a `PlanCard`, none of None, and return them."""
        self.clear_widgets()
        blocks = blocks_to_run(card, drills) if card else []
        for block in blocks:
            watched = skills[block.watch].name if block.watch in skills else tr("the step")
            small = tr("{what}: {more}", what=block.place, more=watched)
            key = TapButton(title=block.name, small=small, wraps=True)
            key.block = block
            key.bind(on_press=lambda key: self.dispatch("on_block", key.block))
            self.add_widget(key)
        return blocks

    def mark(self, drill: str, step: str, skill: str) -> None:
        """Fill the key of what is watched."""
        for key in self.children:
            key.active = (key.block.drill, key.block.step, key.block.watch) == (drill, step, skill)


def blocks_to_run(card, drills: Iterable[Drill]) -> list[PlannedBlock]:
    """Return the blocks of a `PlanCard` of which the season still has the step, in order of time."""
    from evaltrack.words.plan_card import place_words  # most practices have no plan, and the start is short

    names = {(one.key, step.key): f"{one.name}, {step.name}" for one in drills for step in one.steps}
    found = []
    for at, block in enumerate(card.blocks):
        if name := names.get((block.drill, block.step)):
            found.append(PlannedBlock(name, place_words(card, at), block.drill, block.step, block.watch))
    return found
