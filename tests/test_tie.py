"""A page in a notebook and the cells around it: each sees what the other set."""

import ipywidgets
import pytest
from designs import demo

from rsdesign import load, size
from rsdesign.core.choices import DesignError
from rsdesign.pages import page
from rsdesign.pages.jupyter.widget import DesignView
from rsdesign.pages.series import SERIES
from rsdesign.pages.session import Session

RATE = "solids.overflow_rate"


@pytest.fixture
def view():
    made = page("solids")
    made.sent = []
    made.send = lambda content, buffers=None: made.sent.append(content)
    return made


def slide(view, at: float, end: bool = True, number: int = 1):
    move = {"do": "slide", "path": RATE, "at": at, "end": end}
    view._receive(view, {"n": number, "message": move}, [])


def test_design_and_sizing_follow_the_sliders(view):
    assert view.design == demo("family")
    slide(view, 0.9)
    assert view.design == view.session.design != demo("family")
    assert view.sizing.solids.area == size(view.design).solids.area
    assert view.sizing.design == view.design


def test_a_design_that_is_set_moves_the_sliders_and_can_be_undone(view):
    view._receive(view, {"n": 1, "message": {"do": "open"}}, [])
    wanted = view.design.with_(solids_overflow_rate="3 gpm/ft²")
    view.sent.clear()
    view.design = wanted
    assert view.session.design == wanted
    assert view.sizing.solids.load == size(wanted).solids.load
    (sent,) = view.sent
    assert "ack" not in sent
    assert "3" in str(next(c for c in sent["blocks"]["choices"] if c["path"] == RATE))
    view._receive(view, {"n": 2, "message": {"do": "undo"}}, [])
    assert view.design == demo("family")


def test_observers_see_design_and_sizing_together(view):
    seen = []
    for name in ("design", "sizing"):
        view.observe(lambda change: seen.append(view.sizing.design == view.design), name)
    slide(view, 0.3)
    slide(view, 0.4, number=2)
    view.design = demo("school")
    assert seen == [True] * 6
    assert view.sizing.design == view.design


def test_a_design_that_cannot_be_is_one_sentence_and_changes_nothing(view):
    before = view.sizing
    for bad, said in (
        (demo("family").with_(tank_depth="300 ft"), "300 ft"),
        (demo("family").with_(tank_depth=["2 ft", "3 ft"]), "one design"),
    ):
        with pytest.raises(DesignError, match=said):
            view.design = bad
        assert view.design == demo("family")
        assert view.sizing is before


def test_a_refused_text_on_the_page_leaves_the_last_design(view):
    view._receive(view, {"n": 1, "message": {"do": "set", "path": RATE, "text": "900 gpm/ft²"}}, [])
    assert view.design == demo("family")
    assert view.sizing.design == view.design


def test_plain_widgets_can_be_tied_to_a_page(view):
    label = ipywidgets.Label()
    ipywidgets.dlink((view, "sizing"), (label, "value"), lambda s: f"{s['solids.area']:.3f}")
    assert label.value == f"{view.sizing['solids.area']:.3f}"
    slide(view, 0.9)
    assert label.value == f"{view.sizing['solids.area']:.3f}"
    rate = ipywidgets.FloatText(value=2.0)
    ipywidgets.dlink(
        (rate, "value"), (view, "design"),
        lambda value: view.design.with_(solids_overflow_rate=f"{value} gpm/ft²"),
    )  # fmt: skip
    rate.value = 4.0
    assert view.design == demo("family").with_(solids_overflow_rate="4 gpm/ft²")


def test_only_pages_with_a_design_are_tied(monkeypatch):
    assert all(isinstance(page(about.name), DesignView) for about in SERIES)
    assert not hasattr(page("exercises"), "design")
    monkeypatch.setenv("RSDESIGN_SERVED", "1")
    assert not isinstance(page("solids"), DesignView)


def test_stock_voila_gets_the_widget(monkeypatch):
    monkeypatch.setenv("VOILA_PREHEAT", "False")
    assert isinstance(page("solids"), DesignView)


def test_a_page_in_a_notebook_keeps_its_design_for_the_next(view, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    slide(view, 0.9)
    view._receive(view, {"n": 2, "message": {"do": "keep"}}, [])
    assert load("my_design.toml") == view.design != demo("family")
    assert view.sent[-1]["ack"] == 2


def test_only_a_page_in_a_notebook_writes_a_file(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SERVER_SOFTWARE", "voila/0.5.13")
    for session in (page("solids").session, Session("solids")):
        session.handle({"do": "keep"})
        assert "save the design as a file" in session.notice
    assert not list(tmp_path.iterdir())
