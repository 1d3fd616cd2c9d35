"""The hand-out says each thing once, and the same everywhere: watts, minutes, the tightest part, the machines."""

import re
from html import unescape

import pytest

from rsdesign.core.kinds import KINDS
from rsdesign.core.tables import data_folder
from rsdesign.core.units import show
from rsdesign.design.file import load
from rsdesign.design.model import with_values
from rsdesign.report.handout.document import compose as hand_out
from rsdesign.report.handout.html import html
from rsdesign.report.handout.summary import MANY
from rsdesign.sizing.margins import checks, worst_first
from rsdesign.sizing.system import size
from rsdesign.sizing.worst_first import worst_part
from rsdesign.studies.enterprise import quantities
from rsdesign.studies.heat.yearly import full_year
from rsdesign.studies.outage import study as outage

DEMOS = ("family", "school", "commercial")


def demo(name: str, **changes):
    found = load(data_folder() / "designs" / f"{name}.toml")
    return with_values(found, {k.replace("__", "."): v for k, v in changes.items()})


def paper(sizing) -> str:
    text = re.sub(r"<svg.*?</svg>", "", html(hand_out(sizing, "us")), flags=re.DOTALL)
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", text)))


@pytest.mark.parametrize("name", DEMOS)
def test_the_pumps_watts_are_those_of_the_bill(name):
    s = size(demo(name))
    said = show(s.pump.plate_watts, KINDS["power"], "us")
    text = paper(s)
    assert f"{said} in all" in text
    motors = outage.motors(s)
    assert sum(m.energy for m in motors) == pytest.approx(s.standby.daily_energy, rel=1e-12)
    assert sum(m.power for m in motors) == pytest.approx(s.standby.watts, rel=1e-12)
    year = full_year(s)
    days = year.allowed.running if year.allowed is not None else 365.25
    bill = year.amounts["electricity"][0]
    assert bill == pytest.approx(s.standby.daily_energy * days, rel=1e-9)


@pytest.mark.parametrize("name", DEMOS)
def test_the_minutes_without_air_are_one_number(name):
    s = size(demo(name))
    text = paper(s)
    said = show(s.standby.minutes_peak, KINDS["minutes"], "us", 2)
    found = re.findall(r"the fish have ([\d.]+ min)", text) + re.findall(
        r"When the air stops you have ([\d.]+ min)", text
    )
    assert len(found) >= 3  # front page, parts list, emergency card
    assert len(set(found)) == 1
    assert found[0] in (said, show(s.standby.minutes_peak, KINDS["minutes"], "us"))


@pytest.mark.parametrize(
    ("name", "changes"), [(name, {}) for name in DEMOS] + [("family", {"solids__area": 0.9})]
)
def test_the_part_named_first_stands_first(name, changes):
    """The tightest in the words heads the table, or the words say among which parts it is."""
    s = size(demo(name, **changes))
    text, tight = paper(s), worst_part(s.parts)
    first = worst_first(s.parts)[0]
    sentence = re.search(r"What limits it: .*? is the tightest part.*?\.(?= )", text)[0]
    assert tight.label.lower() in sentence
    if first.name != tight.name:
        assert "of the parts you gave that carry the feed" in sentence
    else:
        assert "of the parts you gave" not in sentence


def test_every_failed_check_is_on_the_front_page():
    s = size(demo("family", pump__flow=0.0008, air__flow=0.004, keep__alkalinity=0.03))
    failed = [c.words for c in checks(s, "us") if not c.ok]
    assert len(failed) > 6
    text = paper(s)
    for number, words in enumerate(failed):
        if number >= MANY:  # what fails, without what to do
            words = words.partition(". ")[0]  # noqa: PLW2901
        assert re.sub(r"\s+", " ", words) in text, words
    assert "more checks that fail" not in text


def test_spare_air_to_let_out_is_on_the_front_page():
    front = paper(size(demo("school"))).partition("The drawing")[0]
    assert "Let the spare air out beside the tank" in front


@pytest.mark.parametrize("name", DEMOS)
def test_air_machines_are_named_by_the_plate(name):
    """Watts of the plate times the price are the cost on the same line; spares and the filter's too."""
    s = size(demo(name))
    text = paper(s)
    power = KINDS["power"]
    bought = s.air.count + s.air.spare
    assert f"{show(s.air.plate_watts / bought, power, 'us')} each by the plate" in text
    assert f"{show(s.air.plate_watts, power, 'us')} in all" in text
    assert quantities(s)["air_machine"] == pytest.approx(s.air.plate_watts + s.bed.wire_power)
    if s.bed.count > 0:
        assert f"{show(s.bed.wire_power, power, 'us')} for the filter's" in text
        assert s.bed.wire_power > 0
