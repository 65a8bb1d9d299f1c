"""Keys to type the address of the other tablet, and the code that it shows."""

from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from evaltrack.touch.handover.typed_address import Typed
from evaltrack.touch.widgets.button import TapButton
from evaltrack.touch.widgets.events import EventSource

_SIGNS = "12345.67890:"  # two rows


class AddressPad(EventSource, BoxLayout):
    """``address`` and ``code`` are what was typed; ``on_join`` comes when both are to be used."""

    __events__ = ("on_join",)
    address = StringProperty("")
    code = StringProperty("")
    in_code = BooleanProperty(False)
    whole = BooleanProperty(False)

    def __init__(self, **kwargs):
        self._typed = Typed()
        super().__init__(**kwargs)
        for sign in _SIGNS:
            key = TapButton(title=sign, title_size="30sp")
            key.bind(on_press=lambda key: self.press(key.title))
            self.ids.signs.add_widget(key)

    def begin(self) -> None:
        """Ask for another code; the address of before is most often the same."""
        self._show(Typed(self._typed.address, in_code=bool(self._typed.address)))

    def choose(self, in_code: bool) -> None:
        """Let the next sign go into the code, or into the address."""
        self._show(Typed(self.address, self.code, in_code))

    def press(self, sign: str) -> None:
        """Take one sign."""
        self._show(self._typed.press(sign))

    def erase(self) -> None:
        """Take the last sign back."""
        self._show(self._typed.erase())

    def _show(self, typed: Typed) -> None:
        self._typed = typed
        self.address, self.code, self.in_code, self.whole = (
            typed.address,
            typed.code,
            typed.in_code,
            typed.whole,
        )
