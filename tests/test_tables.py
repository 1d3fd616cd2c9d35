"""Every table in data/: read by one row class, every row with its source, sizes in order."""

from dataclasses import fields

import numpy as np
import pytest
from table_rows import ROW_CLASSES

from rsdesign.core import tables
from rsdesign.core.kinds import Kind
from rsdesign.core.tables import TableError
from rsdesign.design.model import FIELDS
from rsdesign.equations.air import devices as air_devices
from rsdesign.equations.fish.species import rations
from rsdesign.equations.pipes import tables as plumbing_tables

FILES = sorted(path.stem for path in tables.data_folder().glob("*.csv"))


def test_every_table_has_a_row_class():
    assert set(FILES) == set(ROW_CLASSES)


@pytest.mark.parametrize("name", FILES)
def test_every_row_says_where_it_comes_from(name):
    rows = tables.read(name, ROW_CLASSES[name])
    assert rows
    if name == "symbols":
        names = [row.name for row in rows]
        assert len(set(names)) == len(names)
        assert all(row.symbol and row.words for row in rows)
        return
    if name == "choices":  # what a user tells: where it is read, or who says its default
        assert [row.path for row in rows] == list(FIELDS)
        assert all(row.label and row.source for row in rows)
        return
    if name == "glossary":  # words, no numbers: see test_docs
        return
    for row in rows:
        assert row.source, row
        assert row.place, row
        assert row.range, row
        assert row.basis in tables.BASES, row


def test_every_cell_of_the_species_table_has_its_source():
    described = {
        (r.name, r.column) for r in tables.read("species_sources", ROW_CLASSES["species_sources"])
    }
    own = {"name", "label", "source", "place", "basis", "range"}
    columns = {f.name for f in fields(ROW_CLASSES["species"])} - own
    rows = tables.read("species", ROW_CLASSES["species"])
    assert described == {(row.name, column) for row in rows for column in columns}


def test_species_are_in_order():
    for row in tables.read("species", ROW_CLASSES["species"]):
        assert row.lethal_low < row.feeding_low < row.best_low < row.best_high
        assert row.best_high <= row.feeding_high < row.lethal_high
        assert row.base_temperature < row.top_temperature <= row.best_high + 2
        assert row.density_air < row.density_oxygen
        sizes, rates = rations(row.ration_table)
        assert (np.diff(sizes) > 0).all()
        assert (np.diff(rates) <= 0).all()


def test_grain_classes_make_a_whole():
    assert sum(g.share for g in tables.read("grains", ROW_CLASSES["grains"])) == pytest.approx(1.0)


def test_air_machines_give_less_against_more_pressure():
    for row in tables.read("air_devices", ROW_CLASSES["air_devices"]):
        pressures, flows = air_devices.curve(row.name)
        assert (np.diff(pressures) > 0).all()
        assert (np.diff(flows) < 0).all()


def test_the_machine_chosen_draws_least():
    """By brute force over every machine and count up to four, of one kind and of all."""
    rng = np.random.default_rng(1)
    kinds = {row.name: row for row in tables.read("air_types", ROW_CLASSES["air_types"])}
    for turn in range(120):
        flow, gauge, thin = rng.uniform(1e-4, 0.1), rng.uniform(2e3, 4e4), rng.uniform(0.7, 1.0)
        told = "regenerative" if turn % 2 else None
        cost = []
        for row in air_devices.devices(told):
            kind = kinds[row.type]
            reading = gauge / thin if kind.by_density else gauge
            pressures, flows = air_devices.curve(row.name)
            suits = told or kind.pressure_low <= gauge <= kind.pressure_high
            each = float(np.interp(reading, pressures, flows)) * thin
            if not suits or air_devices.ROOM * reading > pressures[-1]:
                each = 0.0
            count = np.ceil(flow / each - 1e-9) if each > 0 else np.inf
            cost.append(count * row.plate_watts if count <= 4 else np.inf)
        taken = air_devices.choose(flow, gauge, thin, told)  # the mean day asks for as much
        if np.isfinite(min(cost)):
            assert taken.plate_watts * taken.count == min(cost)
        many = air_devices.choose(np.full(3, flow), gauge, thin, told)
        assert (many.name == taken.name).all()
        assert many.each == pytest.approx(np.full(3, taken.each), rel=1e-12)


def test_the_pump_chosen_gives_the_flow():
    flow, head = np.array([0.0005, 0.003, 0.01]), np.array([1.0, 2.5, 3.0])
    for f, h, best in zip(flow, head, plumbing_tables.choose_pump(flow, head), strict=True):
        row = plumbing_tables.pumps()[best]
        each = row.free_flow * np.sqrt(1 - h / row.shutoff_head)
        assert np.ceil(f / each) <= 4
        assert best == plumbing_tables.choose_pump(float(f), float(h))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name,label\n", "columns missing"),
        (
            "# unit loss: furlong\nname,label,loss,source,place,basis,range\na,b,1,c,d,seen,e\n",
            "furlong",
        ),
        (
            "# unit loss:\nname,label,loss,source,place,basis,range\na,b,x,c,d,seen,e\n",
            "row 2, column loss",
        ),
        ("# unit loss:\nname,label,loss,source,place,basis,range\na,b,nan,c,d,seen,e\n", "finite"),
    ],
)
def test_a_broken_table_is_named(tmp_path, text, words):
    path = tmp_path / "fittings.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(TableError, match=words):
        tables.read_file(path, plumbing_tables.Fitting)


def test_kinds_of_columns_are_kinds():
    assert isinstance(plumbing_tables.Fitting.__annotations__["loss"].__metadata__[0], Kind)
