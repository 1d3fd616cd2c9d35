"""Exercises on starting a filter, on a season and on a log of tests: keys by hand, slips of the trade, cautions, words."""

from math import log

import pytest
from reading import grade

from rsdesign.core.units import from_plain
from rsdesign.teaching.bank import bank, exercise, find
from rsdesign.teaching.cases import case, fault, index_of, misconception_value
from rsdesign.teaching.checking import check
from rsdesign.teaching.hints import expert_path, hints
from rsdesign.teaching.variants import learner_key, problem

KEY = "an invented class key"
TOPICS = ("startup", "season", "day", "log", "tuning", "odds", "choice")
ALL = [e for e in bank().values() if e.topic in TOPICS]
HARDEST = 8.0
"""School years that an exercise may ask for."""


def own(name, learner="A1"):
    return problem(exercise(name), learner, learner_key(KEY, learner))


def at(name: str, *texts: str):
    """The case with these numbers as typed, in the order of the draws; the rest are single."""
    e = exercise(name)
    given = iter(texts)
    return case(
        e, index_of(e, {d.name: d.texts[0] if len(d.texts) == 1 else next(given) for d in e.draws})
    )


def shown(found, name: str) -> float:
    """A key in the unit in which it is asked."""
    ask = found.exercise.ask(name)
    return from_plain(found.truth[name], ask.kind.unit(ask.unit))


GAL, LB = 3.785412e-3, 0.4535924
"""US gallon in m³, pound in kg."""
N, NO2, NH4, NH4CL, CL, NACL = 14.007, 46.005, 18.039, 53.491, 35.453, 58.443
"""Masses, IUPAC."""


def root(grams: float) -> float:
    return grams ** (1 / 3)


def test_the_keys_of_a_start_by_hand():
    found = at("startup-kit", "800 gal", "2.5 mg/L", "9 mg/L")
    nitrogen = 2.5 * N / NH4 + 9 * N / NO2
    assert shown(found, "ammonium") == pytest.approx(2.5 * N / NH4, rel=1e-6)
    assert shown(found, "nitrite") == pytest.approx(9 * N / NO2, rel=1e-6)
    assert shown(found, "left") == pytest.approx(nitrogen * 800 * GAL, rel=1e-6)

    found = at("startup-dose", "3 mg/L", "900 gal")
    assert shown(found, "salt") == pytest.approx(3 * 900 * GAL * NH4CL / N, rel=1e-5)

    for source, factor in (("ammonium chloride", 7.145), ("ammonia water", 3.573)):
        found = at("startup-base", source, "700 gal", "26 mg/L")
        assert shown(found, "eaten") == pytest.approx(factor * 26, rel=1e-3)
        soda = factor * 26 * 700 * GAL * 1.679 / 1000 / LB
        assert shown(found, "soda") == pytest.approx(soda, rel=1e-3)

    found = at("startup-salt", "1000 gal", "2 mg/L", "18 mg/L", "10")
    chloride = 10 * 2 * NO2 / N
    assert shown(found, "needed") == pytest.approx(chloride, rel=1e-5)
    salt = (chloride - 18) * 1000 * GAL * NACL / CL / 1000 / LB
    assert shown(found, "salt") == pytest.approx(salt, rel=1e-5)

    found = at("startup-feed", "4.5 mg/(L day)", "1.8 mg/(L day)", "1000 gal", "6 lb/day", "36 %")
    nitrogen = 1.8 * 1000 * GAL
    assert shown(found, "nitrogen") == pytest.approx(nitrogen, rel=1e-6)
    assert shown(found, "feed") == pytest.approx(nitrogen / (0.36 * 0.092) / 1000 / LB, rel=1e-5)

    found = at("startup-mistake", "4 mg/(L day)", "1100 gal", "75 %", "6 lb/day", "34 %")
    share = 4 * 1100 * GAL * 0.75 / (6 * LB * 1000 * 0.34 * 0.092)
    assert shown(found, "feed") == pytest.approx(6 * share, rel=1e-5)


def test_the_days_of_a_start_by_hand():
    found = at("startup-plan", "5 mg/(L day)", "0.001 mg/L", "0.5", "0.9")
    for name, growth in (("early", 0.9), ("late", 0.5)):
        days = log(5 * 0.15 / (growth * 0.001)) / (growth - 0.17)
        assert shown(found, name) == pytest.approx(days, rel=1e-6)

    found = at("startup-rank", "20 °C", "3 mg/(L day)", "0.002 mg/L", "20")
    seeds = [0.002, 0.002, 0.040, 0.002]
    for option, load, seed, rise in zip(
        found.options, [3, 30, 3, 3], seeds, [0, 0, 0, 3], strict=True
    ):
        growth, decay = 0.9 * 1.072**rise, 0.17 * 1.029**rise
        days = log(load * 0.15 / (growth * seed)) / (growth - decay)
        assert option["peak"] == pytest.approx(days, rel=1e-6)


def test_the_keys_of_a_season_by_hand():
    found = at("season-degree-days", "40 g", "120 days", "27 °C", "2.4")
    assert shown(found, "warmth") == pytest.approx(8.7 * 120, rel=1e-6)
    assert shown(found, "later") == pytest.approx((root(40) + 0.0024 * 1044) ** 3, rel=1e-6)

    found = at("season-band", "30 g", "1 lb", "28 °C", "1.96", "2.8")
    for name, coefficient in (("early", 2.8), ("late", 1.96)):
        days = 1000 * (root(1000 * LB) - root(30)) / (coefficient * 9.7)
        assert shown(found, name) == pytest.approx(days, rel=1e-6)

    found = at("season-heat", "34 °C", "23 °C", "30 °C", "110 g", "80 days")
    assert shown(found, "mean") == pytest.approx((30 + 23) / 2)
    later = (root(110) + 0.0024 * (26.5 - 18.3) * 80) ** 3
    assert shown(found, "later") == pytest.approx(later, rel=1e-6)

    found = at("season-stock", "25 g", "190 g", "26.5 °C", "26 °C")
    grown = [(root(25) + 0.0024 * (t - 18.3) * days) ** 3
             for t, days in ((27.5, 240), (27, 180), (26.5, 150), (26, 120), (24, 75), (21, 20))]  # fmt: skip
    assert [1000 * option["later"] for option in found.options] == pytest.approx(grown)
    last = max(place for place, weight in enumerate(grown) if weight > 190)
    assert found.value(found.exercise.ask("date")) == last

    found = at("season-harvest", "4 per lb", "0.8 per lb", "8.4", "5.3 lb", "4.1 lb", "3.3 lb")
    assert found.truth["worth"] == pytest.approx(6.5 * 4 - 9.1 * 0.8 - 8.4)
    gains, feeds = (6.5, 5.8, 5.3, 4.1, 3.3, 2.4), (9.1, 9.3, 9.5, 9.7, 9.8, 9.9)
    worth = [g * 4 - f * 0.8 - 8.4 for g, f in zip(gains, feeds, strict=True)]
    assert [option["worth"] for option in found.options] == pytest.approx(worth)


def test_the_keys_of_a_log_by_hand():
    found = at("log-kit", "900 gal", "40 mg/L", "160 mg/L")
    rise = 120 * N / (N + 3 * 15.999)
    assert shown(found, "rise") == pytest.approx(rise, rel=1e-4)
    assert shown(found, "made") == pytest.approx(rise * 900 * GAL, rel=1e-4)

    found = at("log-missing", "0.5 mg/L", "1.1 mg/L", "0.9 mg/L", "1.6 mg/L", "1.9 mg/L")
    assert shown(found, "mean") == pytest.approx((0.5 + 1.1 + 0.9 + 1.6 + 1.9) / 5)

    found = at("log-colour", "0.5 mg/L", "1 mg/L", "2 mg/L", "81 °F", "7.8")
    assert (shown(found, "low"), shown(found, "high")) == pytest.approx((0.75, 1.5))
    pka = 0.09018 + 2729.92 / ((81 - 32) / 1.8 + 273.2)
    assert shown(found, "worst") == pytest.approx(1.5 / (1 + 10 ** (pka - 7.8)), rel=1e-6)

    found = at("log-one-reading", "1000 gal", "10", "4 mg/L")
    salt = 10 * 4 * NO2 / N * 1000 * GAL * NACL / CL / 1000 / LB
    assert shown(found, "salt") == pytest.approx(salt, rel=1e-5)
    assert found.value(found.exercise.ask("line")) == 3


def test_a_colour_taken_for_a_number_says_too_little():
    for index in sound("log-colour"):
        wrong, right = value("log-colour", "a digit more than the kit has", index)
        assert wrong < 0.8 * right


SLIPS = {
    ("log-kit", "rise"): ("ion for its nitrogen", 62.004 / 14.007),
    ("log-missing", "mean"): ("missing taken as zero", 5 / 7),
    ("log-one-reading", "salt"): ("nitrogen taken for the ion", 1 / 3.2844),
    ("startup-kit", "nitrite"): ("nitrite ion for its nitrogen", 3.2844),
    ("startup-kit", "ammonium"): ("ammonium ion for its nitrogen", 1.2879),
    ("startup-salt", "needed"): ("nitrogen taken for the ion", 1 / 3.2844),
    ("startup-salt", "salt"): ("chloride for salt", 1 / 1.6485),
    ("startup-base", "soda"): ("alkalinity for baking soda", 1 / 1.6788),
}
"""Slips that are off by a known factor."""


@pytest.mark.parametrize(("where", "slip"), SLIPS.items(), ids=lambda x: x[0])
def test_a_slip_of_the_trade_is_off_by_its_factor_and_is_named(where, slip):
    (name, ask), (called, factor) = where, slip
    found = own(name)
    key = shown(found.case, ask)
    unit = exercise(name).ask(ask).unit
    told = check(found, {ask: f"{key * factor:.6g} {unit}"})
    one = next(c for c in told.checked if c.ask == ask)
    assert not one.right
    assert one.mistake == called


def value(name: str, called: str, index: int) -> tuple[float, float]:
    """What a slip gives and what is right, in one case."""
    e = exercise(name)
    slip = next(s for s in e.misconceptions if s.name == called)
    found = case(e, index)
    return misconception_value(found, slip), found.truth[slip.ask]


def sound(name: str):
    e = exercise(name)
    return [i for i in range(e.combinations) if not fault(e, i)]


def test_the_factor_of_the_other_source_doubles_or_halves():
    for index in sound("startup-base"):
        found = case(exercise("startup-base"), index)
        wrong, right = value("startup-base", "factor of the other source", index)
        other = 0.5 if found.typed["source"] == "ammonium chloride" else 2.0
        assert wrong / right == pytest.approx(other)


def test_full_feed_on_a_filter_ripe_for_doses_is_far_too_much():
    for index in sound("startup-feed"):
        wrong, right = value("startup-feed", "full feed on a filter ripe for doses", index)
        assert wrong > 4 * right


def test_a_plan_that_starts_with_the_full_feed_has_its_wrong_line_named():
    e = exercise("startup-mistake")
    found = next(
        p for n in range(40) if (p := own(e.id, f"L{n}")).answer(e.ask("line")) == "D"
    )  # fmt: skip
    assert "the full" in found.lines[3]
    told = check(found, {"line": "D"}).checked[0]
    assert told.right
    assert "not ripe for the full feed" in told.words


@pytest.mark.parametrize("name", ["startup-plan", "season-band"])
def test_one_date_for_a_band_comes_too_soon(name):
    for index in sound(name):
        for called in ("early end for the band", "middle for the band"):
            wrong, right = value(name, called, index)
            assert wrong < 0.9 * right, "who plans with it is caught out"


def test_degrees_from_zero_grow_far_too_much():
    for index in sound("season-degree-days"):
        wrong, right = value("season-degree-days", "counted from 0 °C all the way", index)
        assert wrong > 3 * right
        wrong, right = value("season-degree-days", "counted from 0 °C", index)
        assert wrong > 2 * right


def test_a_season_ends_later_by_degrees_from_zero():
    """The date that is wrong is a later one: it would lose the crop."""
    for index in sound("season-stock"):
        wrong, right = value_of_letter("season-stock", index)
        assert wrong > right


def value_of_letter(name: str, index: int) -> tuple[int, int]:
    e = exercise(name)
    found = case(e, index)
    return misconception_value(found, e.misconceptions[0]), found.value(e.asks[0])


@pytest.mark.parametrize("text", ["{} K·day", "{} °C·day", "{} °C days"])
def test_degree_days_are_read_as_people_write_them(text):
    found = own("season-degree-days")
    right = shown(found.case, "warmth")
    (first, *_) = check(found, {"warmth": text.format(f"{right:.6g}")}).checked
    assert first.right, first.words


def test_the_cautions_stand_beside_the_steps():
    for name in ("startup-dose", "startup-base"):
        text = exercise(name).caution
        for word in ("gloves", "eye protection", "bleach"):
            assert word in text, name
    assert "test" in exercise("startup-salt").caution
    assert "stop feeding" in exercise("startup-salt").caution
    for name in ("startup-plan", "startup-feed", "startup-mistake", "season-stock"):
        assert "ripe" in exercise(name).caution or "near zero" in exercise(name).caution
    for name in ("season-band", "season-stock"):
        assert "permit" in exercise(name).caution
        assert "Never release fish" in exercise(name).caution


def test_there_are_enough_and_of_several_forms():
    assert len(find(topic="startup")) >= 5
    assert len(find(topic="season")) >= 3
    assert len(find(topic="log")) >= 4
    assert len({e.form for e in ALL}) >= 5


@pytest.mark.parametrize("e", ALL, ids=lambda e: e.id)
def test_an_exercise_on_time_can_be_read_after_eight_years_of_school(e):
    for learner in ("A1", "B2", "C3"):
        found = own(e.id, learner)
        asked = [found.text, e.caution, *(found.ask_text(a) for a in e.asks)]
        helped = [*hints(found), e.expert, *(s.words for s in e.misconceptions)]
        assert grade(" ".join(asked)) <= HARDEST
        assert grade(" ".join(asked + helped)) <= HARDEST


@pytest.mark.parametrize("e", ALL, ids=lambda e: e.id)
def test_the_way_to_an_answer_doubles_no_unit(e):
    found = own(e.id)
    text = " ".join([*hints(found), *expert_path(found)])
    for twice in ("day day", "day days", "days day", "g g", "lb lb", "mg/L mg/L"):
        assert f" {twice} " not in text, twice
