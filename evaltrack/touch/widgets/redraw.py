"""Drawing a widget anew on its canvas."""

from kivy.graphics import Canvas, InstructionGroup


def fresh_group(canvas: Canvas) -> InstructionGroup:
    """Empty a canvas and return a new group of instructions on it.

    What was there is taken apart first. A group and its instructions hold each other, and thousands of them
    left to the garbage collector stop the screen for longer than a frame when it comes round to them.
    """
    for group in canvas.children:
        if isinstance(group, InstructionGroup):
            group.clear()
    canvas.clear()
    group = InstructionGroup()
    canvas.add(group)
    return group
