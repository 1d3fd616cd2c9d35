"""The system to scale in a browser: real letters keep apart and on the sheet, grips can be reached by keys."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))
from designs import DEMOS, demo, random_design

from rsdesign.report.drawings.scene import drawing
from rsdesign.sizing.system import size

FAULTS = """() => {
  const sheet = document.querySelector("svg").viewBox.baseVal, wrong = [];
  const found = [...document.querySelectorAll("svg text")].map(el => {
    const b = el.getBBox(), tall = +el.getAttribute("font-size"), base = +el.getAttribute("y");
    return {words: el.textContent, l: b.x, r: b.x + b.width, t: base - 0.75 * tall, b: base + 0.2 * tall};
  });
  found.forEach((a, i) => {
    if (a.l < 0 || a.t < 0 || a.r > sheet.width || a.b > sheet.height) wrong.push(a.words + " leaves the sheet");
    found.slice(i + 1).forEach(c => {
      if (a.l < c.r && c.l < a.r && a.t < c.b && c.t < a.b) wrong.push(a.words + " lies on " + c.words);
    });
  });
  return wrong;
}"""


@pytest.mark.parametrize("width", [720, 347])
def test_real_letters_keep_apart(browser, width):
    page = browser.new_page(viewport={"width": width + 20, "height": 800})
    for design in [*map(demo, DEMOS), *map(random_design, range(12))]:
        for units in ("us", "metric"):
            svg = drawing(size(design), units, float(width))
            page.set_content(f'<div style="width:{width}px">{svg}</div>')
            assert page.evaluate(FAULTS) == []
    page.close()


def test_grips_are_met_by_the_keyboard_and_are_not_printed(browser):
    page = browser.new_page()
    page.set_content(drawing(size(demo("family"))))
    met = []
    for _ in range(2):
        page.keyboard.press("Tab")
        met.append(page.evaluate("document.activeElement.dataset.drag"))
    assert met == ["tank.depth", "tank.width"]
    page.emulate_media(media="print")
    assert page.locator("[data-drag]").first.is_hidden()
    page.close()
