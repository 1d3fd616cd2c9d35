"""A document as PDF: real text in reading order, tagged, fonts embedded, made by Typst."""

import re
from functools import singledispatch

from ...core.choices import DesignError
from ..drawings.look import PALETTE, plain
from . import blocks
from .booklets import BOOKLETS, WHOLE, booklet_named
from .sheet_pages import page_markup, sheet_drawings
from .typst_math import string, typst_math

FEW = 6
"""Rows that stand in one table even where halves may stand side by side."""
TOGETHER = 18
"""Rows of a table, or items of a list, that are never parted by the end of a page."""
FULL = 3000
"""Letters in a table that may fill a page by themselves: it has to part."""
BLANK = "6pt"
"""Room above a line to write on in a calendar."""
PAPERS = {"letter": "us-letter", "a4": "a4"}
SERIF, MONO = "Libertinus Serif", "DejaVu Sans Mono"
"""Typefaces that come with the library, so that every machine makes the same pages."""

PREAMBLE = """
#set text(font: "%(serif)s", size: 12pt, lang: "en", region: "US", fallback: true)
#set par(leading: 0.5em, spacing: 0.75em)
#show heading: set block(above: 0.9em, below: 0.5em, sticky: true)
#show heading.where(level: 1): set text(size: 17pt)
#show heading.where(level: 2): set text(size: 13pt)
#set list(marker: [–], indent: 0pt, spacing: 0.5em)
#set enum(spacing: 0.5em)
#set table(stroke: (x, y) => (bottom: if y == 0 { 1pt } else { 0.4pt + luma(140) }), inset: (x: 3pt, y: 2.6pt))
#show table: set text(size: 11pt)
#show table: set par(leading: 0.35em)
#show table: set text(hyphenate: true)
#show figure.caption: set align(left)
#show raw: set text(font: "%(mono)s", size: 10pt)
#set figure(gap: 4pt)
#let fit(body) = layout(room => {
  let wide = measure(body).width
  if wide > room.width { scale(room.width / wide * 100%%, reflow: true, origin: left, body) } else { body }
})
#let soft(words) = text(size: 10.5pt, words)
#let formula(alt, body) = fit(math.equation(alt: alt, body))
"""


def pdf(document: blocks.Document, paper: str = "letter") -> bytes:
    """The bytes of a PDF on US Letter or A4 paper."""
    return compiled(markup(document, paper), "make .html and print it")


def compiled(text: str, instead: str) -> bytes:
    """Typst markup as a PDF that keeps to PDF/UA-1 (ISO 14289-1): tags, alternatives, a language.

    Raises ``DesignError`` where the library is missing, and says what to do ``instead``.
    """
    try:
        import typst  # noqa: PLC0415  (only when a PDF is asked for)
    except ImportError:
        raise DesignError(
            f"The PDF needs the package typst; install rsdesign again, or {instead}."
        ) from None
    made = typst.compile(
        text.encode(), format="pdf", ignore_system_fonts=True, timestamp=0, pdf_standards=["ua-1"]
    )
    # False is what an absent entry means, and some readers report an error where it is written out.
    return bytes(made).replace(b"/Suspects false", b" " * len(b"/Suspects false"))


def markup(document: blocks.Document, paper: str = "letter") -> str:
    """The document as Typst markup."""
    lines = [
        PREAMBLE % {"serif": SERIF, "mono": MONO},
        f"#set document(title: {string(f'{document.title}: {document.booklet.lower()}')}, date: none,"
        f" description: {string('A small recirculating fish system: drawing, parts, working, tasks and cards.')})",
        f"#set page(paper: {string(PAPERS[paper])}, margin: (x: 15mm, top: 12mm, bottom: 15mm),"
        f" footer: context text(size: 10pt)[#{string(_foot(document))} #h(1fr)"
        " #counter(page).display() of #counter(page).final().first()])",
        _title(document),
    ]
    for place, block in enumerate(document.blocks):
        made = sheets(block, paper) if isinstance(block, blocks.Sheets) else shown(block)
        lines.append(f"#block(sticky: true)[{made}]" if _leads(document.blocks, place) else made)
    return "\n".join(lines) + "\n"


def _title(document: blocks.Document) -> str:
    """The title; that of a booklet for the shop is one small line, and cards for the wall need all their room."""
    if document.booklet == booklet_named("cards").title:
        return ""
    if document.booklet in (WHOLE.title, BOOKLETS[0].title):
        return f"#title(text(size: 20pt, {string(document.title)}))"
    return f"#title(text(size: 12pt, {string(f'{document.title} · {document.booklet}')}))"


def _leads(all_blocks, place: int) -> bool:
    """Whether a paragraph opens a chapter of tables or lists, and so stays on a page with the first."""
    block, last = all_blocks[place], place + 1 == len(all_blocks)
    if not isinstance(block, blocks.Text) or not place or last:
        return False
    after = all_blocks[place + 1]
    return isinstance(all_blocks[place - 1], blocks.Heading) and not isinstance(
        after, blocks.Text | blocks.Heading
    )


def _foot(document: blocks.Document) -> str:
    return f"{document.title[:70]} · {document.booklet}"


def sheets(block: blocks.Sheets, paper: str) -> str:
    """Sheets of drawings as pages of their own, on the same paper as the rest."""
    return "\n".join(
        page_markup(width, height, on_paper(svg), alt)
        for width, height, svg, alt in sheet_drawings(block.layout, block.system, paper)
    )


@singledispatch
def shown(block) -> str:
    """One block as markup."""
    raise TypeError(f"no markup for {type(block).__name__}")


def _head(words: str) -> str:
    return f"#strong({string(words)})"


@shown.register
def _(block: blocks.Heading) -> str:
    page = "#pagebreak(weak: true)\n" if block.fresh else ""
    return f"{page}#heading(level: {block.level}, {string(block.words)})"


def _kept(words: str) -> str:
    """Words with each number held on one line with its unit."""
    return re.sub(r"(?<=\d) (?=[A-Za-z°µ%])", "\u00a0", words)


@shown.register
def _(block: blocks.Text) -> str:
    words = string(_kept(block.words))
    return f"#par(soft({words}))" if block.soft else f"#par({words})"


@shown.register
def _(block: blocks.Steps) -> str:
    name = "enum" if block.numbered else "list"
    items = [
        f"[{_head(head + '.')} #{string(_kept(words))}]" if head else f"[#{string(_kept(words))}]"
        for head, words in block.items
    ]
    if not block.beside:
        made = f"#{name}({', '.join(items)})"
        return f"#block(breakable: false)[{made}]" if len(items) <= TOGETHER else made
    return "#" + _beside(*(f"{name}({', '.join(half)})" for half in _halves(items)))


def _halves(items):
    middle = -(-len(items) // 2)
    return items[:middle], items[middle:]


def _beside(left: str, right: str) -> str:
    return f"grid(columns: (1fr, 1fr), column-gutter: 14pt, {left}, {right})"


@shown.register
def _(block: blocks.Figure) -> str:
    alt = f"{block.title}. {block.sentence}" if block.title else block.sentence
    image = (
        f'image(bytes({string(on_paper(block.svg))}), format: "svg", width: {block.width:.0%},'
        f" alt: {string(alt)})"
    )
    title = f"#strong({string(block.title)})#linebreak()" if block.title else ""
    return (
        f"#block(breakable: false, width: 100%)[{title}#align(center, {image})"
        f"#par({string(block.sentence)})]"
    )


def on_paper(svg: str) -> str:
    """A drawing with fixed colours on white, in the paper's typeface."""
    svg = plain(svg).replace(PALETTE["paper"], "#FFFFFF")
    return re.sub(r'font-family="[^"]*"', f'font-family="{SERIF}"', svg)


@shown.register
def _(block: blocks.Table) -> str:
    if block.beside and len(block.rows) > FEW:
        body = _beside(*(_table(block, rows) for rows in _halves(block.rows)))
    else:
        body = _table(block, block.rows)
    if block.dense:
        body = f"[#show table: set text(size: 9pt); #set par(leading: 0.4em); #{body}]"
    if block.large:
        body = f"[#show table: set text(size: 14pt); #set par(leading: 0.45em); #{body}]"
    made = f"#block(sticky: true, above: 0.8em, below: 0.45em, {_head(block.caption)[1:]})\n#{body}"
    tall = len(block.rows) / (2 if block.beside else 1)
    long = sum(len(cell) for row in block.rows for cell in row) > FULL
    return (
        f"#block(breakable: false, width: 100%)[{made}]" if tall <= TOGETHER and not long else made
    )


def _table(block: blocks.Table, rows) -> str:
    count = len(block.headings)
    widths = block.widths or (1 / count,) * count
    columns = ", ".join(f"{width:g}fr" for width in widths)
    cells = ", ".join(f"[{_head(words)}]" for words in block.headings)
    whole = {block.rows[i] for i in block.strong}
    body = ", ".join(
        f"[{_head(cell)}]" if row in whole else f"[#{string(cell)}]" for row in rows for cell in row
    )
    return f"table(columns: ({columns}), align: left, table.header({cells}), {body})"


@shown.register
def _(block: blocks.Worked) -> str:
    formula, numbers = typst_math(block.latex), _filled(block)
    short = numbers and len(block.latex) <= blocks.SHORT
    lines = [
        _head(block.title),
        f"#formula({string(block.plain)}, $display({formula}{' ' + numbers if short else ''})$)",
    ]
    if numbers and not short:
        lines.append(f"#formula({string('with its numbers')}, $display({numbers})$)")
    if not numbers:
        lines.append(f"#par[#{string('It gives ' + block.result + '.')}]")
    symbols = " ".join(
        f"#math.equation(alt: {string(text)}, ${typst_math(symbol)}$) #{string(text)}"
        for (symbol, _, _), text in zip(block.inputs, blocks.meanings(block), strict=True)
    )
    lines.append(f"#par[#soft[{symbols} #{string('Source: ' + block.source + '.')}]]")
    return f"#block(breakable: false, above: 0.9em)[{' '.join(lines)}]"


def _filled(block: blocks.Worked) -> str:
    """The numbers put in, and the result: places v0v, v1v … become values."""
    if not block.filled:
        return ""
    numbers = re.sub(
        r'"v(\d+)v"', lambda m: string(block.inputs[int(m[1])][2]), typst_math(block.filled)
    )
    return f"= {numbers} = {string(block.result)}"


@shown.register
def _(block: blocks.Cautions) -> str:
    cells = ", ".join(
        f"block(breakable: false)[{_head(c.hazard + '.')} #{string(c.fact)}"
        f" #emph({string('Ask: ' + c.ask + '.')})]"
        for c in block.items
    )
    columns = 3 if len(block.items) == 3 else 2  # three stand side by side without a hole
    return (
        "#[#set text(size: 10.5pt); #set par(leading: 0.35em);"
        f" #grid(columns: (1fr,) * {columns}, column-gutter: 12pt, row-gutter: 4pt, {cells})]"
    )


@shown.register
def _(block: blocks.Boxes) -> str:
    boxes = []
    for title, line, steps in block.boxes:
        items = ", ".join(f"[#{string(words)}]" for words in steps)
        boxes.append(
            f"rect(width: 100%, stroke: 1.2pt, inset: (x: 6pt, y: 4pt))[#text(size: 14pt, {_head(title)[1:]})"
            f"#linebreak(){_head(line)}#list(spacing: 0.3em, {items})]"
        )
    rows = -(-len(boxes) // 2)
    return f"#grid(columns: (1fr, 1fr), rows: (auto,) * {rows}, gutter: 4pt, {', '.join(boxes)})"


@shown.register
def _(block: blocks.Blanks) -> str:
    cells = ", ".join(
        f"[#{string(label)} #box(width: 1fr, line(length: 100%, stroke: 0.6pt))]"
        for label in block.labels
    )
    return f"#grid(columns: (1fr, 1fr), column-gutter: 16pt, row-gutter: 8pt, {cells})"


@shown.register
def _(block: blocks.Calendar) -> str:
    days = max(len(week.boxes) for week in block.weeks)
    cells = [f"[{_head(block.head)}]", f"table.cell(colspan: {days}, [{_head('Days')}])"]
    body = []
    for week in block.weeks:
        expect = "".join(f"#linebreak()#{string(words)}" for words in week.expect)
        body.append(f"[{_head(week.days)}{expect}]")
        body += [_day(box, block.blanks) for box in week.boxes]
        body += ["[]"] * (days - len(week.boxes))
    return (
        f"#block(sticky: true, above: 0.8em, below: 0.45em, {_head(block.caption)[1:]})\n"
        f"#[#set text(size: 10pt); #table(columns: (1.75fr, ..(1fr,) * {days}),"
        " stroke: 0.4pt + luma(140), inset: (x: 2.5pt, top: 2pt, bottom: 3pt), align: left,"
        f" table.header({', '.join(cells)}), {', '.join(body)})]"
    )


def _day(box: blocks.DayBox, blanks: tuple[str, ...]) -> str:
    """A square: a box and the day, what is given, and lines to write on."""
    lines = "".join(
        f"#v({BLANK}, weak: true)#{string(label)} #box(width: 1fr, line(length: 100%, stroke: 0.5pt))"
        for label in blanks
    )
    return f"[{blocks.TICK} {_head(str(box.day))} #{string(_kept(box.give))}{lines}]"


@shown.register
def _(block: blocks.Code) -> str:
    sides = ("\n".join(half) for half in _halves(block.words.splitlines()))
    body = _beside(*(f"raw(block: true, {string(s)})" for s in sides))
    return f"#block(breakable: false)[#{_head(block.label)[1:]}\n#{body}]"


@shown.register
def _(block: blocks.Square) -> str:
    alt = "QR code that holds the design as text"
    return (
        "#grid(columns: (52mm, 1fr), column-gutter: 10pt, align: horizon,"
        f' image(bytes({string(block.svg)}), format: "svg", width: 50mm, alt: {string(alt)}),'
        f" par({string(block.words)}))"
    )


__all__ = ["markup", "on_paper", "pdf", "shown"]
