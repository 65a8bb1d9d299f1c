"""Handing the season over to another tablet nearby, and staying together with it."""

from datetime import datetime
from enum import StrEnum
from pathlib import Path
from time import monotonic

from kivy.clock import Clock
from kivy.core.window import Window
from kivy.lang import Builder
from kivy.properties import AliasProperty, NumericProperty, StringProperty

from evaltrack.device.handover.addresses import is_ours, own_addresses, parsed
from evaltrack.device.handover.course import Stage
from evaltrack.language import mark, tr, tr_many
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.handover.address_pad import AddressPad
from evaltrack.touch.handover.handover_in_hand import HandoverInHand
from evaltrack.touch.widgets.screen import AppScreen
from evaltrack.touch.widgets.sheet import Line, Option, keys_for
from evaltrack.words.handover import (
    clocks_words,
    exchanged_words,
    missed_words,
    outcome_lines,
    stage_words,
    together_words,
    told_lines,
)
from evaltrack.words.wording import clock_time, sentence

Builder.load_file(str(Path(__file__).with_suffix(".kv")))

_BACKSPACE = 8


class Phase(StrEnum):
    """What the screen shows."""

    CHOOSE = "choose"
    TYPE = "type"
    LISTEN = "listen"
    RUN = "run"
    TOGETHER = "together"


_ENDS = mark("Being together ends when you go anywhere but to the board.")
_ABOUT = (
    mark(
        "Two tablets give each other all that each of them noted. Nothing is lost, and nothing counts twice."
    ),
    mark(
        "Both need this season: copy its file to the other tablet first, and open it there. For a helper who "
        "needs the boards alone there are loans, under Seasons."
    ),
    mark(
        "Both need one network: let one tablet open a hotspot, and join it with the other. The internet is "
        "not needed."
    ),
    mark("While both stay together, what is tapped on one is on the other within two seconds."),
    _ENDS,
)
_MORE = {
    Phase.CHOOSE: _ABOUT,
    Phase.TYPE: (mark("The other tablet shows both under Two tablets, Show a code."),),
    Phase.LISTEN: (
        mark("On the other tablet tap Two tablets, then Type a code. Both seasons are then made the same."),
    ),
    Phase.TOGETHER: (_ENDS,),
}
_NO_NETWORK = mark("This tablet is on no network. Open a hotspot here, or join the one of the other tablet.")
_NO_LONGER = mark(
    "This tablet does not have this address any more: its network is gone, or is another one now. Stop here, "
    "and show a new code."
)


class HandoverScreen(AppScreen):
    """Shows a code or takes one, how far it is, and what came of it.

    ``on_board`` asks for the board while both stay together. ``share`` is below 0 where no bar is shown.
    """

    __events__ = ("on_back", "on_board")
    summary = StringProperty("")
    words = StringProperty("")
    address = StringProperty("")
    code = StringProperty("")
    code_words = AliasProperty(lambda self: f"{self.code[:3]} {self.code[3:]}".strip(), bind=("code",))
    share = NumericProperty(-1.0)

    def __init__(self, desk: Desk, hand: HandoverInHand, **kwargs):
        self._phase: Phase | None = None
        self._typing, self._turn, self._since = False, 0, ""
        super().__init__(desk=desk, **kwargs)
        self._hand, self._pad = hand, AddressPad()
        self._pad.bind(on_join=lambda _: self._join())
        hand.bind(beat=self._follow, running=self._follow, code=self._follow, trouble=self._follow)
        self._clock = None

    def on_pre_enter(self, *_):
        """Show how it is, and go on showing it."""
        self.summary = self.desk.team_words() if self.desk.season else ""
        self._typing = False
        self._follow()
        self._clock = Clock.schedule_interval(self._tick, 1)
        Window.bind(on_key_down=self._key)

    def on_pre_leave(self, *_):
        """Look no longer; whether the hand-over goes on is for whoever leads away from here."""
        Window.unbind(on_key_down=self._key)
        if self._clock:
            self._clock.cancel()

    @property
    def phase(self) -> Phase:
        """Return what is to be shown."""
        hand = self._hand
        if not hand.running:
            return Phase.TYPE if self._typing else Phase.CHOOSE
        if hand.course and hand.course.stage is Stage.TOGETHER:
            return Phase.TOGETHER
        return Phase.LISTEN if hand.code else Phase.RUN

    def _follow(self, *_) -> None:
        phase = self.phase
        if phase != self._phase:
            self._since = clock_time(datetime.now())
            self._phase = phase
            self._show_keys()
        self.address, self.code = self._hand.address, self._hand.code
        self.share = self._hand.course.share if phase is Phase.RUN and self._hand.course else -1.0
        self._tick()

    def _tick(self, *_) -> None:
        self.words = getattr(self, f"_words_{self._phase}")()
        self._show_lines()

    def _words_choose(self) -> str:
        if wait := self._hand.wait_left():
            return tr_many(
                "Wrong codes were typed. A new code can be shown in {number} second.",
                "Wrong codes were typed. A new code can be shown in {number} seconds.",
                wait,
            )
        return "" if self._hand.course else sentence(self._hand.trouble)

    def _words_type(self) -> str:
        return sentence(self._hand.trouble) or tr("Type what the other tablet shows.")

    def _words_listen(self) -> str:
        if not is_ours(parsed(self._hand.address)[0]):
            return tr(_NO_LONGER)
        left = self._hand.seconds_left()
        return tr(
            "Type this on the other tablet. It is good for {minutes}:{seconds:02d} more.",
            minutes=left // 60,
            seconds=left % 60,
        )

    def _words_run(self) -> str:
        return stage_words(self._hand.course) if self._hand.course else ""

    def _words_together(self) -> str:
        return together_words(self._since, max(0.0, monotonic() - (self._hand.course.heard or monotonic())))

    def _show_lines(self) -> None:
        hand, phase = self._hand, self._phase
        lines = []
        if phase is Phase.TOGETHER:
            lines = [exchanged_words(hand.course), clocks_words(hand.course), *told_lines(hand.course)]
        elif phase is Phase.LISTEN:
            lines = [missed_words(hand.course)]
        elif phase is Phase.CHOOSE and hand.course:
            lines = outcome_lines(hand.course, hand.trouble)
        self._fill("lines", [line for line in lines if line])

    def _fill(self, box: str, lines: list[str], soft: bool = False) -> None:
        box = self.ids[box]
        if [line.text for line in reversed(box.children)] != lines:
            box.clear_widgets()
            for line in lines:
                box.add_widget(Line(text=line, soft=soft))

    def _show_keys(self) -> None:
        box = self.ids.acts
        box.clear_widgets()
        if self._phase is Phase.TYPE:
            self._pad.begin()
            box.add_widget(self._pad)
        if options := getattr(self, f"_keys_{self._phase}")():
            box.add_widget(keys_for(options, large=self._phase is not Phase.TYPE))
        self._fill("more", [tr(line) for line in _MORE.get(self._phase, ())], soft=True)

    def _keys_choose(self) -> list[Option]:
        return [
            Option(tr("Show a code"), tr("the other tablet types it"), self.show_code, True),
            Option(tr("Type a code"), tr("that the other tablet shows"), self.type_code),
        ]

    def _keys_type(self) -> list[Option]:
        return [Option(tr("Not now"), tr("nothing was sent yet"), self._not_now)]

    def _keys_listen(self) -> list[Option]:
        keys = [Option(tr("Stop here"), tr("the code is good for nothing then"), self.stop)]
        if len(own_addresses()) > 1:
            keys.append(Option(tr("Another address"), tr("if this one is not found"), self._next_address))
        return keys

    def _keys_run(self) -> list[Option]:
        return [Option(tr("Stop here"), tr("it can go on from here later"), self.stop)]

    def _keys_together(self) -> list[Option]:
        return [
            Option(tr("To the board"), tr("and stay together"), lambda: self.dispatch("on_board"), True),
            Option(tr("End it"), tr("once both have the same"), self.stop),
        ]

    def show_code(self) -> None:
        """Listen, and show what the other tablet is to type."""
        addresses = own_addresses()
        if not addresses:
            self._hand.refuse(tr(_NO_NETWORK))
        elif self._hand.give(addresses[self._turn % len(addresses)]):
            self._typing = False
        self._follow()

    def type_code(self) -> None:
        """Ask for the address and the code."""
        self._hand.trouble, self._typing = "", True
        self._follow()

    def stop(self) -> None:
        """End what goes on."""
        self._hand.leave()

    def _next_address(self) -> None:
        self._turn += 1
        self._hand.stop()
        self.show_code()

    def _not_now(self) -> None:
        self._hand.trouble, self._typing = "", False
        self._follow()

    def _join(self) -> None:
        if self._hand.join(self._pad.address, self._pad.code):
            self._typing = False
        self._follow()

    def _key(self, _, key: int, scancode, text: str | None, modifiers) -> bool:
        if self._phase is not Phase.TYPE or self.cover or modifiers:
            return False
        if key == _BACKSPACE:
            self._pad.erase()
        elif text and text in "0123456789.:":
            self._pad.press(text)
        else:
            return False
        return True
