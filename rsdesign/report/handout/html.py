"""A document as one HTML file that opens offline: drawings and formulas inside, nothing fetched."""

import re
from functools import singledispatch
from html import escape

from latex2mathml.converter import convert

from ..drawings.building.svg import fixed
from ..drawings.look import PALETTE, plain
from . import blocks
from .booklets import WHOLE
from .sheet_pages import sheet_drawings

STYLE = """
:root { color-scheme: light; }
body { font: 12pt/1.45 Georgia, "Noto Serif", serif; color: #1c1917; background: #fff;
  max-width: 48rem; margin: 0 auto; padding: 1rem; }
h1 { font-size: 1.7rem; } h2 { font-size: 1.35rem; margin-top: 2rem; } h3 { font-size: 1.1rem; }
h1, h2, h3 { line-height: 1.2; break-after: avoid; }
.soft { font-size: 0.9rem; color: #44403c; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; margin: 0.6rem 0 1rem; font-size: 0.95rem; }
caption { text-align: left; font-weight: bold; padding: 0.3rem 0; }
th, td { text-align: left; vertical-align: top; white-space: pre-line; padding: 0.2rem 0.5rem 0.2rem 0; border-bottom: 1px solid #a8a29e; }
thead th { border-bottom: 2px solid #1c1917; }
tbody th { font-weight: normal; } tr.sum > * { font-weight: bold; }
figure { margin: 1rem 0; break-inside: avoid; } figure svg { display: block; margin: 0 auto; }
figcaption { margin-top: 0.4rem; }
.sheet { overflow-x: auto; } @media print { .sheet { page: sheet; break-before: page; overflow: visible; } }
@page sheet { size: landscape; margin: 0; }
.worked { margin: 1rem 0; break-inside: avoid; } .worked > * { margin: 0.25rem 0; }
math { font-size: 1.15em; } .formula { overflow-x: auto; }
.boxes { display: grid; grid-template-columns: repeat(auto-fit, minmax(18rem, 1fr)); gap: 0.8rem; }
.box { border: 2px solid #1c1917; padding: 0.2rem 0.8rem 0.6rem; break-inside: avoid; }
.box ul { padding-left: 1.1rem; margin: 0.3rem 0; } .box h3 { margin: 0.4rem 0 0.1rem; }
.blanks { list-style: none; padding: 0; display: grid; grid-template-columns: 1fr 1fr; gap: 1rem; }
.blanks li { display: flex; gap: 0.5rem; } .blanks span { flex: 1; border-bottom: 1px solid #1c1917; }
.calendar td, .calendar th { border: 1px solid #a8a29e; padding: 0.2rem 0.35rem; min-width: 4.2rem; }
.calendar tr { break-inside: avoid; } .calendar .line { display: flex; gap: 0.3rem; margin-top: 0.35rem; }
.line i { flex: 1; border-bottom: 1px solid #1c1917; }
pre { white-space: pre-wrap; overflow-wrap: anywhere; font-size: 0.9rem; border: 1px solid #a8a29e; padding: 0.6rem; }
@media print { .fresh { break-before: page; } body { padding: 0; max-width: none; } }
"""


def html(document: blocks.Document) -> str:
    """The whole file as text."""
    body = "\n".join(shown(block) for block in document.blocks)
    title = escape(document.title)
    under = "" if document.booklet == WHOLE.title else f"<p>{escape(document.booklet)}</p>\n"
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}: {escape(document.booklet.lower())}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n"
        f"<h1>{title}</h1>\n{under}{body}\n</main>\n</body>\n</html>\n"
    )


@singledispatch
def shown(block) -> str:
    """One block as HTML."""
    raise TypeError(f"no HTML for {type(block).__name__}")


@shown.register
def _(block: blocks.Heading) -> str:
    level = block.level + 1
    fresh = ' class="fresh"' if block.fresh else ""
    return f"<h{level}{fresh}>{escape(block.words)}</h{level}>"


@shown.register
def _(block: blocks.Text) -> str:
    soft = ' class="soft"' if block.soft else ""
    return f"<p{soft}>{escape(block.words)}</p>"


@shown.register
def _(block: blocks.Steps) -> str:
    tag = "ol" if block.numbered else "ul"
    items = "".join(
        f"<li>{f'<strong>{escape(head)}.</strong> ' if head else ''}{escape(words)}</li>"
        for head, words in block.items
    )
    return f"<{tag}>{items}</{tag}>"


@shown.register
def _(block: blocks.Figure) -> str:
    svg = plain(block.svg).replace(PALETTE["paper"], "#FFFFFF")
    svg = svg.replace("<svg ", f'<svg style="width:min(100%,{40 * block.width:.0f}rem)" ', 1)
    title = f"<strong>{escape(block.title)}.</strong> " if block.title else ""
    return f"<figure>{svg}<figcaption>{title}{escape(block.sentence)}</figcaption></figure>"


@shown.register
def _(block: blocks.Sheets) -> str:
    return "".join(
        f'<figure class="sheet" tabindex="0">{fixed(svg)}<figcaption>{escape(alt)}</figcaption></figure>'
        for _, _, svg, alt in sheet_drawings(block.layout, block.system, "letter")
    )


@shown.register
def _(block: blocks.Table) -> str:
    head = "".join(f'<th scope="col">{escape(words)}</th>' for words in block.headings)
    rows = []
    for place, row in enumerate(block.rows):
        first, *rest = row
        tag = (
            '<th scope="row">{}</th>' if first.strip() else "<td>{}</td>"
        )  # a line to fill in has no head
        cells = tag.format(escape(first)) + "".join(f"<td>{escape(cell)}</td>" for cell in rest)
        total = ' class="sum"' if place in block.strong else ""
        rows.append(f"<tr{total}>{cells}</tr>")
    return (
        f'<div class="scroll" tabindex="0" role="group" aria-label="{escape(block.caption)}"><table>'
        f"<caption>{escape(block.caption)}</caption><thead><tr>{head}</tr></thead>"
        f"<tbody>{''.join(rows)}</tbody></table></div>"
    )


@shown.register
def _(block: blocks.Worked) -> str:
    lines = [f"<p><strong>{escape(block.title)}</strong></p>"]
    if block.filled and len(block.latex) <= blocks.SHORT:
        lines.append(_formula(f"{block.latex} = {block.filled} = \\text{{v{RESULT}v}}", block))
    else:
        lines.append(_formula(block.latex, block))
        if block.filled:
            lines.append(_formula(f"= {block.filled} = \\text{{v{RESULT}v}}", block))
        else:
            lines.append(f"<p>It gives {escape(block.result)}.</p>")
    symbols = " ".join(
        f"{convert(symbol)} {escape(words)}"
        for (symbol, _, _), words in zip(block.inputs, blocks.meanings(block), strict=True)
    )
    lines.append(f'<p class="soft">{symbols} Source: {escape(block.source)}.</p>')
    return f'<div class="worked">{"".join(lines)}</div>'


RESULT = 99
"""The place of the result among the numbers put in."""


def _formula(latex: str, block: blocks.Worked) -> str:
    """A formula as MathML with its numbers put in."""
    values = {str(i): value for i, (_, _, value) in enumerate(block.inputs)} | {
        str(RESULT): block.result
    }
    filled = re.sub(r">v(\d+)v<", lambda m: f">{escape(values[m[1]])}<", convert(latex))
    return f'<div class="formula" tabindex="0" role="group" aria-label="formula">{filled}</div>'


@shown.register
def _(block: blocks.Cautions) -> str:
    return "".join(
        f"<p><strong>{escape(c.hazard)}.</strong> {escape(c.fact)} <em>Ask: {escape(c.ask)}.</em></p>"
        for c in block.items
    )


@shown.register
def _(block: blocks.Boxes) -> str:
    boxes = "".join(
        f'<section class="box"><h3>{escape(title)}</h3><p><strong>{escape(line)}</strong></p>'
        f"<ul>{''.join(f'<li>{escape(words)}</li>' for words in steps)}</ul></section>"
        for title, line, steps in block.boxes
    )
    return f'<div class="boxes">{boxes}</div>'


@shown.register
def _(block: blocks.Blanks) -> str:
    items = "".join(f"<li>{escape(label)} <span></span></li>" for label in block.labels)
    return f'<ul class="blanks">{items}</ul>'


@shown.register
def _(block: blocks.Calendar) -> str:
    days = max(len(week.boxes) for week in block.weeks)
    head = f'<th scope="col">{escape(block.head)}</th>'
    head += f'<th scope="col" colspan="{days}">Days</th>'
    rows = []
    for week in block.weeks:
        expect = "".join(f"<br>{escape(words)}" for words in week.expect)
        cells = "".join(f"<td>{_day(box, block.blanks)}</td>" for box in week.boxes)
        rows.append(
            f'<tr><th scope="row"><strong>{escape(week.days)}</strong>{expect}</th>{cells}</tr>'
        )
    return (
        f'<div class="scroll" tabindex="0" role="group" aria-label="{escape(block.caption)}">'
        f'<table class="calendar"><caption>{escape(block.caption)}</caption>'
        f"<thead><tr>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table></div>"
    )


def _day(box: blocks.DayBox, blanks: tuple[str, ...]) -> str:
    lines = "".join(f'<span class="line">{escape(label)} <i></i></span>' for label in blanks)
    return f"{blocks.TICK} <strong>{box.day}</strong> {escape(box.give)}{lines}"


@shown.register
def _(block: blocks.Code) -> str:
    return (
        f'<h3>{escape(block.label)}</h3><pre tabindex="0" role="group"'
        f' aria-label="{escape(block.label)}">{escape(block.words)}</pre>'
    )


@shown.register
def _(block: blocks.Square) -> str:
    code = block.svg.replace(
        "<svg ", '<svg role="img" aria-label="QR code that holds the design as text" ', 1
    )
    return f"<figure>{code}<figcaption>{escape(block.words)}</figcaption></figure>"
