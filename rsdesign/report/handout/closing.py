"""The end of a hand-out: cautions and whom to ask, what was assumed, the design itself."""

from ...core.cautions import HAND_OUT
from ...core.units import SYSTEMS
from ...design.file import update_text
from ...sizing.assumptions import assumptions
from .blocks import Code, Heading, Square, Steps, Text, Writer
from .emergency import cautions_at
from .filter_calendar import BESIDE

MOST_LETTERS = 1800
"""Letters in a QR code that a phone still reads from paper; a denser one is left out."""


def take_care(w: Writer) -> None:
    """Every caution with whom to ask, but those that stand beside their step."""
    w.add(Heading("Take care, and whom to ask"))
    w.add(Text("Local codes and licensed trades come before this paper."))
    w.add(cautions_at(HAND_OUT, but=BESIDE))


def taken(w: Writer) -> None:
    """What was left open, and what was taken; where numbers come from."""
    w.add(Heading("What was assumed"))
    found = assumptions(w.sizing, w.system)
    if found:
        w.add(Text("You left these open, and the sizing took:"))
        w.add(Steps(tuple(("", words) for words in found), beside=True))
    else:
        w.add(Text("Nothing was left open in this design."))


def design_text(w: Writer, about: bool = True) -> str:
    """The design as a file's text; without name and note for a QR code.

    In the units that make it shorter, which are most likely those it was typed in: exact numbers
    of the other system run to seventeen digits.
    """
    texts = [update_text("", w.sizing.design, system).strip() for system in (w.system, *SYSTEMS)]
    text = min(texts, key=len)
    if about:
        return text
    lines = text.splitlines()
    return "\n".join(x for x in lines if not x.startswith(("note =", "name ="))).strip()


def plain_letters(text: str) -> str:
    """Signs of units as letters that every phone reads; they open as the same design."""
    for sign, letters in {
        "²": "2",
        "³": "3",
        "°": "",
        "µ": "u",
        "μ": "u",
        "·": " ",
        "−": "-",
    }.items():
        text = text.replace(sign, letters)
    return text


def design(w: Writer) -> None:
    """The design as text and as a QR code that holds that text, never an address."""
    import segno  # noqa: PLC0415  (only for a code)

    text = design_text(w)
    w.add(
        Heading("Your design, to keep", fresh=True),
        Text(
            "This text is the whole design. Typed into a file named mine.toml it opens at home with"
            " 'Open a file' on any page of the workbooks, or with: rsdesign size mine.toml"
        ),
    )
    holds = plain_letters(text)
    if len(holds.encode()) > MOST_LETTERS:
        holds = plain_letters(design_text(w, about=False))
    if len(holds.encode()) <= MOST_LETTERS:
        code = segno.make(
            holds, error="l", micro=False, encoding="utf-8" if not holds.isascii() else None
        )
        svg = code.svg_inline(scale=4, border=4, dark="#000", light="#fff")
        w.add(Square(svg, holds,
                     "The square holds this text, and no address: point a phone at it, copy the"
                     " text it shows into a file named mine.toml, and open that file."))  # fmt: skip
    else:
        w.add(Text("The design is too long for a QR code: keep the file.", soft=True))
    w.add(Code(text, "The design as text"))
    w.add(
        Text(
            "Formulas and tables come from papers, extension bulletins and standards; each step of"
            " the working names its own. What is marked common practice is a rule of the trade, and"
            " what is marked from memory was not looked up. Heat, prices and sickness can change all"
            " of this: see docs/limits.md and docs/method.md of the program."
        )
    )
