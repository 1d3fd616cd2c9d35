"""A log of water tests: units, kits, colours, dates, a thousand damaged logs, nothing lost."""

import csv
import datetime
import io
import json
import random
from pathlib import Path

import numpy as np
import openpyxl
import pytest
from make_demo_log import demo_log
from scipy.optimize import minimize
from scipy.stats import linregress

import rsdesign
from rsdesign import read_log
from rsdesign.core.choices import DesignError
from rsdesign.core.kinds import KINDS
from rsdesign.core.tables import data_folder
from rsdesign.equations import readings
from rsdesign.equations.water.ammonia import unionized_fraction
from rsdesign.records import log_of_values, write_log
from rsdesign.records.columns import CALENDAR, Kit, bases, chart_steps, charts, columns, measured
from rsdesign.records.kit_words import read_kit
from rsdesign.records.trends import line_through

MG = 1e-3
DEMO = data_folder() / "logs" / "school_autumn.csv"
with (Path(__file__).parent / "reference" / "log.csv").open(encoding="utf-8", newline="") as f:
    ROWS = {row["id"]: row for row in csv.DictReader(f)}


def expected(name: str) -> tuple[float, dict, float]:
    row = ROWS[name]
    return float(row["expected"]), json.loads(row["inputs"]), float(row["tolerance"])


def cell(text: str, heading: str, name: str, end: str = "values") -> float:
    """What one cell under a heading is read as."""
    log = read_log(f"date\t{heading}\tnote\n2027-04-15\t{text}\t\n")
    assert not log.problems, log.problems
    return float(getattr(log, end)[name][0])


# --- rows of the references ------------------------------------------------------------------


@pytest.mark.parametrize("name", ["log-114", "log-115"])
def test_the_criterion_is_that_much_unionized_ammonia(name):
    value, given, tolerance = expected(name)
    found = given["TAN"] * unionized_fraction(float(given["T"]), float(given["pH"]))
    assert found == pytest.approx(value, rel=tolerance)


def test_the_mean_of_colours_by_their_likelihood():
    """The mean that the interval likelihood of the package makes likeliest, found by SciPy."""
    value, given, tolerance = expected("log-117")
    edges = np.array(given["edges"])
    rng = np.random.default_rng(given["seed"])
    true = rng.normal(1.2, 0.5, given["n"])
    place = np.clip(np.searchsorted(edges, true, side="right") - 1, 0, edges.size - 2)
    low, high = edges[place], edges[place + 1]
    assert low.min() == 0.0, "the first colour takes all below it"

    def loss(at):
        share = readings.reading_likelihood.__wrapped__(at[0], low, high, np.exp(at[1]))
        return -np.log(np.maximum(share, 1e-300)).sum()

    best = minimize(loss, [1.0, np.log(0.5)], method="Nelder-Mead",
                    options={"xatol": 1e-10, "fatol": 1e-10, "maxiter": 4000})  # fmt: skip
    assert best.x[0] == pytest.approx(value, rel=tolerance)


def test_a_leak_by_its_salt():
    value, given, tolerance = expected("log-118")
    found = readings.chloride_after(given["C0"], given["V"], given["q"], given["t"])
    assert found == pytest.approx(value, rel=tolerance)
    value, given, tolerance = expected("log-119")
    found = readings.salt_leak(given["V"], given["t"], given["C0"], given["C1"])
    assert found == pytest.approx(value, rel=tolerance)


def test_the_line_through_nitrate():
    value, given, tolerance = expected("log-122")
    slope, error = line_through(given["day"], given["NO3"])
    assert slope == pytest.approx(value, rel=tolerance)
    outside = linregress(given["day"], given["NO3"])
    assert (slope, error) == pytest.approx((outside.slope, outside.stderr), rel=1e-9)


# --- the tables ------------------------------------------------------------------------------


def test_every_column_and_kit_is_whole():
    assert list(columns())[:2] == ["date", "time"]
    assert list(columns())[-1] == "note"
    for name in measured():
        column = columns()[name]
        low, high = column.span
        assert low < high
        assert column.label
        assert column.help.endswith(".")
        assert column.hint.endswith("?")
        for word in column.words.split("|"):
            assert read_log(f"date,{word}\n2027-04-15,1\n").kits.get(name) or not column.units, word
    for name, chart in charts().items():
        steps = chart_steps(name)
        assert steps[0] == 0.0
        assert list(steps) == sorted(set(steps))
        assert 0.0 < float(chart.spread) < 1.0


def test_the_headings_of_the_table_are_read_as_their_columns():
    line = ",".join(column.heading for column in columns().values())
    log = read_log(line + "\n2027-04-15,7:30," + "," * len(measured()) + "hello\n")
    assert set(log.kits) == set(measured())
    assert log.notes == ("hello",)
    assert not log.problems


# --- units and kits --------------------------------------------------------------------------

CELLS = [
    ("82", "temp (°F)", "temperature", (82 - 32) / 1.8),
    ("82 °F", "temp", "temperature", (82 - 32) / 1.8),
    ("27,5", "temp [°C]", "temperature", 27.5),
    ("7.2", "pH", "ph", 7.2),
    ("0.5", "TAN (mg/L as N)", "tan", 0.5 * MG),
    ("0.5", "ammonia, ppm as ion", "tan", 0.5 * MG * 14.007 / 18.039),
    ("0.5", "NH3/NH4 (mg/L as NH3)", "tan", 0.5 * MG * 14.007 / 17.031),
    ("0.5", "NO2-N", "nitrite", 0.5 * MG),
    ("0.5", "NO2 (mg/L as ion)", "nitrite", 0.5 * MG * 14.007 / 46.005),
    ("250 µg/L", "nitrite (as N)", "nitrite", 0.25 * MG),
    ("44.27", "Nitrate (mg/L, as NO3)", "nitrate", 44.27 * MG * 14.007 / 62.004),
    ("8", "KH (dKH)", "alkalinity", 8 * 17.848 * MG),
    ("120", "alk, ppm", "alkalinity", 120 * MG),
    ("6", "DO", "oxygen", 6 * MG),
    ("3 lb 4 oz", "feed", "feed", 3.25 * 0.45359237),
    ("1 1/2", "feed (lb)", "feed", 1.5 * 0.45359237),
    ("300", "feed (g)", "feed", 0.3),
    ("0", "deaths", "deaths", 0.0),
    ("100", "added_water (gal)", "water_added", 0.3785411784),
    ("8 oz", "base added", "base", 0.5 * 0.45359237),
    ("-2", "level (in)", "level", -0.0508),
    ("1,250.5", "added water (gal)", "water_added", 1250.5 * 0.003785411784),
]


@pytest.mark.parametrize(("text", "heading", "name", "value"), CELLS, ids=str)
def test_a_cell_is_read_in_its_unit_and_as_its_kit_reports(text, heading, name, value):
    assert cell(text, heading, name) == pytest.approx(value, rel=2e-4, abs=1e-12)


ENDS = [
    ("<0.25", "TAN (as N)", "tan", (0.125, 0.0, 0.25)),
    ("> 80", "NO3 (as N)", "nitrate", (80, 80, np.inf)),
    ("20-40", "NO3 (as N)", "nitrate", (30, 20, 40)),
    ("0.25", "TAN (as N)", "tan", (0.25, 0.245, 0.255)),
    ("5", "NO3 (as N)", "nitrate", (5, 4.5, 5.5)),
    ("0.25", "TAN (as N, colour chart)", "tan", (0.25, 0.125, 0.375)),
    ("0", "TAN (as N, colours)", "tan", (0.0, 0.0, 0.125)),
    ("8", "TAN (as N, color chart)", "tan", (8, 6, np.inf)),
    ("0.3", "TAN (as N, colours)", "tan", (0.3, 0.25, 0.5)),
    ("10", "TAN (as N, colours)", "tan", (10, 10, np.inf)),
    ("44.27", "NO3 (as ion)", "nitrate", (10.0008, 9.9997, 10.002)),
]


@pytest.mark.parametrize(("text", "heading", "name", "ends"), ENDS, ids=str)
def test_a_reading_stands_between_its_ends(text, heading, name, ends):
    found = [cell(text, heading, name, end) / MG for end in ("values", "low", "high")]
    assert found == pytest.approx(ends, rel=1e-3, abs=1e-9)


def test_a_count_is_exact():
    log = read_log("date,deaths\n2027-04-15,3\n")
    assert log.low["deaths"][0] == log.high["deaths"][0] == 3.0


def test_the_kit_switch_moves_a_column_by_its_factor():
    text = "date,NO2,NO3\n2027-04-15,1,10\n"
    bare, ion = read_log(text), read_log(text, {"nitrite": "as ion", "nitrate": Kit("nitrate", "ion", True, KINDS["concentration"].unit("mg/L"))})  # fmt: skip
    assert bare.values["nitrite"][0] / ion.values["nitrite"][0] == pytest.approx(3.2844, rel=1e-4)
    assert bare.values["nitrate"][0] / ion.values["nitrate"][0] == pytest.approx(4.4266, rel=1e-4)
    assert len(bare.remarks) == 2
    assert "leaflet" in bare.remarks[0]
    assert not ion.remarks
    assert read_kit("NO3: colours as ion") == ("nitrate", "colours as ion")


@pytest.mark.parametrize("kits", [{"nitrites": "as ion"}, {"nitrite": "as blue"}])
def test_a_kit_that_is_none_is_a_sentence(kits):
    with pytest.raises(DesignError, match=r"\.$"):
        read_log("date,NO2\n2027-04-15,1\n", kits)


def test_a_chart_of_ones_own_is_read_from_the_log():
    log = read_log("# colours NO3: 0 10 25 50 100\ndate,NO3 (as N)\n2027-04-15,25\n")
    assert [log.low["nitrate"][0] / MG, log.high["nitrate"][0] / MG] == pytest.approx([17.5, 37.5])
    log = read_log("# colours NO3: 0 25 10\ndate,NO3 (as N)\n2027-04-15,25\n")
    assert "rising order" in log.problems[0].sentence


@pytest.mark.parametrize("text", ["", " ", "-", "–", "n/a", "NA"])
def test_missing_is_not_zero(text):
    log = read_log(f"date,TAN (as N),deaths\n2027-04-15,{text},{text}\n")
    assert np.isnan(log.values["tan"][0])
    assert np.isnan(log.values["deaths"][0])
    assert not log.problems


# --- dates -----------------------------------------------------------------------------------

DATES = ["2027-04-15", "2027/4/15", "15.4.2027", "4/15/2027", "15 Apr 2027", "April 15, 2027",
         "15 de abril de 2027", "4/15/27", "2027-04-15 07:30"]  # fmt: skip


@pytest.mark.parametrize("text", DATES)
def test_a_date_is_read_as_people_write_it(text):
    log = read_log(f'date;pH\n"{text}";7.2\n')
    assert log.first_day == datetime.date(2027, 4, 15), log.problems
    assert log.days[0] == pytest.approx(0.3125 if ":" in text else 0.5)


def test_the_order_of_day_and_month_is_found_for_the_whole_log():
    text = "date,pH\n3/4/2027,7\n5/4/2027,7\n14/4/2027,7\n"
    log = read_log(text)
    assert log.first_day == datetime.date(2027, 4, 3)
    assert not log.remarks
    both = read_log(text + "4/25/2027,7\n")
    assert [p.line for p in both.problems] == [2, 3]
    assert "month was read first" in read_log("date,pH\n3/4/2027,7\n").remarks[0]


def test_lines_out_of_order_are_put_in_order_and_keep_their_number():
    log = read_log("date,time,pH\n2027-04-17,,7.3\n2027-04-15,6 pm,7.1\n2027-04-15,7:00,7.0\n")
    assert log.lines.tolist() == [4, 3, 2]
    assert log.values["ph"].tolist() == [7.0, 7.1, 7.3]
    assert (np.diff(log.days) > 0).all()


# --- files -----------------------------------------------------------------------------------


def test_a_spreadsheet_reads_like_the_text(tmp_path):
    book = openpyxl.Workbook()
    book.active.append(["date", "time", "temp (°C)", "TAN (mg/L as N)", "feed (g)", "note"])
    book.active.append(
        [datetime.date(2027, 4, 15), datetime.time(7, 30), 27.5, "<0.25", 300, "first\nday"]
    )
    book.active.append([datetime.datetime(2027, 4, 16), None, 0.1 + 0.2, None, None, None])
    book.active.append([None] * 6)
    book.save(tmp_path / "log.xlsx")
    log = read_log(tmp_path / "log.xlsx")
    assert not log.problems
    assert log.days.tolist() == [0.3125, 1.5]
    assert log.high["tan"][0] == pytest.approx(0.25 * MG)
    assert log.values["feed"][0] == pytest.approx(0.3)
    assert log.notes[0] == "first\nday"
    again = read_log(write_log(log))
    assert again.sheet.lines[1].cells == log.sheet.lines[1].cells
    assert read_log((tmp_path / "log.xlsx").read_bytes()).days.tolist() == log.days.tolist()


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_a_text_of_any_coding_is_read(tmp_path, coding):
    path = tmp_path / "log.csv"
    path.write_bytes("date,temp (°C),note\n2027-04-15,27,año\n".encode(coding))
    log = read_log(path)
    assert log.values["temperature"][0] == 27.0
    assert log.notes == ("año",)
    assert bool(log.remarks) == (coding == "cp1252")


@pytest.mark.parametrize(
    "content", [b"PK\x03\x04 no zip", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1old", b"x" * 2_000_001]
)
def test_a_file_that_is_no_log_is_one_sentence(tmp_path, content):
    path = tmp_path / "log.xlsx"
    path.write_bytes(content)
    with pytest.raises(DesignError, match=r"\.$"):
        read_log(path)


def test_a_file_that_is_not_there_is_one_sentence(tmp_path):
    with pytest.raises(DesignError, match="is not there"):
        read_log(tmp_path / "none.csv")
    with pytest.raises(DesignError, match="folder"):
        read_log(tmp_path)


@pytest.mark.parametrize(
    "text", ["\n", "date\n", "hello,world\n1,2\n", "pH,TAN,NO2\n7,1,1\n", "date,pH\n"]
)
def test_a_log_without_tests_says_so(text):
    log = read_log(text)
    assert len(log) == 0
    assert log.problems
    assert all(p.sentence.endswith(".") for p in log.problems)
    assert log.frame().empty


# --- a thousand damaged logs -----------------------------------------------------------------


def good() -> list[list[str]]:
    """The rows of the demonstration log without its comments."""
    lines = [x for x in DEMO.read_text(encoding="utf-8").splitlines() if not x.startswith("#")]
    return list(csv.reader(lines))


def text_of(rows) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue()


def _garbage(rows, at, rng):
    place = rng.randrange(2, 13)
    rows[at][place] = rng.choice(
        ["abc", "??", "7,2,1", "1e999", "--5", "seven", "0.5 cups", "#REF!", "<", "\u202e7"]
    )


def _wild(rows, at, rng):
    place = rng.choice([2, 3, 4, 5, 6, 7, 8])
    rows[at][place] = rng.choice(["-50", "99999", "-0.5e3"])


def _bad_date(rows, at, rng):
    rows[at][0] = rng.choice(
        ["2027-02-30", "tomorrow", "", "2072-09-09", "13/13/2027", "20270906", "0000-00-00"]
    )


def _bad_hour(rows, at, rng):
    rows[at][1] = rng.choice(["25:00", "noonish", "7:99", "13 pm"])


def _too_many(rows, at, rng):
    rows[at].insert(rng.randrange(1, 5), "0")
    rows[at] = [*rows[at][:-1], "spill"]


def _half_fish(rows, at, rng):
    rows[at][10] = rng.choice(["1.5", "none", "2 lb"])


DAMAGES = (_garbage, _wild, _bad_date, _bad_hour, _too_many, _half_fish)


def values_at(log, line: int) -> dict[str, float]:
    place = log.lines.tolist().index(line)
    return {name: float(log.values[name][place]) for name in measured()}


def same(a: dict, b: dict) -> bool:
    return all(a[n] == b[n] or (np.isnan(a[n]) and np.isnan(b[n])) for n in a)


def cells_of(text: str) -> list[str]:
    return [c for row in csv.reader(io.StringIO(text)) for c in row if c]


@pytest.mark.parametrize("block", range(4))
def test_a_thousand_damaged_logs_lose_nothing(block):
    """250 logs a block: a sentence with the line of each damage, the rest as before, all cells kept."""
    rng = random.Random(2027 + block)
    base = good()[:7]
    whole = read_log(text_of(base))
    assert not whole.problems
    before = {line: values_at(whole, line) for line in whole.lines.tolist()}
    for turn in range(250):
        rows = [list(row) for row in base]
        hurt = {}
        for at in rng.sample(range(1, len(rows)), rng.randrange(1, 4)):
            hurt[at + 1] = rng.choice(DAMAGES)
            hurt[at + 1](rows, at, rng)
        text = text_of(rows)
        log = read_log(text)
        told = {p.line for p in log.problems}
        assert told == set(hurt), (hurt, log.problems)
        for problem in log.problems:
            assert f"ine {problem.line}" in problem.sentence
            assert problem.sentence.rstrip()[-1] in ".?"
            assert len(problem.sentence) < 260
            assert problem.sentence.isprintable()
        for line, values in before.items():
            if line not in hurt:
                assert same(values_at(log, line), values)
            elif hurt[line] in (_garbage, _wild, _half_fish):
                now = values_at(log, line)
                changed = [n for n in now if not same({n: now[n]}, {n: values[n]})]
                assert len(changed) <= 1, "one cell is hurt, the others are read"
        written = write_log(log)
        assert cells_of(written) == cells_of(text)
        if written == text and turn % 10:
            continue  # the same text is read in the same way
        again = read_log(written)
        assert [p.sentence for p in again.problems] == [p.sentence for p in log.problems]
        assert again.lines.tolist() == log.lines.tolist()


def test_any_bytes_give_a_log_or_one_sentence():
    """Bytes are changed, cut and repeated at random: no traceback, every mark of every line kept."""
    rng = random.Random(7)
    base = DEMO.read_bytes()[:1000]
    for _ in range(150):
        content = bytearray(base)
        for _ in range(rng.randrange(1, 12)):
            place = rng.randrange(len(content))
            kind = rng.randrange(4)
            if kind == 0:
                content[place] = rng.randrange(256)
            elif kind == 1:
                del content[place : place + rng.randrange(40)]
            elif kind == 2:
                content[place:place] = rng.choice(
                    [b'"', b"\x00", b"\r", b",,,,", b";", b"\xff\xfe", b'""']
                )
            else:
                content[place:place] = content[: rng.randrange(60)]
        log = read_log(bytes(content))
        first = write_log(log)
        assert write_log(read_log(first)) == first
        kept = sorted(
            c for line in log.sheet.lines for one in line.cells for c in one if c.isalnum()
        )
        text = content.decode("utf-8-sig", errors="ignore") if not log.sheet.remarks else None
        if text is not None:
            assert kept == sorted(c for c in text if c.isalnum())


def test_three_digits_after_a_comma_are_read_by_the_other_cells_or_asked_about():
    text = "date\tpH\tadded water (gal)\n2027-04-15\t{}\t1,250\n"
    for ph, value in (("7.2", 1250), ("7,2", 1.25)):
        log = read_log(text.format(ph))
        assert log.values["water_added"][0] == pytest.approx(value * 0.003785411784)
    assert "may be 1,250 or 1.25" in read_log(text.format("7")).problems[0].sentence


def test_an_open_quotation_mark_hurts_its_own_line_alone():
    text = 'date,pH,note\n2027-04-15,7.1,"rinsed\n2027-04-16,7.2,\n2027-04-17,7.3,"two\nlines"\n'
    log = read_log(text)
    assert [p.line for p in log.problems] == [2]
    assert log.values["ph"].tolist() == [7.1, 7.2, 7.3]
    assert log.lines.tolist() == [2, 3, 4]
    assert log.notes[2] == "two\nlines"


def test_columns_that_are_not_known_are_kept():
    log = read_log("date,pH,weather,TAN (furlongs)\n2027-04-15,7.2,sunny,3\n")
    assert [p.line for p in log.problems] == [1, 1]
    assert "sunny" in write_log(log)
    assert np.isnan(log.values["tan"]).all()


def test_decimal_commas_are_read_by_the_whole_log():
    log = read_log(
        "date;pH;NO3 (as N);added water (L)\n15.4.2027;7,2;12,5;1.250\n16.4.2027;7,1;1,250;20\n"
    )
    assert log.values["ph"].tolist() == [7.2, 7.1]
    assert log.values["nitrate"].tolist() == pytest.approx([12.5 * MG, 1.25 * MG])
    assert log.values["water_added"].tolist() == pytest.approx([1.25, 0.020])


# --- the log itself --------------------------------------------------------------------------


def test_a_log_of_numbers_is_written_and_read_again():
    rng = np.random.default_rng(1)
    days = np.arange(20) + 0.3125
    values = {"tan": rng.uniform(0, 2e-3, 20), "ph": rng.uniform(6, 8, 20), "feed": rng.uniform(0, 3, 20),
              "alkalinity": rng.uniform(0.05, 0.2, 20), "temperature": rng.uniform(20, 30, 20)}  # fmt: skip
    values["tan"][3] = np.nan
    log = log_of_values("2027-04-15", days, values, notes=["x"] * 20)
    again = read_log(write_log(log))
    assert not again.problems
    assert not again.remarks
    for name in values:
        np.testing.assert_allclose(again.values[name], log.values[name], rtol=1e-8)
    np.testing.assert_allclose(again.days, log.days, atol=1e-3)


def test_nothing_of_a_log_can_be_changed():
    log = read_log(DEMO)
    with pytest.raises(ValueError, match="read-only"):
        log.values["tan"][0] = 0.0
    with pytest.raises(AttributeError):
        log.days = None


def test_the_frame_carries_its_units():
    frame = read_log(DEMO).frame("us")
    assert frame.attrs["units"]["temperature"] == "°F"
    assert frame["temperature"].iloc[0] == pytest.approx(28.6 * 1.8 + 32)
    assert {f"{name}_low" for name in measured()} <= set(frame.columns)
    si = read_log(DEMO).frame("si")
    assert si["nitrate"].iloc[0] == pytest.approx(40e-3 * 14.007 / 62.004)


def test_the_demonstration_log_is_made_by_its_script():
    assert DEMO.read_text(encoding="utf-8") == demo_log()
    assert "invented" in DEMO.read_text(encoding="utf-8").splitlines()[0]
    log = read_log(DEMO)
    assert len(log) > 40
    assert not log.problems


def test_nothing_of_a_log_goes_anywhere():
    """No network in the package of the records, and no note in what is sent on."""
    folder = Path(rsdesign.__file__).parent / "records"
    for path in folder.glob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert not any(
            f"import {name}" in text for name in ("socket", "urllib", "http", "requests", "tornado")
        )


def test_kit_bases_keep_their_own_first():
    for name in measured():
        ways = bases(name)
        assert not ways or ways[0].factor == 1.0
    assert set(CALENDAR) <= set(columns())
