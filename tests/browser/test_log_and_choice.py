"""A log that is a spreadsheet, and the study of what to buy, as people meet them in a browser."""

import datetime
import re

import openpyxl
import pytest
from views import WAIT, opened

from rsdesign.pages.series import page_named

pytestmark = pytest.mark.filterwarnings("default")  # sockets of browsers end late


def heard(view) -> list[str]:
    """What the page says to its program from its next loading on."""
    said: list[str] = []
    view.on("websocket", lambda line: line.on("framesent", lambda sent: said.append(str(sent))))
    view.reload(wait_until="commit")
    view.wait_for_selector("body[data-ready]", timeout=WAIT)
    return said


def test_a_spreadsheet_is_opened_in_the_browser_and_its_notes_stay_there(browser, server, tmp_path):
    book = openpyxl.Workbook()
    book.active.append(["date", "time", "temp (°C)", "TAN (mg/L as N)", "note", "neighbor"])
    first = [datetime.date(2027, 4, 15), datetime.time(7, 30), 27.5, 6, "pump hummed", "Ann"]
    book.active.append(first)
    book.active.append([datetime.datetime(2027, 4, 16, 8, 5), None, 0.1 + 27.2, "<0.25"])
    book.create_sheet("feed bills")
    book.save(tmp_path / "tests.xlsx")
    (tmp_path / "spoiled.xlsx").write_bytes((tmp_path / "tests.xlsx").read_bytes()[:900])
    view = opened(browser, server, page_named("log"), folded=True)
    said = heard(view)
    file, status = ".rs-log input[type=file]", ".rs-log [role=status]"
    view.set_input_files(file, tmp_path / "tests.xlsx")
    view.wait_for_selector(f"{status} >> text=tests.xlsx is open: 3 lines", timeout=WAIT)
    assert "2 sheets; only the first is read" in view.inner_text(status)
    view.wait_for_selector(".rs-own-log_findings >> text=Next tests", timeout=WAIT)
    lines = view.text_content(".rs-loglines").splitlines()
    assert lines[0] == "date,time,temp (°C),TAN (mg/L as N),note,neighbor"
    assert lines[1] == "2027-04-15,07:30,27.5,6,pump hummed,Ann"
    assert lines[2] == "2027-04-16 08:05,,27.3,<0.25,,"
    sent = " ".join(said)
    assert "2027-04-15" in sent
    assert not re.search("hummed|Ann|neighbor|feed bills", sent)
    view.set_input_files(file, tmp_path / "spoiled.xlsx")
    view.wait_for_selector(
        f"{status} >> text=was not opened, and your log is as it was", timeout=WAIT
    )
    assert view.text_content(".rs-loglines").splitlines() == lines
    assert view.wrong == []
    view.context.close()


def test_while_what_to_buy_is_worked_out_a_slider_is_answered_and_the_study_can_be_stopped(
    browser, server
):
    view = opened(browser, server, page_named("choose"), folded=True)
    study = ".rs-study[data-state={}]"
    view.wait_for_selector(study.format("running"), timeout=WAIT)
    view.wait_for_function("document.querySelector('.rs-study progress').value > 0", timeout=WAIT)
    first = view.locator("[data-headline='Yours, a year']")
    before = first.inner_text()
    view.locator(".rs-choices input[type=range]").first.focus()
    for _ in range(5):
        view.keyboard.press("ArrowRight")
    view.wait_for_function(
        "was => document.querySelector(`[data-headline='Yours, a year']`).innerText !== was",
        arg=before, timeout=WAIT,
    )  # fmt: skip
    view.wait_for_selector(
        study.format("running"), timeout=WAIT
    )  # the study of the design as it is now
    view.click(".rs-study button:text-is('Stop')")
    view.wait_for_selector(study.format("stopped"), timeout=WAIT)
    assert "You stopped it" in view.inner_text(".rs-study")
    view.click(".rs-study button:text-is('Work it out')")
    view.wait_for_selector(study.format("running"), timeout=WAIT)
    view.click(".rs-study button:text-is('Stop')")
    view.wait_for_selector(study.format("stopped"), timeout=WAIT)
    assert view.wrong == []
    view.context.close()
