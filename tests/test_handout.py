"""The hand-out: one document in three formats that agree with the sizing, and are read with ease."""

import contextlib
import functools
import html as markup
import io
import math
import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

import numpy as np
import openpyxl
import pypdf
import pytest
import reading
import zxingcpp
from designs import DEMOS, demo, random_design
from needed import missing

from rsdesign import size
from rsdesign.__main__ import main
from rsdesign.building.parts_flow import LABELS
from rsdesign.building.problems import tape
from rsdesign.building.run_down import run_down
from rsdesign.core import tables
from rsdesign.core.cautions import cautions
from rsdesign.core.choices import DesignError
from rsdesign.core.equation import REGISTER
from rsdesign.core.units import number
from rsdesign.design.file import read_design
from rsdesign.design.link import token_of
from rsdesign.design.model import with_values
from rsdesign.pages.figures import shown_figure
from rsdesign.pages.session import Session
from rsdesign.report import ranges as bands
from rsdesign.report.building.all_lists import building_of
from rsdesign.report.drawings.building.numbers import numbers as marked
from rsdesign.report.glossary import glossary
from rsdesign.report.handout import files
from rsdesign.report.handout.blocks import (
    Boxes,
    Cautions,
    Code,
    Figure,
    Heading,
    Square,
    Steps,
    Table,
    Text,
    Worked,
)
from rsdesign.report.handout.booklets import BOOKLETS, WHOLE
from rsdesign.report.handout.document import CHAPTERS, compose
from rsdesign.report.handout.emergency import emergency
from rsdesign.report.handout.html import html
from rsdesign.report.handout.pdf import markup as typst_markup
from rsdesign.report.handout.pdf import pdf
from rsdesign.report.handout.spreadsheet import spreadsheet
from rsdesign.report.handout.typst_math import typst_math
from rsdesign.report.handout.words import CAPTION, is_said
from rsdesign.report.method_book import import_all
from rsdesign.report.text import as_dict
from rsdesign.sizing.margins import percent
from rsdesign.sizing.working import _with_symbols
from rsdesign.studies.cashflow import cash_flow
from rsdesign.studies.heat.yearly import full_year

import_all()
RANDOM = range(20)
DESIGNS = [*DEMOS, *RANDOM]
PAGES = {"plan": (6, 10), "build": (8, 23), "cards": (5, 6), "working": (2, 4)}
"""Fewest and most pages of each booklet.

A random design with many vessels takes 23 to build since walls, rails, fence and the backup's pipe are listed.
"""


def design_named(name):
    return demo(name) if isinstance(name, str) else random_design(name)


@functools.cache
def sizing_of(name):
    return size(design_named(name))


@functools.cache
def document_of(name, system="us"):
    return compose(sizing_of(name), system)


@functools.cache
def pdf_of(name, system="us", paper="letter") -> bytes:
    return pdf(document_of(name, system), paper)


@functools.cache
def booklet_of(name, booklet, system="us", paper="letter") -> bytes:
    return files.make(sizing_of(name), "pdf", system, paper, booklet=booklet)


def squeezed(text: str) -> str:
    """Text without the spaces and line breaks that a page puts in."""
    return re.sub(r"\s+", "", re.sub(r"[-\u2010\u00ad]\n", "", text.replace("\xa0", " ")))


def text_of_html(made: str) -> str:
    body = re.sub(r"<style>.*?</style>", "", made, flags=re.DOTALL)
    return squeezed(markup.unescape(re.sub(r"<[^>]+>", " ", body)))


def texts_of(made: bytes) -> list[str]:
    """The text of each page that stands upright; those on their side are drawings, long to read."""
    return [
        page.extract_text() for page in pypdf.PdfReader(io.BytesIO(made)).pages if upright(page)
    ]


def upright(page) -> bool:
    return page.mediabox.width < page.mediabox.height


def text_of_pdf(made: bytes) -> str:
    return squeezed("\n".join(texts_of(made)))


def words_of(cell, path: str = "") -> str:
    """A cell of ``size --json`` as it is shown; animals are whole."""
    if path in ("stock.fish", "stock.to_stock"):
        return f"{math.floor(cell['value'] + 0.5):,}"
    if cell is None:
        return "none"
    if isinstance(cell["value"], str):
        return cell["value"]
    if cell["value"] is None:
        return "no answer"
    gap = "" if cell["unit"] == "%" else " "
    return f"{number(cell['value'])}{gap}{cell['unit']}".strip()


# --- one truth -----------------------------------------------------------------------------


@pytest.mark.parametrize("name", DESIGNS)
def test_every_format_says_what_the_command_line_and_the_page_say(name):
    system = "metric" if name in RANDOM and name % 2 else "us"
    sizing, document = sizing_of(name), document_of(name, system)
    wanted = as_dict(sizing, system)
    written = text_of_html(html(document))
    book = openpyxl.load_workbook(io.BytesIO(spreadsheet(sizing, system)), read_only=True)
    rows = {r[4]: r for r in book["Sizing"].iter_rows(min_row=2, values_only=True)}
    assert len(document.shown) > 45
    for path, words in document.shown.items():
        stage, _, rest = path.partition(".")
        assert words == words_of(wanted[stage][rest], path), path
        assert squeezed(words) in written, path
        page = shown_figure(sizing, path, system)
        gap = "" if page["unit"] == "%" else " "
        assert words == f"{page['value']}{gap}{page['unit']}".strip(), path
    for stage, cells in wanted.items():
        if stage in ("parts", "checks", "assumed", "year"):
            continue
        for figure, cell in cells.items():
            row = rows[f"{stage}.{figure}"]
            if cell is None or not isinstance(cell["value"], float):
                assert row[2] == words_of(cell)
            else:
                assert row[2] == pytest.approx(cell["value"], rel=1e-14)
                assert (row[3] or "") == cell["unit"]
    for part in sizing.parts:
        cell = wanted["parts"][part.name]
        for side in ("required", "provided", "rule"):
            assert cell[side] is None or squeezed(words_of(cell[side])) in written
        assert squeezed(f"{cell['word']}, {percent(part.margin, part.form)}") in written


@pytest.mark.parametrize("name", [*DEMOS, 2, 8])
def test_the_pdf_says_the_same(name):
    document = document_of(name)
    written = text_of_pdf(pdf_of(name))
    for path, words in document.shown.items():
        assert squeezed(words) in written, path
    for block in document.blocks:
        if isinstance(block, Worked):
            assert squeezed(block.result) in written, block.title
        if isinstance(block, Heading):
            assert squeezed(block.words) in written


def test_a_step_shows_formula_numbers_result_and_source():
    steps = [b for b in document_of("family").blocks if isinstance(b, Worked)]
    assert len(steps) >= 14
    assert sum(bool(s.filled) for s in steps) >= 12
    for step in steps:
        assert step.source
        assert step.result
        for place, (_, _, value) in enumerate(step.inputs):
            assert value
            used = f"v{place}v" in step.filled
            assert used or not step.filled or "flow" in step.inputs[place][1], step.title


# --- the spreadsheet -----------------------------------------------------------------------


@pytest.fixture(scope="module")
def office(tmp_path_factory):
    """Recalculates workbooks in LibreOffice, all in one start of it."""
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        missing("No LibreOffice is installed, so the formulas were not recalculated.")
    folder = tmp_path_factory.mktemp("office")

    def recalculated(books: dict[str, bytes]) -> dict:
        for name, content in books.items():
            (folder / f"{name}.xlsx").write_bytes(content)
        subprocess.run(
            [program, f"-env:UserInstallation=file://{folder}/profile", "--headless",
             "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(folder / "out"),
             *(str(folder / f"{name}.xlsx") for name in books)],
            check=True, capture_output=True, timeout=120,
        )  # fmt: skip
        return {
            n: openpyxl.load_workbook(folder / "out" / f"{n}.xlsx", data_only=True) for n in books
        }

    return recalculated


def column(sheet, key: int, value: int) -> dict:
    return {r[key]: r[value] for r in sheet.iter_rows(values_only=True) if r[key]}


def agrees(book, found) -> None:
    """A recalculated workbook against our own budget and cash."""
    wrong = [c.value for sheet in book for row in sheet.iter_rows() for c in row
             if isinstance(c.value, str) and c.value.startswith(("#", "Err:"))]  # fmt: skip
    assert wrong == []
    b, lines = found.budget, column(book["Budget"], 0, 4)
    unit = 0.45359237
    for words, ours in {
        "Receipts": b.receipts, "Variable costs": b.variable, "Fixed costs": b.fixed,
        "Net return, own hours paid": b.net, "Net return, own hours unpaid": b.net_unpaid,
        "Equipment, each at its life": b.equipment, "Own labour": b.labour,
        "Interest on running money": b.operating_interest,
        "Cost per lb of fish, own hours paid": b.cost_of_each * unit,
        "Cost per lb of fish, own hours unpaid": b.cost_of_each_unpaid * unit,
        "What an hour of own work earns": b.wage_earned * 3600,
    }.items():  # fmt: skip
        assert lines[words] == pytest.approx(float(ours), rel=1e-9, abs=1e-9), words
    bought = {r[0]: r for r in book["Parts"].iter_rows(values_only=True)}
    for item in found.items:
        assert bought[item.label][4] == pytest.approx(float(item.cost), rel=1e-12)
        assert bought[item.label][7] == pytest.approx(float(item.annual), rel=1e-9)
    assert bought["In all"][4] == pytest.approx(float(found.investment), rel=1e-12)
    everything = [
        r for r in book["Everything to buy"].iter_rows(values_only=True) if r[0] == "In all"
    ]
    counted = building_of(found.sizing).bill
    assert everything[0][7] == pytest.approx(counted.total, rel=1e-9)
    assert everything[1][4] == pytest.approx(counted.plan_total, rel=1e-9)
    assert everything[1][7] == pytest.approx(counted.total, rel=1e-9)
    flow = cash_flow(found)
    cash = list(book["Cash"].iter_rows(min_row=2, values_only=True))
    assert [r[0] for r in cash[1:-1]] == list(flow.periods)
    assert cash[0][-1] == pytest.approx(-flow.start)
    np.testing.assert_allclose([r[-2] for r in cash[1:-1]], flow.total, rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose([r[-1] for r in cash[1:-1]], flow.balance, rtol=1e-9, atol=1e-6)
    assert cash[-1][-1] == pytest.approx(flow.deepest)


def test_formulas_recalculated_give_our_totals(office):
    cases = {
        **{str(name): design_named(name) for name in (*DEMOS, 3, 11)},
        "no interest": with_values(demo("family"), {"terms.rate": 0.0, "terms.horizon": 23.0}),
        "short lives": with_values(
            demo("school"), {"terms.life_air": 0.7, "terms.life_pump": 1.0, "terms.life_tank": 2.0}
        ),
        "eaten at home": with_values(
            demo("family"), {"terms.home_share": 0.4, "prices.fish": 9.0, "prices.currency": 'E"R'}
        ),
    }
    sizings = {name: size(design) for name, design in cases.items()}
    books = office({name: spreadsheet(sizing) for name, sizing in sizings.items()})
    for name, book in books.items():
        agrees(book, full_year(sizings[name]))
        for row in book["Balance"].iter_rows(min_row=2, values_only=True):
            part = next(p for p in sizings[name].parts if p.label == row[0])
            if isinstance(row[5], (int, float)):
                assert row[5] == pytest.approx(float(part.margin), rel=1e-9)


def test_a_changed_price_moves_the_year_as_the_program_does(office):
    design = demo("family")
    book = openpyxl.load_workbook(io.BytesIO(spreadsheet(size(design))))
    for row in book["Budget"].iter_rows():
        if row[0].value == "Electricity, air and water":
            row[3].value = 0.30
    for row in book["Parts"].iter_rows():
        if row[0].value == "Tank":
            row[3].value, row[5].value = 2.0, 8.0
    content = io.BytesIO()
    book.save(content)
    # Heat is bought with the same electricity; the family buys none.
    changed = with_values(design, {
        "prices.electricity": 0.30 / 3.6e6, "prices.tank": 2.0 / 0.003785411784,
        "terms.life_tank": 8.0,
    })  # fmt: skip
    agrees(office({"changed": content.getvalue()})["changed"], full_year(size(changed)))


def test_words_never_become_formulas():
    design = with_values(demo("family"), {"name": '=1+1&"x"', "note": "=cmd|' /C calc'!A0\x01"})
    book = openpyxl.load_workbook(io.BytesIO(spreadsheet(size(design))))
    for sheet in book:
        live = [c.value for row in sheet.iter_rows() for c in row if c.data_type == "f"]
        assert not [v for v in live if "cmd" in v or v.startswith("=1+1")]
        assert (
            sheet.title in ("Balance", "Parts", "Budget", "Cash", "Everything to buy") or not live
        )


# --- the papers ----------------------------------------------------------------------------


@pytest.mark.parametrize(("system", "paper"), [("us", "letter"), ("metric", "a4")])
def test_a_family_design_is_so_many_pages_of_real_text(system, paper):
    made = pypdf.PdfReader(io.BytesIO(pdf_of("family", system, paper)))
    assert made.metadata.title == "Ocotillo Flat, a family's tank: hand-out"
    root = made.trailer["/Root"]
    assert root["/Lang"].startswith("en")
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    wide, high = (float(x) for x in made.pages[0].mediabox[2:])
    assert (wide, high) == pytest.approx(
        (612, 792) if paper == "letter" else (595.28, 841.89), abs=0.1
    )
    fonts = set()
    for page in made.pages:
        for font in page["/Resources"].get("/Font", {}).values():
            inside = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"]
            assert {"/FontFile2", "/FontFile3"} & set(inside.get_object())
            fonts.add(font.get_object()["/BaseFont"])
    assert fonts
    text = texts_of(pdf_of("family", system, paper))
    places = [squeezed("".join(text)).find(squeezed(words)) for words in (
        "Every part, the tightest first", "The drawing", "Parts and first cost", "Everything to buy, in this order", "Build it", "Before the fish come",
        "Season plan", "Feed by week", "Every day", "Water card", "Log sheet", "Start-up calendar", "Emergency card", "How the numbers came about",
        "Your design, to keep")]  # fmt: skip
    assert places == sorted(places)
    assert min(places) >= 0
    starts = [t.strip().splitlines()[0] for t in text]
    for words in (
        "The drawing",
        "Log sheet",
        "Start-up calendar",
        "Emergency card",
        "How the numbers came about",
    ):
        assert words in starts, "cards for the wall are one page each"
    card = text[starts.index("Emergency card")]
    assert "Poison control" in card, "the card for the wall is one page"


@pytest.mark.parametrize("name", [*DEMOS, 2, 8])
def test_the_summary_is_one_page(name):
    made = pypdf.PdfReader(io.BytesIO(booklet_of(name, "plan")))
    assert made.pages[1].extract_text().strip().startswith("The drawing")


@pytest.mark.parametrize(("name", "system", "paper"), [
    *((name, "us", "letter") for name in DEMOS), ("family", "metric", "a4"), (2, "us", "letter"), (8, "us", "letter")])  # fmt: skip
@pytest.mark.parametrize("booklet", PAGES)
def test_a_booklet_has_its_pages_and_keeps_to_the_standard_of_access(name, system, paper, booklet, tmp_path):  # fmt: skip
    content = booklet_of(name, booklet, system, paper)
    made = pypdf.PdfReader(io.BytesIO(content))
    few, many = PAGES[booklet]
    assert few <= len(made.pages) <= many
    assert b'pdfuaid:part="1"' in content or b"<pdfuaid:part>1</pdfuaid:part>" in content
    for text in texts_of(content):
        assert len([w for w in text.splitlines() if w.strip()]) > 8, "no page holds a lone row"
    if shutil.which("pdftotext"):
        path = tmp_path / "made.pdf"
        path.write_bytes(content)
        done = subprocess.run(
            ["pdftotext", path, "-"], capture_output=True, encoding="utf-8", check=True
        )
        assert done.stderr == ""


def test_every_chapter_stands_in_one_booklet():
    told = [chapter for booklet in BOOKLETS for chapter in booklet.chapters]
    assert sorted(told) == sorted(WHOLE.chapters) == sorted(CHAPTERS)
    whole = document_of("family")
    parts = [compose(sizing_of("family"), booklet=b.name) for b in BOOKLETS]
    assert {path: words for part in parts for path, words in part.shown.items()} == whole.shown


def test_the_same_design_makes_the_same_bytes():
    assert files.make(sizing_of("school"), "html") == html(document_of("school")).encode()
    assert pdf(document_of("school")) == pdf_of("school")


def test_every_equation_and_symbol_becomes_typst():
    import typst

    from rsdesign.core.formula import symbols

    lines = [typst_math(_with_symbols(about)) for about in REGISTER.values()]
    lines += [typst_math(symbol.symbol) for symbol in symbols().values()]
    assert len(lines) > 600
    source = "\n\n".join(f"$ {line} $" for line in lines)
    made, warnings = typst.compile_with_warnings(source.encode(), ignore_system_fonts=True)
    assert bytes(made).startswith(b"%PDF")
    assert not warnings
    assert not [line for line in lines if "\\\\" in line]


def test_markup_in_a_name_is_only_words():
    name = '#pagebreak() "$x$" <b>& _y_ \\ ]] end'
    document = compose(size(with_values(demo("family"), {"name": name, "note": name})))
    first = pypdf.PdfReader(io.BytesIO(pdf(document))).pages[0].extract_text()
    assert squeezed(first).count(squeezed(name)) == 3, "title, note and foot"
    made = html(document)
    assert squeezed(name) in text_of_html(made)
    assert "<b>" not in made
    fresh = sum(isinstance(block, Heading) and block.fresh for block in document.blocks)
    assert typst_markup(document).count("#pagebreak(weak: true)") == fresh, "none by the name"


def test_html_is_one_file_that_asks_nothing_of_anybody():
    made = html(document_of("family"))
    found = set(re.findall(r"https?://[^\"' >]+", made))
    assert found <= {"http://www.w3.org/2000/svg", "http://www.w3.org/1998/Math/MathML"}
    assert not re.search(r"<(?:script|link|img|iframe)|url\((?!#)|@import", made)
    assert made.count("<math") > 30
    assert '<html lang="en">' in made


def test_every_figure_has_a_sentence_and_every_caution_is_there():
    blocks = document_of("commercial").blocks
    for block in blocks:
        if isinstance(block, Figure):
            assert block.sentence.endswith(".")
            assert block.title
    assert {c.hazard for b in blocks if isinstance(b, Cautions) for c in b.items} == {
        row["hazard"] for row in cautions().values()
    }


def test_the_emergency_card_has_minutes_restart_and_lines():
    sizing = sizing_of("family")
    blocks = emergency(sizing, "us")
    boxes = next(b for b in blocks if isinstance(b, Boxes)).boxes
    off = next(box for box in boxes if box[0] == "All power is off")
    assert bands.minutes_to_act(sizing, "us") in off[1]
    said = [b.words for b in blocks if isinstance(b, Text)]
    assert any("With an oxygen meter" in s and "Without an oxygen meter" in s for s in said)
    assert len(boxes) == 8
    again = next(box for box in boxes if box[0] == "When it runs again")
    assert again[2][0] == "Air first."


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("name", DEMOS)
def test_the_emergency_card_names_this_systems_levels_valves_and_circuits(name, system):
    """Falls and rises by the run-down, valves by the drawings' marks, circuits by the panel; one page of paper."""
    sizing = sizing_of(name)
    found = building_of(sizing)
    made = found.layout
    boxes = {
        box[0]: " ".join(box[2])
        for box in next(b for b in emergency(sizing, system) if isinstance(b, Boxes)).boxes
    }
    down = {one.name: one for one in run_down(made)}
    sump = made.vessel("sump")
    stopped = boxes["The pump stops, the air runs"]
    assert f"falls {tape(down['tank'].fall, system)} and stands" in stopped
    rise = sum(one.volume for one in down.values()) / sump.across / sump.length
    assert f"The sump rises {tape(rise, system)}" in stopped
    assert "screened overflow" in stopped
    marks = {mark: (run.name, fitting.kind) for mark, run, fitting in marked(made).fittings}
    opened, held = re.search(r"Open (V[0-9]+), .* check valve (V[0-9]+) stays", stopped).groups()
    assert marks[opened][1] in ("union", "flexible coupling")
    assert marks[held] == (marks[opened][0], "check valve")
    shut = re.search(r"Shut (.*?)[.] Stop", boxes["Water runs out: a leak or a siphon"])[1]
    for mark in re.findall("V[0-9]+", shut):
        assert marks[mark][0] in ("centre drain", "sludge")
        assert marks[mark][1] == "ball valve"
    said = " ".join(b.words for b in emergency(sizing, system) if isinstance(b, Text))
    assert "stand dry, with dry hands" in said
    panel = said.partition("Circuits: ")[2].partition(". V marks")[0]
    assert sorted(int(n) for n in re.findall("[0-9]+", panel)) == [c.number for c in found.circuits]
    spare = [c.number for c in found.circuits if c.machine == "air machine" and "spare" in c.feeds]
    told = re.findall(
        "Switch on the spare machine .circuits? ([0-9, and]+).",
        boxes["The air stops, the pump runs"],
    )
    assert [int(n) for n in re.findall("[0-9]+", " ".join(told))] == spare
    pages = pypdf.PdfReader(io.BytesIO(pdf(compose(sizing, system, booklet="cards")))).pages
    first, second = pages[0].extract_text(), pages[1].extract_text()
    assert "Poison control" in first
    assert "Water card" in second[:200]


@pytest.mark.parametrize("booklet", ["plan", "build", "cards", "all"])
@pytest.mark.parametrize("name", DEMOS)
def test_each_word_of_the_trade_is_explained_once_in_its_booklet(name, booklet):
    """What the text of the paper says in a form that the glossary knows stands in the table of words, and no more."""
    document = compose(sizing_of(name), "us", booklet=booklet)
    explained = [
        row
        for b in document.blocks
        if isinstance(b, Table) and b.caption == CAPTION
        for row in b.rows
    ]
    named = [row[0] for row in explained]
    assert len(named) == len(set(named))
    text = re.sub(r"<svg.*?</svg>", "", html(document), flags=re.DOTALL)
    text = re.sub(
        rf"<table(?:(?!</table>).)*?<caption[^>]*>{CAPTION}.*?</table>", "", text, flags=re.DOTALL
    )
    text = markup.unescape(re.sub(r"<[^>]*>", " ", text))
    for term in glossary().values():
        if term.paper and is_said(term, text) and booklet in ("build", "all"):
            assert term.term in named, term.term
    for row in explained:
        assert glossary()[row[0]].meaning in row[1]


def test_every_fitting_that_is_bought_is_a_word_of_the_glossary():
    known = [t for t in glossary().values() if t.paper]
    plain = ("screen", "plug")  # everyday words
    for label in LABELS.values():
        assert any(is_said(t, label) for t in known) or any(
            word in label.lower() for word in plain
        ), label


def test_dates_stand_in_the_calendar_when_the_first_day_is_told():
    import datetime

    blocks = compose(sizing_of("family"), "us", datetime.date(2027, 3, 15)).blocks
    first = next(b for b in blocks if isinstance(b, Table) and b.caption == "The first batches")
    assert first.rows[0][1] == "2027-03-15"
    assert first.rows[0][4] == "2027-11-08"  # the last day on which the water suits the fish


def test_feed_by_week_ends_at_the_biggest_day_of_the_batch():
    sizing = sizing_of("family")
    table = next(b for b in compose(sizing).blocks if isinstance(b, Table) and "week" in b.caption)
    assert table.rows[-1][-1] == number(float(sizing.stock.peak_feed) / 0.45359237 * 86400)
    fed = [float(row[-1]) for row in table.rows]
    assert fed == sorted(fed)


# --- the design itself ---------------------------------------------------------------------


def picture_of(svg: str):
    """The squares of a QR code's path as a picture, four dots to a square."""
    side = int(re.search(r"M0 0h(\d+)v", svg)[1])
    found = np.full((side, side), 255, np.uint8)
    x = y = 0.0
    for act, numbers in re.findall(r"([Mmh])([-\d. ]+)", svg.split('class="qrline"')[1]):
        values = [float(v) for v in numbers.split()]
        if act == "h":
            found[int(y), int(x) : int(x + values[0])] = 0
            x += values[0]
        elif act == "M":
            x, y = values
        else:
            x, y = x + values[0], y + values[1]
    return np.kron(found, np.ones((4, 4), np.uint8))


@pytest.mark.parametrize("name", [*DEMOS, *range(0, 16, 2)])
def test_the_square_holds_the_design_and_no_address(name):
    design = design_named(name)
    blocks = document_of(name).blocks
    square = next(b for b in blocks if isinstance(b, Square))
    read = zxingcpp.read_barcodes(picture_of(square.svg))
    assert [r.text for r in read] == [square.holds]
    assert "://" not in square.holds
    code = next(b for b in blocks if isinstance(b, Code))
    for text in (read[0].text, code.words):
        assert token_of(read_design(text)) == token_of(design)


def test_a_long_note_leaves_the_square_to_the_choices():
    design = with_values(demo("family"), {"note": "x" * 3000})
    square = next(b for b in compose(size(design)).blocks if isinstance(b, Square))
    assert size(read_design(square.holds)).tank.volume == size(design).tank.volume


# --- words ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "grade", "ease"), [
    # Printed with the formulas in many places: 24 syllables in 13 words; six short words.
    ("The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.", 11.3, 37.5),
    ("The cat sat on the mat.", -1.4, 116),
])  # fmt: skip
def test_the_measure_of_reading_gives_printed_values(text, grade, ease):
    assert reading.grade(text) == pytest.approx(grade, abs=0.06)
    assert reading.ease(text) == pytest.approx(ease, abs=0.2)


def main_text(document) -> list[str]:
    """What is read from end to end: no tables of numbers, no formulas, no sources."""
    told = []
    for block in document.blocks:
        match block:
            case Text(soft=False):
                told.append(block.words)
            case Steps():
                told += [words for _, words in block.items]
            case Cautions():
                told += [c.fact for c in block.items]
            case Figure():
                told.append(block.sentence)
            case Boxes():
                told += [words for _, line, steps in block.boxes for words in (line, *steps)]
    return told


@pytest.mark.parametrize("name", DEMOS)
def test_the_main_text_is_read_in_ninth_grade_or_before(name):
    told = main_text(document_of(name))
    assert reading.counts("\n".join(told))[1] > 1500
    assert reading.grade("\n".join(told)) <= 9.0
    for words in told:
        if reading.counts(words)[1] > 12:
            assert reading.grade(words) <= 12.0, words


# --- the command line ----------------------------------------------------------------------

FAMILY = str(tables.data_folder() / "designs" / "family.toml")


@pytest.mark.parametrize(("name", "start"), [
    ("out.pdf", b"%PDF"), ("out.HTML", b"<!doctype html>"), ("out.xlsx", b"PK"),
])  # fmt: skip
def test_the_command_makes_each_format(tmp_path, capsys, name, start):
    out = tmp_path / name
    out.write_text("an older one", encoding="utf-8")
    assert main(["handout", FAMILY, "-o", str(out), "--units", "metric", "--paper", "a4"]) == 0
    assert out.read_bytes().startswith(start)
    assert "is written" in capsys.readouterr().out
    assert [p.name for p in tmp_path.iterdir()] == [name]


def refused(capsys, *argv) -> str:
    assert main(["handout", *map(str, argv)]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "Traceback" not in said
    return said


def test_paths_that_cannot_be_are_told_in_a_sentence(tmp_path, capsys):
    assert "end the name in" in refused(capsys, FAMILY, "-o", tmp_path / "out.docx")
    assert "end the name in" in refused(capsys, FAMILY, "-o", tmp_path)
    assert "no folder" in refused(capsys, FAMILY, "-o", tmp_path / "not" / "out.pdf")
    (tmp_path / "a.pdf").mkdir()
    assert "is a folder" in refused(capsys, FAMILY, "-o", tmp_path / "a.pdf")
    assert "is not there" in refused(capsys, tmp_path / "none.toml", "-o", tmp_path / "out.pdf")
    assert "-o" in refused(capsys, FAMILY)
    assert "date" in refused(capsys, FAMILY, "-o", tmp_path / "out.pdf", "--stocked", "soon")
    for far in ("9999-12-20", "0001-01-01"):
        said = refused(capsys, FAMILY, "-o", tmp_path / "out.pdf", "--stocked", far)
        assert "lies outside the years 1950 to 2200" in said
    assert "cannot be written" in refused(capsys, FAMILY, "-o", tmp_path / ("x" * 300 + ".html"))
    assert [p.name for p in tmp_path.iterdir()] == ["a.pdf"]


class Full(io.BytesIO):
    """A file on a disk that is full."""

    def write(self, content):
        super().write(content[:100])
        raise OSError(28, "No space left on device")


@pytest.mark.parametrize(("number_", "words"), [(28, "No space left on device"), (30, "Read-only file system"),
                                                (13, "Permission denied")])  # fmt: skip
@pytest.mark.parametrize("where", ["open", "replace", "write"])
def test_a_full_disk_or_a_shut_folder_leaves_the_old_file_whole(
    tmp_path, monkeypatch, where, number_, words
):
    out = tmp_path / "out.html"
    out.write_bytes(b"old")

    def fails(*args, **more):
        raise OSError(number_, words)

    if where == "replace":
        monkeypatch.setattr("os.replace", fails)
    elif where == "open":
        monkeypatch.setattr("rsdesign.design.file.open", fails, raising=False)
    else:

        def full(path, mode):
            Path(path).touch()
            return Full()

        number_, words = 28, "No space left on device"
        monkeypatch.setattr("rsdesign.design.file.open", full, raising=False)
    with pytest.raises(DesignError, match=words) as told:
        files.write(out, b"new" * 1000)
    assert str(told.value).count(".") <= 2
    assert out.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["out.html"]


@contextlib.contextmanager
def not_root():
    """Whoever may do all is refused nothing: root is another account meanwhile."""
    root = os.geteuid() == 0
    if root:
        os.seteuid(65534)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)


@pytest.mark.skipif(not hasattr(os, "seteuid"), reason="this system refuses in other ways")
def test_a_real_read_only_folder_is_told(capsys):
    with tempfile.TemporaryDirectory() as shut:  # one that other accounts may look into
        design = Path(shut) / "family.toml"
        design.write_bytes(Path(FAMILY).read_bytes())
        design.chmod(0o444)
        before = Path(shut) / "before.html"
        assert (
            main(["handout", str(design), "-o", str(before)]) == 0
        )  # all that is read is read by now
        Path(shut).chmod(0o555)
        with not_root():
            assert "cannot be written" in refused(capsys, design, "-o", Path(shut) / "out.html")
            told = refused(capsys, design, "-o", before)
        assert "Permission denied" in told
        assert [p.name for p in sorted(Path(shut).iterdir())] == ["before.html", "family.toml"]


# --- the pages -----------------------------------------------------------------------------


@pytest.mark.parametrize("form", files.FORMATS)
def test_a_page_hands_out_the_same_bytes(form):
    import base64

    session = Session("whole", "metric")
    session.handle({"do": "handout", "format": form, "paper": "a4"})
    assert not session.notice
    reply = session.reply
    assert reply["file"] == ("plan.pdf" if form == "pdf" else f"handout.{form}")
    content = base64.b64decode(reply["base64"])
    if form != "xlsx":  # a workbook carries the moment it was made
        assert content == files.make(session.sizing, form, "metric", "a4")
    assert content[:2] in (b"%P", b"<!", b"PK")


@pytest.mark.parametrize("message", [{}, {"format": "exe"}, {"format": ["pdf"]},
                                     {"format": "pdf", "paper": "napkin"},
                                     {"format": "pdf", "booklet": "novel"}, {"format": "pdf", "booklet": ["plan"]}])  # fmt: skip
def test_a_page_refuses_formats_there_are_not(message):
    session = Session("whole")
    session.handle({"do": "handout", **message})
    assert session.notice.endswith(".")
    assert session.reply == {}
