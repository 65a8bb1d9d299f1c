"""The words of the guide's first page: how to tally. Those on the skills are the team's own."""

from dataclasses import dataclass

from evaltrack.language import mark


@dataclass(frozen=True, slots=True)
class Part:
    """A heading, and the paragraphs below it."""

    heading: str
    sentences: tuple[str, ...]


DRAWN = {
    "name": mark("the name: unseen"),
    "missed": mark("left half: missed"),
    "done": mark("right half: done"),
    "right": mark("right hand: Undo at the right"),
    "left": mark("left hand: Undo at the left"),
    "tile": mark(
        "A tile of the board. The name stands at the top in the middle and says unseen. The left "
        "half, with a hollow ring, says missed. The right half, filled, with a check, says done."
    ),
    "hands": mark(
        "Two boards in small. For the right hand Undo is at the lower right corner, for the left "
        "hand at the lower left one. The halves of the tiles are the same on both."
    ),
}

COLUMNS = (
    (
        Part(
            mark("What a tally is"),
            (
                mark(
                    "A tally is one try that you saw: one player, one skill, done or missed. A try has a "
                    "beginning and an end, or it is one look at one moment. It is never a mood, and never "
                    "how hard somebody worked."
                ),
                mark("You need not catch every try. Those that you note must be as they were, good or bad."),
            ),
        ),
        Part(
            mark("How to tap"),
            (
                mark(
                    "Tap the player's own tile: the right half when it was done, the left half when it was "
                    "missed. The tap is saved before the number on the tile changes."
                ),
                mark(
                    "The halves never change sides. For the left hand, only Undo and the other keys change "
                    "theirs: Set-up, Hand."
                ),
                mark(
                    "The skill stands at the top of the board in words; a tap on another one there changes "
                    "it."
                ),
            ),
        ),
        Part(
            mark("A mistake"),
            (
                mark(
                    "Undo takes back the last tap, and says which. Press it again for the one before. What "
                    "you notice later, tell the coach: all can be put right after practice, and nothing is "
                    "lost."
                ),
            ),
        ),
    ),
    (
        Part(
            mark("Not sure"),
            (
                mark(
                    "You looked away, or somebody stood in between: tap the name. That says unseen and is no "
                    "try. Never guess, and never note what somebody else calls out."
                ),
            ),
        ),
        Part(
            mark("Pressure"),
            (
                mark(
                    "On while an opponent presses the player who tries, off while nobody does. It stays as "
                    "you set it. Agree with the coach before the step begins."
                ),
            ),
        ),
        Part(
            mark("By rep"),
            (
                mark(
                    "This board has a row for each slot of the drill and knows whose turn it is. Next rep "
                    "moves everybody on. Somebody else stands there? Tap the number plate and say who."
                ),
            ),
        ),
        Part(
            mark("Before your first practice"),
            (
                mark(
                    "Read the words on the next page. Then note ten minutes beside somebody who knows them, "
                    "the same players, and compare. Where you differ, read the words again together."
                ),
            ),
        ),
    ),
)

COUNTS = mark("What counts")
NOT_COUNTED = mark("What is not counted is no try: tap nothing, or the name if you looked away.")

SAFETY = mark(
    "Stop tallying a player who was knocked, whatever they say: follow recognise-and-remove "
    "guidance and licensed medical advice. Who is marked as limited takes no contact: note "
    "nothing of them where there is some. Stay behind the glass. Contact skills follow your "
    "local rules, which come first."
)
PRIVACY = mark(
    "What you note is children's data. Lock the tablet when you put it down, take no picture "
    "of the board, and talk about a child's numbers with the coach only."
)
