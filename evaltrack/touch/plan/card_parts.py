"""What the plan's screen is made of: a row for each block, the groups as keys, whom to watch, the reasons."""

from dataclasses import dataclass
from uuid import UUID

from evaltrack.language import tr
from evaltrack.rink.plan import Part
from evaltrack.rink.plan_card import CardBlock, PlanCard
from evaltrack.rink.plan_changes import can_swap
from evaltrack.rink.player import by_number
from evaltrack.rink.short_names import short_names
from evaltrack.touch.plan.plan_row import PlanRow
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.list_row import ListRow
from evaltrack.touch.widgets.sheet import Heading, Keys, Line
from evaltrack.words.plan_card import (
    GOES_ON,
    ICE,
    clock_words,
    for_words,
    minutes_words,
    place_words,
    rounds_words,
    step_words,
    there_words,
    title_of,
    told_apart,
    train_words,
    tries_words,
)
from evaltrack.words.plan_wishes import not_kept_words
from evaltrack.words.planning import PlanNames


@dataclass(frozen=True)
class Chosen:
    """What was tapped and waits for a second tap, or whose reason is shown."""

    player: UUID | None = None
    swapping: int | None = None
    reason: int | None = None


class CardParts:
    """Makes the widgets of a plan; each acts on the ``screen``."""

    def __init__(self, card: PlanCard, desk, names: PlanNames, chosen: Chosen, screen):
        self._card, self._desk, self._names = card, desk, names
        self._chosen, self._screen = chosen, screen
        self._short = short_names(desk.everyone)
        self._steps = {(drill.key, step.key): step for drill in desk.every_drill for step in drill.steps}
        self._shirts = {player.id: f"{player.number} {self._short[player.id]}" for player in desk.everyone}

    def blocks(self) -> list:
        """Return what to train, and the blocks in order of time."""
        train = train_words(self._card, self._names)
        heading = tr("Train: {skills}", skills=train) if train else tr("No skill stands out as a need")
        made = [Heading(text=heading)]
        for at in told_apart(self._card):
            made += self._block(at, self._card.blocks[at])
        return made

    def _block(self, at: int, block: CardBlock) -> list:
        if block.part is Part.CHANGEOVER:
            return [Line(text=tr("{time}  Changeover", time=clock_words(self._card, at)), soft=True)]
        made = [self._row(at, block)]
        if at in self._card.rounds[:1]:
            made.insert(0, Line(text="  ".join(rounds_words(self._card)), soft=True))
        if self._chosen.reason == at:
            said = " ".join(filter(None, (block.why, tries_words(block, self._names))))
            made.append(Line(text=said or tr("The coach put it there.")))
        return made

    def _row(self, at: int, block: CardBlock) -> PlanRow:
        row = PlanRow(
            title=f"{place_words(self._card, at)}  {title_of(block, self._names)}",
            small=self._small(at, block),
            chosen=self._chosen.reason == at,
            locked=block.locked,
            can_swap=can_swap(self._card, at),
            swapping=self._chosen.swapping == at,
        )
        screen = self._screen
        row.bind(
            on_row=lambda _: screen.show_reason(at),
            on_minutes=lambda _, by: screen.change_minutes(at, by),
            on_swap=lambda _: screen.swap(at),
            on_lock=lambda _: screen.lock(at),
        )
        return row

    def _small(self, at: int, block: CardBlock) -> str:
        minutes = minutes_words(self._card, at)
        together = tr("all together") if block.part is Part.TOGETHER else ""
        step = self._steps.get((block.drill, block.step))
        ice = tr(ICE[step.surface]) if step else ""
        return ", ".join(filter(None, (minutes, together, ice, for_words(block, self._names, 2))))

    def groups(self) -> list:
        """Return the groups as keys, and whom to watch."""
        return [*self._group_keys(), *self._watch()]

    def _group_keys(self) -> list:
        made = [Heading(text=tr("Groups"))]
        made += [Line(text=words) for words in not_kept_words(self._card, self._shirts)]
        for station, players in enumerate(self._card.groups):
            begins = step_words(*self._card.starts[station], self._names)
            head = ListRow(
                title=tr("Group {group}: {number}", group=station + 1, number=len(players)),
                small=begins,
                title_size="18sp",
            )
            head.bind(on_press=lambda _, at=station: self._screen.move(at))
            keys = Keys(wide="108sp")
            for player in sorted((self._desk.player(ident) for ident in players), key=by_number):
                keys.add_widget(self._player(player))
            made += [head, keys]
        return [*made, Line(text=tr(GOES_ON), soft=True)] if self._card.goes_round else made

    def _player(self, player) -> TapButton:
        key = TapButton(
            title=self._shirts[player.id],
            small=tr("stays here") if self._card.places[player.id].locked else "",
            title_size="16sp",
            active=self._chosen.player == player.id,
        )
        key.bind(on_press=lambda _: self._screen.choose(player.id))
        return key

    def _watch(self) -> list:
        lines = []
        for at, block in enumerate(self._card.blocks):
            looks = [look for look in self._card.looks if look.block == at]
            if block.watch:
                skill = self._names.skills.get(block.watch, block.watch)
                lines.append(Line(text=f"{place_words(self._card, at)}  {skill}"))
                lines += [Line(text=self._look(look), soft=True) for look in looks]
        return [Heading(text=tr("Whom to look at first")), *lines] if lines else []

    def _look(self, look) -> str:
        when = f", {there_words(self._card, look)}" if look.block in self._card.rounds else ""
        return "    " + tr("{who}: {what}", who=self._shirts[look.player] + when, what=look.why)

    def reasons(self) -> list:
        """Return why these skills, and what must be said of the whole."""
        lines = [Line(text=words) for _, words in self._card.train]
        lines += [Line(text=words, soft=True) for words in self._card.remarks]
        return [Heading(text=tr("Why")), *lines] if lines else []
