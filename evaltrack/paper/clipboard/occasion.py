"""What the sheets for a clipboard share: the paper, what they are for, and the words at the foot."""

from dataclasses import dataclass
from datetime import date

from evaltrack.language import language, mark, tr
from evaltrack.paper import palette
from evaltrack.rink.board_grid import Rect
from evaltrack.rink.drill import Drill, Step
from evaltrack.words.wording import long_date

MARGIN, TOP, BOTTOM = 8.0, 10.0, 6.0  # mm: what most printers need, and room for the clip above
HEAD, FOOT = 14.5, 24.5  # mm

SAFETY = mark(
    "Stop tallying a player who was knocked: follow recognise-and-remove guidance and "
    "licensed medical advice. Stay behind the glass. Local rules come first."
)
PRIVACY = mark("Children's data: keep this sheet safe, and destroy it when it has been typed in.")

CUT = mark("The definition goes on; read all of it before the practice.")


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper on its side, in millimetres."""

    name: str
    width: float
    height: float

    @property
    def board(self) -> Rect:
        """Return the part of the sheet between head and foot, from its lower left corner."""
        bottom = BOTTOM + FOOT
        return Rect(MARGIN, bottom, self.width - 2 * MARGIN, self.height - TOP - HEAD - bottom)


PAPERS = {paper.name: paper for paper in (Paper("a4", 297.0, 210.0), Paper("letter", 279.4, 215.9))}


@dataclass(frozen=True, slots=True)
class Occasion:
    """What a sheet is for. Without a day or an observer it has a line to write on."""

    team: str
    drill: Drill
    step: Step
    day: date | None = None
    observer: str = ""

    def words(self, paper: Paper, kind: str) -> dict:
        """Return what every page of a file has in common, as the templates take it."""
        return {
            "title": tr("{kind}: {drill}, {step}", kind=kind, drill=self.drill.name, step=self.step.name),
            "language": language().value,
            "team": self.team,
            "day": long_date(self.day) if self.day else "",
            "observer": self.observer,
            "day_label": tr("Date"),
            "observer_label": tr("Observer"),
            "palette": palette.NAMES,
            "safety": tr(SAFETY),
            "privacy": tr(PRIVACY),
            "cut": tr(CUT),
            "width": paper.width,
            "height": paper.height,
            "margin": MARGIN,
            "top": TOP,
            "bottom": BOTTOM,
            "head": HEAD,
            "foot": FOOT,
        }

    def page_words(self, number: int, pages: int) -> dict:
        """Return what stands at the head of one page."""
        at = tr("sheet {number} of {pages}", number=number, pages=pages) if pages > 1 else ""
        return {"drill": self.drill.name, "step": self.step.name, "at": at}
