"""The pages of a class: their texts and notebook files."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ClassPage:
    """A page of a class, apart from the series: it has no design."""

    name: str
    file: str
    title: str
    question: str
    words: tuple[str, ...]


EXERCISES = ClassPage(
    name="exercises",
    file="85_exercises.ipynb",
    title="Exercises",
    question="Can you work it out?",
    words=(
        "Choose a set and type the code from your card. The numbers are yours alone.",
        "Try first. Then the page says what to mend, and gives a hint if you ask.",
    ),
)

INSTRUCTOR = ClassPage(
    name="instructor",
    file="90_instructor.ipynb",
    title="Instructor",
    question="What will your class do today?",
    words=(
        "Make a class, choose what it does, print, and mark what comes back.",
        "The key of the class stays on this machine. Nothing here holds a name.",
    ),
)

CLASS: tuple[ClassPage, ...] = (EXERCISES, INSTRUCTOR)
"""The pages of a class in their order."""
