"""Weather tables: the invented places, a user's own file, and one sentence for each thing wrong."""

import random

import numpy as np
import pytest

from rsdesign.__main__ import main
from rsdesign.core import tables
from rsdesign.core.choices import DesignError
from rsdesign.design.weather import place, read_weather

FOLDER = tables.data_folder() / "climate"
GOOD = (FOLDER / "low_desert.csv").read_text(encoding="utf-8")
FAMILY = str(tables.data_folder() / "designs" / "family.toml")


def written(tmp_path, text, name="mine.csv", encoding="utf-8"):
    path = tmp_path / name
    path.write_bytes(text.encode(encoding))
    return path


def refused(tmp_path, text) -> str:
    with pytest.raises(DesignError) as wrong:
        read_weather(written(tmp_path, text))
    words = str(wrong.value)
    assert "\n" not in words
    assert len(words) < 400
    return words


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.csv")), ids=lambda p: p.stem)
def test_every_place_is_marked_invented_and_plausible(path):
    weather = place(path.stem)
    assert weather.invented
    assert "(invented)" in weather.name
    assert path.read_text(encoding="utf-8").startswith("# An invented place")
    assert weather.doubts == ()
    assert np.all(weather.sun < weather.clear)
    assert np.all(weather.sun > 0.5 * weather.clear)
    assert np.all(weather.air_min < weather.air_mean)
    assert np.all(weather.air_mean < weather.air_max)


def test_a_users_table_in_their_own_units(tmp_path):
    """°F, mph, percent, MJ; units in the header; spreadsheet commas after the notes; south."""
    lines = ['"# latitude: 33 S",,,,,,', "# elevation: 1083 ft,,,,,,", "# name: Ours,,,,,,", ""]
    lines.append("Month,air_mean (°F),air_max (°F),air_min (°F),humidity (%),wind (mph),"
                 "radiation (MJ/(m² day))")  # fmt: skip
    weather = place("low desert")
    for m in range(12):
        j = (m + 6) % 12
        cells = [weather.air_mean[j], weather.air_max[j], weather.air_min[j]]
        cells = [f"{c * 1.8 + 32:.6f}" for c in cells]
        rest = [weather.humidity[j] * 100, weather.wind[j] / 0.44704, weather.sun[j] * 0.0864]
        lines.append(",".join([str(m + 1), *cells, *(f"{c:.6f}" for c in rest)]))
    text = "\ufeff" + "\r\n".join(lines) + "\r\n"
    found = read_weather(written(tmp_path, text))
    turned = (np.arange(12) + 6) % 12
    assert found.name == "Ours"
    assert not found.invented
    assert found.latitude == pytest.approx(-np.radians(33))
    assert found.elevation == pytest.approx(330, abs=0.2)
    assert found.air_mean == pytest.approx(weather.air_mean[turned], abs=1e-5)
    assert found.wind == pytest.approx(weather.wind[turned], rel=1e-5)
    assert found.sun == pytest.approx(weather.sun[turned], rel=1e-5)
    assert found.clear == pytest.approx(weather.clear[turned], rel=0.12)


def test_semicolons_month_names_and_sunshine_hours(tmp_path):
    """Sunshine as hours of bright sun gives radiation by Ångström's relation."""
    months = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "Aug",
        "Sep",
        "Oct",
        "Nov",
        "Dec",
    ]
    lines = ["# latitude: 33 deg", "# elevation: 300 m", "# wind_height: 10 m",
             "# unit humidity: %", "# unit wind: m/s", "# unit sunshine: h",
             "month;air_mean (°C);air_max (°C);air_min (°C);humidity;wind;sunshine"]  # fmt: skip
    lines += [f"{m};20;28;12;40;3.2;9" for m in months]
    found = read_weather(written(tmp_path, "\n".join(lines)))
    assert found.wind == pytest.approx(np.full(12, 2.4), rel=0.01)  # FAO-56 example 14
    assert np.all(found.sun < found.clear)
    assert found.sun[5] > found.sun[11]


@pytest.mark.parametrize(("old", "new", "words"), [
    ("# latitude: 33.0 deg\n", "", "latitude"),
    ("# elevation: 330 m\n", "", "# elevation: 330 m"),
    ("33.0 deg", "33.0", "33.0 deg"),
    ("33.0 deg", "88 deg", "-66 to 66 deg"),
    ("330 m", "33000 m", "elevation"),
    ("330 m", "high", "elevation"),
    ("# unit wind: m/s\n", "", "# unit wind: m/s"),
    ("# unit wind: m/s", "# unit wind: furlongs", "is not a unit of wind"),
    ("humidity,wind", "humidty,wind", "Did you mean humidity"),
    ("humidity,wind", "humidity,humidity", "no column wind"),
    (",radiation\n", "\n", "radiation (or sunshine)"),
    ("\n7,34.4,", "\n7,,", "July, air_mean"),
    ("\n7,34.4,", "\n7,hot,", "write one number"),
    ("\n7,34.4,", '\n7,"34,4",', "a point for decimals"),
    ("\n7,34.4,", "\n7,94,", "look at the unit"),
    ("\n7,34.4,42.3", "\n7,34.4,20", "below the mean air"),
    ("\n7,34.4,42.3,26.7", "\n7,34.4,42.3,39", "above the mean air"),
    ("26.7,31,", "26.7,131,", "humidity"),
    ("26.7,31,", "26.7,-3,", "humidity"),
    ("31,2.6,7.4", "31,2.6,10", "more than can be"),
    ("31,2.6,7.4", "31,2.6,26.6", "look at the unit"),
    ("31,2.6,7.4", "31,2.6,0.4", "darker than any month"),
    ("31,2.6,7.4", "31,260,7.4", "wind"),
    ("31,2.6,7.4", "31,2.6,nan", "radiation"),
    ("\n7,", "\n8,", "August twice"),
    ("\n7,", "\n13,", "month '13'"),
    ("\n7,34.4", "\n# 7,34.4", "no July"),
])  # fmt: skip
def test_one_thing_wrong_is_one_sentence(tmp_path, old, new, words):
    assert old in GOOD
    assert words in refused(tmp_path, GOOD.replace(old, new, 1))


def test_brighter_than_the_sky_by_a_little_is_doubted(tmp_path):
    july = place("low desert").clear[6] * 0.024 * 1.05
    text = GOOD.replace("31,2.6,7.4", f"31,2.6,{july:.2f}", 1)
    found = read_weather(written(tmp_path, text))
    assert len(found.doubts) == 1
    assert "July" in found.doubts[0]


def test_sunshine_longer_than_the_day_is_refused(tmp_path):
    text = GOOD.replace(",radiation\n", ",sunshine\n").replace(
        "# unit radiation: kWh/(m² day)", "# unit sunshine: h"
    )
    text = text.replace("31,2.6,7.4", "31,2.6,15", 1)
    assert "from sunrise to sunset" in refused(tmp_path, text)


def test_files_that_are_no_tables(tmp_path):
    assert "is not there" in _sentence(tmp_path / "none.csv")
    assert "is a folder" in _sentence(tmp_path)
    assert "UTF-8" in _sentence(written(tmp_path, GOOD, "utf16.csv", "utf-16"))
    assert "larger" in _sentence(written(tmp_path, GOOD + "#" * 300_000, "big.csv"))
    assert "latitude" in _sentence(written(tmp_path, "", "empty.csv"))
    notes = "# latitude: 33 deg\n# elevation: 3 m\n"
    assert "holds no table" in _sentence(written(tmp_path, notes, "notes.csv"))


def _sentence(path) -> str:
    with pytest.raises(DesignError) as wrong:
        read_weather(path)
    assert "\n" not in str(wrong.value)
    return str(wrong.value)


def test_a_thousand_spoiled_tables_end_in_a_sentence_or_an_answer(tmp_path):
    rng = random.Random(5)
    letters = "0123456789,;-.#:°/ eENSdm\t\"'()\n"
    read, sentences = 0, []
    for _ in range(1000):
        text = list(GOOD)
        for _ in range(rng.randint(1, 6)):
            at = rng.randrange(len(text))
            text[at : at + rng.randint(0, 4)] = rng.choice(letters) * rng.randint(0, 3)
        path = written(tmp_path, "".join(text))
        try:
            weather = read_weather(path)
            assert np.isfinite(weather.sun).all()
            read += 1
        except DesignError as wrong:
            sentences.append(str(wrong))
    assert not [words for words in sentences if "\n" in words or len(words) > 500]
    assert 0 < read < 1000


def test_the_command_takes_a_table_and_refuses_in_one_line(tmp_path, capsys):
    good = written(tmp_path, GOOD.replace("(invented)", "").replace("# basis: invented\n", ""))
    assert main(["heat", FAMILY, "--climate", str(good)]) == 0
    assert "is invented" not in capsys.readouterr().out
    bad = written(tmp_path, GOOD.replace("34.4,", "94.4,"), "bad.csv")
    assert main(["heat", FAMILY, "--climate", str(bad)]) == 2
    shown = capsys.readouterr()
    assert shown.err.count("\n") == 1
    assert "July" in shown.err
    assert main(["heat", FAMILY, "--climate", str(tmp_path / "no.csv")]) == 2


def test_a_place_that_is_not_there_is_named():
    with pytest.raises(DesignError, match="Did you mean low desert"):
        place("low dessert")
