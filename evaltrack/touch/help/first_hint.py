"""One line for whoever is new to a screen. It goes for good once what it names was done on this tablet."""

from pathlib import Path

from kivy.lang import Builder
from kivy.properties import BooleanProperty

from evaltrack.touch.widgets.text_label import TextLabel

Builder.load_file(str(Path(__file__).with_suffix(".kv")))


class FirstHint(TextLabel):
    """A line below the bar of a screen, as high as its words, or not there at all."""

    shown = BooleanProperty(False)


def put_below(bar, hint: FirstHint) -> None:
    """Put a hint below the bar of a screen."""
    column = bar.parent
    column.add_widget(hint, index=column.children.index(bar))
