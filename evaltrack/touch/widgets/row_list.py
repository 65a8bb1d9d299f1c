"""A list of large rows that scrolls under a finger: a tap presses a row, a stroke moves the list."""

from kivy.effects.scroll import ScrollEffect
from kivy.metrics import dp
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.scrollview import ScrollView

from evaltrack.touch.widgets.theme import theme

_NEVER = 60_000  # milliseconds after which a finger that rests would press before it is lifted


class RowList(ScrollView):
    """Holds rows, one below the other. A row is pressed when the finger is lifted where it came down."""

    def __init__(self, **kwargs):
        super().__init__(
            do_scroll_x=False, effect_cls=ScrollEffect, bar_width=dp(6), scroll_timeout=_NEVER, **kwargs
        )
        beside_the_bar = (0, 0, dp(12), 0)
        self._column = BoxLayout(
            orientation="vertical", size_hint_y=None, spacing=dp(8), padding=beside_the_bar
        )
        self._column.bind(minimum_height=self._column.setter("height"), height=self._need)
        self.bind(height=self._need)
        super().add_widget(self._column)
        theme.bind(palette=self._colour)
        self._colour()

    @property
    def rows(self) -> list:
        """Return the rows from top to bottom."""
        return self._column.children[::-1]

    def add_row(self, row) -> None:
        """Put a row below the others."""
        self._column.add_widget(row)

    def remove_row(self, row) -> None:
        """Take a row out."""
        self._column.remove_widget(row)

    def show(self, rows) -> None:
        """Show these rows instead of those before, from the first one on."""
        self._column.clear_widgets()
        for row in rows:
            self._column.add_widget(row)
        self.scroll_y = 1.0

    def show_last(self) -> None:
        """Have the last row in sight."""
        self.scroll_y = 0.0

    def _need(self, *_) -> None:
        self.do_scroll_y = self._column.height > self.height + 1

    def _colour(self, *_) -> None:
        self.bar_color = self.bar_inactive_color = theme.palette.soft
        self._bar_color = list(theme.palette.soft)  # what is drawn follows only when the list moves
