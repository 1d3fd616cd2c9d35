"""Write data/published/libraries.csv: check values computed by general-purpose libraries.

Run with the ``reference`` extra installed: ``python tests/reference/make_libraries.py``.  The
values come from those libraries alone; nothing of this package is called.
"""

import csv
import json
from importlib.metadata import version
from pathlib import Path

FIELDS = (
    "id",
    "function",
    "arguments",
    "value",
    "tolerance",
    "printed",
    "source",
    "place",
    "basis",
    "note",
)
OUT = Path(__file__).resolve().parents[2] / "data" / "published" / "libraries.csv"


def _plain(value):
    """Numbers as floats, also inside a list; a rate law (a dictionary) and yes or no as they are."""
    if isinstance(value, (dict, bool)):
        return value
    if isinstance(value, (list, tuple)):
        return [float(v) for v in value]
    return float(value)


class Rows:
    """Collects rows; each says which library and which call gave the value."""

    def __init__(self):
        self.rows = []

    def add(self, library, call, function, arguments, value, tolerance, unit, note=""):
        arguments = {k: _plain(v) for k, v in arguments.items()}
        name = function.rsplit(".", 1)[1]
        self.rows.append(
            {
                "id": f"library-{name}-{len(self.rows) + 1}",
                "function": function,
                "arguments": json.dumps(arguments),
                "value": repr(float(value)),
                "tolerance": tolerance,
                "printed": f"{float(value):.6g} {unit}",
                "source": f"{library} {version(library)}",
                "place": call,
                "basis": "computed",
                "note": note,
            }
        )


def oxygen(rows: Rows) -> None:
    """Oxygen saturation by the gsw library, converted with its own density."""
    import gsw

    for salinity in (0.0, 5.0):
        for t in (5, 10, 15, 18, 20, 22, 24, 26, 28, 30, 32, 34, 36):
            per_kg = gsw.O2sol_SP_pt(salinity, t)
            density = gsw.rho_t_exact(gsw.SA_from_SP(salinity, 0, 0, 0), t, 0)
            rows.add(
                "gsw",
                f"O2sol_SP_pt({salinity}, {t}) × density × 31.9988",
                "water.oxygen.saturation",
                {"temperature": t, "salinity": salinity},
                per_kg * density * 31.9988e-9,
                "0.002",
                "kg/m³",
                "another fit of the same measurements, Garcia and Gordon 1992",
            )


def water(rows: Rows) -> None:
    """Density and viscosity by IAPWS-95, vapour pressure by IAPWS-97."""
    from iapws import IAPWS95, IAPWS97

    for t in (5, 10, 15, 20, 25, 28, 30, 32, 35, 40):
        state = IAPWS95(T=t + 273.15, P=0.101325)
        rows.add(
            "iapws",
            f"IAPWS95(T={t}+273.15, P=0.101325).rho",
            "water.properties.density",
            {"temperature": t},
            state.rho,
            "2e-05",
            "kg/m³",
        )
        rows.add(
            "iapws",
            f"IAPWS95(T={t}+273.15, P=0.101325).mu",
            "water.properties.viscosity",
            {"temperature": t},
            state.mu,
            "0.001",
            "Pa·s",
        )
        rows.add(
            "iapws",
            f"IAPWS95(T={t}+273.15, P=0.101325).nu",
            "water.properties.kinematic_viscosity",
            {"temperature": t},
            state.nu,
            "0.001",
            "m²/s",
        )
        if t >= 10:
            rows.add(
                "iapws",
                f"IAPWS97(T={t}+273.15, x=0).P",
                "water.properties.vapour_pressure",
                {"temperature": t},
                IAPWS97(T=t + 273.15, x=0).P * 1e6,
                "0.0012",
                "Pa",
                "the FAO form claims 0.11 % from 10 to 40 °C",
            )


def atmosphere_and_pipes(rows: Rows) -> None:
    """Standard atmosphere, friction factors and settling by the fluids library."""
    import fluids

    for z in (0, 200, 457.2, 800, 1200, 1600, 2200, 3000):
        rows.add(
            "fluids",
            f"ATMOSPHERE_1976({z}).P",
            "water.properties.pressure_at_elevation",
            {"elevation": z},
            fluids.ATMOSPHERE_1976(z).P,
            "0.0005",
            "Pa",
            "heights there are geometric, ours geopotential: 0.03 % apart at 3 km",
        )
    for re in (4.1e3, 1e4, 3e4, 1e5, 5e5, 1e6):
        for rough in (0.0, 1e-4, 1e-3, 1e-2):
            rows.add(
                "fluids",
                f"friction.Colebrook({re:g}, {rough:g})",
                "pipes.pipes.friction_factor",
                {"reynolds": re, "relative_roughness": rough},
                fluids.friction.Colebrook(re, rough),
                "1e-06",
                "-",
            )
    for re in (100, 800, 1900):
        rows.add(
            "fluids",
            f"friction.friction_laminar({re})",
            "pipes.pipes.friction_factor",
            {"reynolds": re, "relative_roughness": 0.0},
            fluids.friction.friction_laminar(re),
            "1e-09",
            "-",
        )
    for p2 in (105000, 110000, 121325, 151325):
        work = fluids.isentropic_work_compression(T1=308.15, k=1.395, P1=101325.0, P2=p2, eta=1.0)
        rows.add(
            "fluids",
            f"isentropic_work_compression(T1=308.15, k=1.395, P2={p2})",
            "air.aeration.blower_power",
            {
                "air_mass_flow": 1.0,
                "inlet_temperature": 35.0,
                "inlet_pressure": 101325.0,
                "outlet_pressure": p2,
                "efficiency": 1.0,
            },
            work / 28.9647e-3,
            "0.001",
            "W",
            "exponent (k-1)/k is 0.2832 there and 0.283 here",
        )


def carbonate(rows: Rows) -> None:
    """Carbon dioxide from alkalinity and pH by PyCO2SYS, fresh water."""
    import PyCO2SYS as pyco2  # noqa: N813

    for alkalinity, ph, t in (
        (60, 6.5, 24),
        (60, 7.0, 28),
        (100, 7.2, 26),
        (100, 7.6, 30),
        (150, 7.4, 22),
        (200, 7.8, 28),
        (250, 7.5, 30),
    ):
        found = pyco2.sys(
            par1=alkalinity / 50.0435 * 1000.0,
            par2=ph,
            par1_type=1,
            par2_type=3,
            salinity=0,
            temperature=t,
            opt_k_carbonic=8,
            opt_pH_scale=1,
        )
        rows.add(
            "PyCO2SYS",
            f"sys({alkalinity} mg/L CaCO3, pH {ph}, {t} °C)['aqueous_CO2']",
            "water.carbonate.carbon_dioxide",
            {"alkalinity": alkalinity * 1e-3, "ph": ph, "temperature": t},
            found["aqueous_CO2"] * 44.0095e-6,
            "0.01",
            "kg/m³",
            "fresh-water constants of Millero 1979 there, Harned and Davis 1943 here",
        )


def moist_air(rows: Rows) -> None:
    """Saturation pressure, humidity ratio and wet bulb by psychrolib, the ASHRAE relations."""
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    for t in (10, 18, 20, 24, 28, 30, 32, 40):
        rows.add(
            "psychrolib",
            f"GetSatVapPres({t})",
            "water.properties.vapour_pressure",
            {"temperature": t},
            psychrolib.GetSatVapPres(float(t)),
            "0.0012",
            "Pa",
            "the FAO form claims 0.11 % from 10 to 40 °C",
        )
    for vapour, pressure in ((800, 101325), (1500, 95950), (3169.7, 89875), (4246, 84000)):
        rows.add(
            "psychrolib",
            f"GetHumRatioFromVapPres({vapour}, {pressure})",
            "heat.sky.humidity_ratio",
            {"vapour_pressure": vapour, "pressure": pressure},
            psychrolib.GetHumRatioFromVapPres(float(vapour), float(pressure)),
            "1e-06",
            "-",
        )
    for t, humidity, pressure in (
        (43, 0.15, 101325),
        (40, 0.15, 101325),
        (40, 0.15, 95950),
        (35, 0.3, 101325),
        (30, 0.5, 84000),
        (20, 0.6, 101325),
        (10, 0.9, 101325),
    ):
        rows.add(
            "psychrolib",
            f"GetTWetBulbFromRelHum({t}, {humidity}, {pressure})",
            "heat.sky.wet_bulb",
            {
                "air_temperature": t,
                "vapour_pressure": humidity * psychrolib.GetSatVapPres(float(t)),
                "pressure": pressure,
            },
            psychrolib.GetTWetBulbFromRelHum(float(t), humidity, float(pressure)),
            "abs 0.02",
            "°C",
            "saturation pressures up to 0.11 % apart move a wet bulb by up to 0.02 °C",
        )


def sunshine(rows: Rows) -> None:
    """Clear sky at a moment, and sunshine above the air, by pvlib."""
    import numpy as np
    import pandas as pd
    import pvlib

    for height in (5, 10, 20, 30, 45, 60, 75, 90):
        zenith = pd.Series([90.0 - height])
        rows.add(
            "pvlib",
            f"clearsky.haurwitz({90.0 - height})",
            "heat.sun.clear_sun",
            {"sun_height": np.sin(np.radians(height))},
            pvlib.clearsky.haurwitz(zenith)["ghi"].iloc[0],
            "1e-06",
            "W/m²",
        )
    for day in (17, 105, 172, 246, 344):
        rows.add(
            "pvlib",
            f"irradiance.get_extra_radiation({day}, solar_constant=1, method='spencer')",
            "heat.sun.sun_distance",
            {"day": day},
            pvlib.irradiance.get_extra_radiation(day, solar_constant=1.0, method="spencer"),
            "0.003",
            "-",
            "a longer series there; FAO-56 keeps its first term",
        )
        rows.add(
            "pvlib",
            f"solarposition.declination_spencer71({day})",
            "heat.sun.declination",
            {"day": day},
            pvlib.solarposition.declination_spencer71(day),
            "abs 0.02",
            "rad",
            "a longer series there; FAO-56 keeps its first term",
        )
    for latitude, day in ((33.45, 172), (33.45, 344), (-20, 246), (10, 80), (45, 200)):
        times = pd.date_range("2023-01-01", periods=1440, freq="1min", tz="UTC")
        times = times + pd.Timedelta(days=day - 1)
        zenith = pvlib.solarposition.get_solarposition(times, latitude, 0.0)["zenith"]
        extra = pvlib.irradiance.get_extra_radiation(times, method="nrel")
        level = (extra * np.cos(np.radians(zenith))).clip(lower=0.0).mean()
        rows.add(
            "pvlib",
            f"mean of get_extra_radiation × cos(zenith), minute by minute, {latitude} deg, day {day}",
            "heat.sun.above_the_air",
            {"latitude": np.radians(latitude), "day": day},
            level,
            "0.012",
            "W/m²",
            "solar constant 1361 there and 1367 here, and a simpler declination here",
        )


def bottles(rows: Rows) -> None:
    """The volume by which bottled oxygen is sold, by a real gas."""
    from CoolProp.CoolProp import PropsSI

    rows.add(
        "CoolProp",
        "1 / PropsSI('D', 'T', 293.15, 'P', 101325, 'Oxygen')",
        "power.standby.oxygen_volume",
        {"mass": 1},
        1 / PropsSI("D", "T", 293.15, "P", 101325, "Oxygen"),
        "0.0004",
        "m³",
        "the formula's 1.331 kg/m³ has four figures",
    )


def write(rows: Rows, path: Path, heading: str) -> None:
    """The rows as a table of published values, with a line that says what they are."""
    with path.open("w", encoding="utf-8", newline="") as file:
        file.write(heading)
        writer = csv.DictWriter(file, FIELDS, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows.rows)


def main() -> None:
    """Every library in turn."""
    rows = Rows()
    for part in (oxygen, water, atmosphere_and_pipes, carbonate, moist_air, sunshine, bottles):
        part(rows)
    write(rows, OUT, "# Check values computed by general-purpose libraries, arguments in SI.\n")


if __name__ == "__main__":
    main()
