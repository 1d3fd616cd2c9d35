"""The Plotly figures of the package: what they show is what the studies gave; nothing is fetched."""

import json
import re
import subprocess
import sys

import pandas as pd
import pytest
from designs import demo

from rsdesign import heat, limits, outage, plot, size, sweep
from rsdesign.core.choices import DesignError
from rsdesign.core.tables import data_folder
from rsdesign.report.drawings.look import PALETTE
from rsdesign.studies.outage.study import run

RATES = ["1 gpm/ft²", "2 gpm/ft²", "4 gpm/ft²"]
PAIR = ["solids.captured", "loads.heterotroph_oxygen"]


@pytest.fixture(scope="module")
def family():
    return size(demo("family"))


@pytest.fixture(scope="module")
def frame():
    return sweep(demo("family"), "solids.overflow_rate", RATES, PAIR)


def figures(family, frame):
    return {
        "tradeoff": plot.tradeoff(frame),
        "limits": plot.limits(limits(family.design.with_(pump_flow="20 gpm"))),
        "heat year": plot.heat_year(family),
        "outage": plot.outage(family),
        "compare": plot.compare({"now": family, "deep": family.design.with_(tank_depth="4 ft")},
                                ["tank.width", "pump.head"]),
    }  # fmt: skip


def test_every_figure_has_fixed_colors_titles_and_nothing_from_outside(family, frame):
    for name, figure in figures(family, frame).items():
        text = figure.to_json()
        assert "var(" not in text, name
        assert "http" not in text, name
        assert "bdata" not in text, name
        found = set(re.findall(r"#[0-9A-Fa-f]{6}", text))
        assert found <= set(PALETTE.values()), name
        assert figure.layout.yaxis.title.text is not None, name
        assert len(text) < 20_000, name


def test_a_trade_off_holds_the_numbers_of_its_sweep(frame):
    figure = plot.tradeoff(frame)
    lines = [trace for trace in figure.data if trace.mode == "lines"]
    assert [len(line.x) for line in lines] == [3, 3]
    for line, name in zip(lines, PAIR, strict=True):
        assert list(line.y) == pytest.approx(list(frame[name]), rel=1e-5)
        assert list(line.x) == pytest.approx([1, 2, 4])
    assert "gpm/ft²" in figure.layout.xaxis.title.text
    assert "lb/h" in figure.layout.yaxis2.title.text
    one = plot.tradeoff(frame, "loads.heterotroph_oxygen")
    assert len(one.data) == 2


def test_a_trade_off_refuses_what_is_not_there(frame):
    with pytest.raises(DesignError, match=r"no column of numbers here; there are solids\.captured"):
        plot.tradeoff(frame, "pump.head")
    with pytest.raises(DesignError, match="no column of numbers"):
        plot.tradeoff(pd.DataFrame({"a": ["x"]}))


def test_limits_stand_smallest_first_and_the_smallest_alone_is_red(family):
    found = limits(family.design.with_(pump_flow="20 gpm"))
    bars = plot.limits(found).data[0]
    assert list(bars.y) == [b.label for b in found.bearings if b.feed < float("inf")]
    assert list(bars.x) == sorted(bars.x)
    assert bars.marker.color[0] == PALETTE["short"]
    assert bars.marker.color[-1] == PALETTE["enough"]


def test_the_course_of_an_outage_is_that_of_the_study(family):
    likely = plot.outage(family, step=180.0).data[0]
    table = run(family, step=180.0)
    assert list(likely.y) == pytest.approx(list(1e3 * table["likely"]), rel=1e-5)
    assert list(likely.x) == pytest.approx(list(table.index / 60), rel=1e-5)
    assert outage(family.design).times


def test_the_year_is_that_of_the_study(family):
    study = heat(family)
    water = plot.heat_year(study, "metric").data[0]
    assert list(water.y) == pytest.approx([m.water for m in study.months], rel=1e-5)


def test_designs_are_compared_figure_by_figure(family):
    deep = family.design.with_(tank_depth="4 ft")
    figure = plot.compare({"now": family, "deep": deep}, ["tank.width", "pump.head"])
    across, head = figure.data
    assert list(across.y) == pytest.approx(
        [s["tank.width"].to("ft").magnitude for s in (family, size(deep))], rel=1e-5
    )
    assert list(head.x) == ["now", "deep"]
    with pytest.raises(DesignError, match="not a figure"):
        plot.compare({"now": family}, ["tank.widht"])
    with pytest.raises(DesignError, match="at least one"):
        plot.compare({}, ["tank.width"])


def test_plotly_is_opened_by_the_first_figure_only():
    code = "import sys, rsdesign; rsdesign.plot; print('plotly' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8",
                          check=True)  # fmt: skip
    assert done.stdout.strip() == "False"


def test_figures_are_the_same_text_each_time(family, frame):
    one, other = (plot.tradeoff(frame).to_json() for _ in range(2))
    assert json.loads(one) == json.loads(other)


def test_a_kernel_shows_a_figure_without_the_renderers():
    """Plotly's own way loads nbformat and jsonschema first; the output is the same."""
    from jupyter_client.manager import start_new_kernel

    code = """
import sys
from rsdesign import load, plot, sweep
frame = sweep(load({path!r}), "tank.depth", ["2 ft", "3 ft"], ["tank.width", "pump.head"])
display(plot.tradeoff(frame))
print("plotly.io._renderers" in sys.modules)
import plotly.io
plotly.io.renderers.default = "plotly_mimetype"
display(plot.tradeoff(frame))
print("plotly.io._renderers" in sys.modules)
""".format(path=str(data_folder() / "designs" / "family.toml"))
    manager, client = start_new_kernel()
    heard = []
    try:
        reply = client.execute_interactive(code, output_hook=heard.append, timeout=60)
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
    assert reply["content"]["status"] == "ok"
    shown = [m["content"]["data"] for m in heard if m["msg_type"] == "display_data"]
    assert [list(data) for data in shown] == [["application/vnd.plotly.v1+json"]] * 2
    assert shown[0] == shown[1]
    words = "".join(m["content"]["text"] for m in heard if m["msg_type"] == "stream")
    assert words.split() == ["False", "True"]


def test_a_course_is_drawn_with_its_band():
    from rsdesign.season import feeding_day, growout, startup

    start = startup(demo("family"), days=60, draws=20)
    data = plot.course(start, "ammonia", "nitrite").data
    filled = [trace for trace in data if trace.fill]
    assert len(filled) == 2
    assert filled[0].y[30] == pytest.approx(start["ammonia_95"][30], rel=1e-5)
    lines = {trace.name: trace for trace in data if trace.name}
    assert lines["nitrite"].y[30] == pytest.approx(start["nitrite"][30], rel=1e-5)

    year = growout(demo("family"), 30)
    figure = plot.course(year, "weight")
    assert list(figure.data[0].x) == list(range(1, 31))
    assert figure.layout.yaxis.title.text == year.attrs["units"]["weight"]
    assert not [
        trace for trace in plot.course(feeding_day(demo("family")), "oxygen").data if trace.fill
    ]

    for columns in ((), ("gold",), ("ammonia", "feed"), ("ammonia",) * 5):
        with pytest.raises(DesignError, match=r"\.$"):
            plot.course(start, *columns)
