"""A sentence of a family's page that is tapped to be changed."""

from evaltrack.touch.widgets import fonts
from evaltrack.touch.widgets.list_row import ListRow


class SentenceRow(ListRow):
    """A row that is read as a text, in plain type; below it stands whose words they are, if not ours."""

    weight = fonts.PLAIN
    least = 54
