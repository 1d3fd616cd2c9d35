"""Write data/published/balances.csv: the balances of a sizing, solved by general-purpose libraries.

Run with the ``reference`` extra installed: ``python tests/reference/make_balances.py``.  Nothing of
this package is called.  Each value comes from the differential equation of a tank, a bed or a
batch, integrated or solved by SciPy, or from properties and pipes of CoolProp, fluids, chemicals
and PyCO2SYS; the formulas that are checked are the closed forms of the same balances.
"""

from functools import cache, partial
from math import pi
from pathlib import Path

import numpy as np
from make_libraries import Rows, write
from scipy.integrate import quad, solve_ivp
from scipy.interpolate import interp1d
from scipy.optimize import brentq, fsolve, minimize_scalar

OUT = Path(__file__).resolve().parents[2] / "data" / "published" / "balances.csv"
DAY = 86400.0
TIGHT = {"rtol": 1e-10, "atol": 1e-14, "method": "LSODA"}
STANDARD = 9.80665


def at_rest(change, start, time):
    """The end of a long simulation of ``change(levels)``."""
    found = solve_ivp(lambda t, y: change(y), (0.0, time), np.atleast_1d(start), **TIGHT)
    return found.y[:, -1]


@cache
def molar(formula):
    """Molar mass [g/mol] by the chemicals library."""
    from chemicals.elements import molecular_weight, nested_formula_parser

    return molecular_weight(nested_formula_parser(formula))


def litre(t):
    """Mass of a litre of water [kg] by CoolProp."""
    from CoolProp.CoolProp import PropsSI

    return PropsSI("D", "T", t + 273.15, "P", 101325, "Water") * 1e-3


def chemistry(rows: Rows) -> None:
    """Molar masses by chemicals; dissolved gases and carbonate by PyCO2SYS."""
    import PyCO2SYS as pyco2  # noqa: N813

    rows.add(
        "chemicals", "molecular_weight: C / O2", "gas.definitions.respired_carbon",
        {"fish_oxygen": 1.0}, molar("C") / molar("O2"), "0.0002", "kg/kg",
    )  # fmt: skip
    rows.add(
        "chemicals", "molecular_weight: CO2 / N", "fish.loads.carbon_dioxide_from_alkalinity",
        {"ammonia_load": 1.0}, molar("CO2") / molar("N"), "0.001", "kg/kg",
        "one mole for each mole of nitrogen; the factor 3.57 has three figures",
    )  # fmt: skip
    need = 2.0 * molar("O2") / molar("N")
    rows.add(
        "chemicals", "molecular_weight: (5.5 - 2) / (1.3 × 2 O2/N × 1.5)",
        "biofilter.bed.oxygen_cap", {"oxygen_inlet": 5.5e-3, "total_ammonia": 1.5e-3},
        3.5 / (1.3 * need * 1.5), "0.0006", "-", "4.57 there, 4.5689 by molar masses",
    )  # fmt: skip
    for t in (20.0, 25.0, 28.0, 32.0):
        found = pyco2.sys(
            par1=2000.0, par2=7.5, par1_type=1, par2_type=3, salinity=0, temperature=t,
            opt_k_carbonic=8, opt_pH_scale=1,
        )  # fmt: skip
        k0 = float(found["k_CO2"]) * litre(t)  # from mol/(kg atm)
        rows.add(
            "PyCO2SYS", f"1 / (sys(temperature={t:g})['k_CO2'] × density × R T)",
            "water.carbonate.gas_partition", {"temperature": t},
            1.0 / (k0 * 0.0820574 * (t + 273.15)), "0.0005", "-",
            "Weiss 1974 in both, there his coefficients for a kilogram, here those for a litre",
        )  # fmt: skip
        from CoolProp.CoolProp import PropsSI

        vapour = PropsSI("P", "T", t + 273.15, "Q", 0, "Water")
        rows.add(
            "PyCO2SYS", f"sys(temperature={t:g})['k_CO2'] × density × 420e-6 × (1 - vapour/101325) × 44.0095",
            "water.carbonate.equilibrium_carbon_dioxide", {"temperature": t},
            k0 * 420e-6 * (1.0 - vapour / 101325.0) * 44.0095, "0.001", "kg/m³",
            "density and vapour pressure by CoolProp",
        )  # fmt: skip
    for alkalinity, ph, t in ((60, 6.6, 24), (100, 7.2, 28), (150, 7.6, 26), (250, 7.9, 30)):
        found = pyco2.sys(
            par1=alkalinity / 50.0435 * 1000.0, par2=ph, par1_type=1, par2_type=3, salinity=0,
            temperature=t, opt_k_carbonic=8, opt_pH_scale=1,
        )  # fmt: skip
        rows.add(
            "PyCO2SYS", f"sys({alkalinity} mg/L CaCO3, pH {ph}, {t} °C)['dic'] × 44.0095",
            "water.carbonate.total_inorganic_carbon",
            {"alkalinity": alkalinity * 1e-3, "ph": ph, "temperature": t},
            found["dic"] * 44.0095e-6, "0.005", "kg/m³",
            "as CO2; fresh-water constants of Millero 1979 there, Harned here",
        )  # fmt: skip


def air(rows: Rows) -> None:
    """Air machines and air lines: properties by CoolProp, friction by fluids."""
    import fluids
    from CoolProp.CoolProp import PropsSI

    rho = PropsSI("D", "T", 293.15, "P", 101325, "Air")
    rows.add(
        "CoolProp", "PropsSI('D', 'T', 293.15, 'P', 101325, 'Air') × 0.01",
        "air.blowers.air_mass_flow", {"air_flow": 0.01}, rho * 0.01, "0.0005", "kg/s",
    )  # fmt: skip
    water = PropsSI("D", "T", 301.15, "P", 101325, "Water")
    for depth, stones, line in ((0.75, 4000.0, 600.0), (1.2, 3000.0, 250.0)):
        rows.add(
            "CoolProp", f"PropsSI('D', 'T', 301.15, ..., 'Water') × g × {depth} + losses",
            "air.blowers.discharge_pressure",
            {"depth": depth, "density": 996.24, "stone_loss": stones, "line_loss": line},
            water * STANDARD * depth + stones + line, "1e-05", "Pa",
        )  # fmt: skip
    rows.add(
        "CoolProp", "PropsSI('D', 'T', 301.15, ..., 'Water') × 0.9", "tank.vessel.floor_load",
        {"depth": 0.9, "density": 996.24}, water * 0.9, "1e-05", "kg/m²",
    )  # fmt: skip
    for q, d, length, t, p in ((0.005, 0.0266, 20.0, 35.0, 111000.0), (0.02, 0.0525, 30.0, 20.0, 113000.0),
                               (0.05, 0.0779, 50.0, 40.0, 108000.0)):  # fmt: skip
        density = PropsSI("D", "T", t + 273.15, "P", p, "Air")
        viscosity = PropsSI("V", "T", t + 273.15, "P", p, "Air")
        speed = q * rho / density / (pi / 4 * d * d)
        reynolds = fluids.Reynolds(V=speed, D=d, rho=density, mu=viscosity)
        drop = fluids.dP_from_K(
            fluids.K_from_f(fluids.friction.Blasius(reynolds), length, d), density, speed
        )
        rows.add(
            "fluids", f"Blasius({reynolds:.0f}), K_from_f, dP_from_K; air by CoolProp",
            "air.blowers.air_line_loss",
            {"air_flow": q, "diameter": d, "length": length, "temperature": t, "pressure": p},
            drop, "0.006", "Pa",
            "the viscosity of air is a power law here, 2 % at most, a quarter of it in friction",
        )  # fmt: skip
    pressures, flows = [0.0, 8000.0, 14000.0, 20000.0], [0.05, 0.04, 0.025, 0.0]
    for p in (5000.0, 11000.0, 19000.0):
        rows.add(
            "scipy", f"interp1d({pressures}, {flows})({p:g})", "air.blowers.device_flow",
            {"pressure": p, "pressures": pressures, "flows": flows},
            interp1d(pressures, flows)(p), "1e-09", "m³/s",
        )  # fmt: skip


def water_ways(rows: Rows) -> None:
    """Gravity flow by friction of fluids and a root of SciPy; standpipe; jets in a round tank."""
    import fluids
    from CoolProp.CoolProp import PropsSI

    for head, d, length, losses, t in ((0.15, 0.1015, 6.0, 2.5, 28.0), (0.3, 0.0779, 12.0, 4.0, 24.0),
                                       (1.0, 0.052, 20.0, 6.0, 28.0)):  # fmt: skip
        nu = PropsSI("V", "T", t + 273.15, "P", 101325, "Water") / PropsSI(
            "D", "T", t + 273.15, "P", 101325, "Water"
        )

        def surplus(speed, d=d, length=length, losses=losses, head=head, nu=nu):
            f = fluids.friction.Colebrook(speed * d / nu, 1.5e-6 / d)
            k = fluids.K_from_f(f, length, d) + losses + 1.0
            return fluids.head_from_K(k, speed, g=STANDARD) - head

        speed = brentq(surplus, 0.05, 20.0, xtol=1e-12)
        rows.add(
            "fluids", f"Colebrook, K_from_f, head_from_K and scipy brentq: {head} m over {length} m",
            "pipes.pipes.gravity_flow",
            {"head": head, "diameter": d, "length": length, "roughness": 1.5e-6,
             "minor_losses": losses, "temperature": t},
            speed * pi / 4 * d * d, "0.0005", "m³/s",
        )  # fmt: skip
    for flow, head in ((0.0010, 0.02), (0.0022, 0.06)):

        def short(d, flow=flow, head=head):
            weir = 0.5 * 1.84 * pi * d * head**1.5
            hole = 0.5 * 0.6 * pi / 4 * d * d * np.sqrt(2 * STANDARD * head)
            return min(weir, hole) - flow

        rows.add(
            "scipy", f"brentq of the smaller of weir and opening for {flow} m³/s under {head} m",
            "pipes.drain_definitions.standpipe_needed", {"flow": flow, "head": head},
            brentq(short, 1e-3, 5.0, xtol=1e-13), "1e-06", "m",
            "coefficients 1.84 and 0.6 of the riser relation that the capacity has a row for",
        )  # fmt: skip
    for flow, jet, width, depth in ((0.0034, 1.0, 3.6576, 0.8128), (0.006, 0.8, 3.0, 1.0)):

        def torque(speed, flow=flow, jet=jet, r=width / 2, depth=depth):
            wall = 0.004 * speed**2 * 2 * pi * r * depth * r
            # the water turns as a whole: over the floor the speed grows with the radius
            floor = quad(lambda x: 0.004 * (speed * x / r) ** 2 * 2 * pi * x * x, 0, r)[0]
            return flow * (jet - speed) * r - wall - floor

        rows.add(
            "scipy", f"quad and brentq: jets {flow} m³/s at {jet} m/s, shear 0.004 rho v² on wall and floor",
            "tank.vessel.rotation_velocity",
            {"flow": flow, "jet_velocity": jet, "diameter": width, "depth": depth},
            brentq(torque, 0.0, jet, xtol=1e-13), "1e-05", "m/s",
        )  # fmt: skip


def waste(rows: Rows) -> None:
    """Fine waste in a mixed tank, simulated until nothing changes; sludge between drainings."""
    made, volume, decay, flow, removal, rinsed = 0.35 / DAY, 8.5, 0.1 / DAY, 0.0015, 0.3, 0.7
    exchange = 0.35 / DAY
    level = at_rest(
        lambda y: (made - (exchange + flow * removal + decay * volume) * y) / volume, 0.0, 90 * DAY
    )[0]
    loop = f"LSODA, 90 days of V C' = {made * DAY:g} kg/d - ({exchange * DAY:g} m³/d + Q E + k V) C"
    add = partial(rows.add, "scipy", loop)
    add(
        "solids.settling.fines_concentration",
        {"fine_solids": made, "exchange": exchange, "flow": flow, "polishing": removal,
         "decay": decay, "volume": volume}, level, "1e-06", "kg/m³",
    )  # fmt: skip
    add(
        "solids.settling.flow_for_fines",
        {"fine_solids": made, "limit": level, "exchange": exchange, "polishing": removal,
         "decay": decay, "volume": volume}, flow, "1e-06", "m³/s",
        "the flow of the simulation, asked back from its level",
    )  # fmt: skip
    # the same tank, its outputs gathered over one more day
    out = solve_ivp(
        lambda t, y: [exchange * level, flow * removal * rinsed * level,
                      (decay * volume + flow * removal * (1 - rinsed)) * level],
        (0.0, DAY), [0.0, 0.0, 0.0], **TIGHT,
    ).y[:, -1] / DAY  # fmt: skip
    add(
        "solids.waste.waste_exported",
        {"fines": level, "exchange": exchange},
        out[0],
        "1e-06",
        "kg/s",
    )
    add(
        "solids.waste.waste_polished",
        {"fines": level, "flow": flow, "removal": removal, "rinsed": rinsed}, out[1], "1e-06", "kg/s",
    )  # fmt: skip
    add(
        "solids.waste.decaying_solids",
        {"fines": level, "decay": decay, "volume": volume, "flow": flow, "removal": removal,
         "rinsed": rinsed}, out[2], "1e-06", "kg/s",
    )  # fmt: skip

    leaching = 5e-6
    for hours in (12.0, 24.0, 72.0):
        gathered = solve_ivp(
            lambda t, y: [1.0 - leaching * y[0]], (0.0, hours * 3600.0), [0.0], **TIGHT
        ).y[0, -1]
        rows.add(
            "scipy", f"LSODA: sludge that grows by one and leaches 5e-6 of itself a second, {hours:g} h",
            "solids.settling.drained_share",
            {"drain_interval": hours * 3600.0, "leaching": leaching},
            gathered / (hours * 3600.0), "1e-06", "-",
        )  # fmt: skip
    speeds = [0.0005, 0.002, 0.006, 0.015]
    shares = [0.25, 0.25, 0.3, 0.2]
    load = 0.004 / 1.6
    entry = (np.arange(200000) + 0.5) / 200000  # heights at which grains enter, of the whole depth
    reached = [np.mean(entry * load <= speed) for speed in speeds]
    caught = float(np.dot(shares, reached))
    rows.add(
        "numpy", "200,000 grains of each class enter an ideal basin at even heights; those that land",
        "solids.settling.captured_fraction",
        {"flow": 0.004, "area": 1.6, "velocities": speeds, "mass_fractions": shares},
        caught, "1e-06", "-",
    )  # fmt: skip

    # rotting waste, freed ammonia and new water for nitrate, all three at once
    given = {
        "suspended": 0.4 / DAY, "faecal_nitrogen": 0.02 / DAY, "freed": 0.6, "solids": 0.8 / DAY,
        "ammonia": 0.06 / DAY, "plants_nitrogen": 0.0, "nitrate_limit": 0.15,
        "nitrate_source": 0.005, "flow": 0.0015, "removal": 0.3, "rinsed": 0.7,
        "decay": 0.1 / DAY, "volume": 8.5,
    }  # fmt: skip

    def unbalanced(x, g=given):
        level, new_water, rots = x[0] * 1e-3, x[1] / DAY, x[2] / DAY
        screened = g["flow"] * g["removal"]
        nitrogen = g["ammonia"] + g["faecal_nitrogen"] * g["freed"] * rots / g["solids"]
        return [
            (g["suspended"] - level * (new_water + screened + g["decay"] * g["volume"])) * DAY,
            (rots - level * (g["decay"] * g["volume"] + screened * (1 - g["rinsed"]))) * DAY,
            (nitrogen - new_water * (g["nitrate_limit"] - g["nitrate_source"])) * DAY,
        ]

    found = fsolve(unbalanced, [5.0, 0.5, 0.05], xtol=1e-13)
    rows.add(
        "scipy", "fsolve of the balances of waste, nitrogen and new water",
        "solids.loop.steady_decaying_solids", given, found[2] / DAY, "1e-06", "kg/s",
    )  # fmt: skip


def ammonia(rows: Rows) -> None:
    """Tank and filter as a mixed pair or with a plug-flow bed; nitrate in the tank."""
    load, flow, area, k, exchange, source = 0.06 / DAY, 0.0015, 150.0, 0.22 / DAY, 0.35 / DAY, 1e-4
    law = {"first order": k}

    def pair(y, volume=8.5, bed=0.6):
        tank, filter_ = y
        return [
            (load + exchange * source + flow * filter_ - (flow + exchange) * tank) / volume,
            (flow * (tank - filter_) - area * k * filter_) / bed,
        ]

    tank, outlet = at_rest(pair, [1e-3, 1e-3], 60 * DAY)
    place = "LSODA, 60 days of a tank of 8.5 m³ and a mixed filter of 150 m², 0.22 m/d"
    add = partial(rows.add, "scipy", place)
    add(
        "biofilter.areas.loop_outlet",
        {"load": load, "flow": flow, "area": area, "rate": law, "exchange": exchange,
         "source": source}, outlet, "1e-05", "kg/m³",
    )  # fmt: skip
    add(
        "biofilter.areas.tank_ammonia",
        {"load": load, "flow": flow, "outlet": outlet, "exchange": exchange, "source": source},
        tank, "1e-06", "kg/m³",
    )  # fmt: skip
    taken = quad(lambda t: area * k * outlet, 0, DAY)[0] / DAY
    add(
        "biofilter.areas.removal",
        {"flow": flow, "inlet": tank, "outlet": outlet},
        taken,
        "1e-06",
        "kg/s",
    )
    add(
        "biofilter.areas.outlet_for", {"load": taken, "flow": flow, "total_ammonia": tank},
        outlet, "1e-06", "kg/m³",
    )  # fmt: skip
    add(
        "biofilter.areas.area_required",
        {"load": taken, "flow": flow, "total_ammonia": tank, "rate": law}, area, "1e-06", "m²",
        "the area of the simulation, asked back from its levels",
    )  # fmt: skip
    add(
        "biofilter.areas.flow_required",
        {"load": taken, "area": area, "total_ammonia": tank, "rate": law}, flow, "1e-05", "m³/s",
        "the flow of the simulation, asked back from its levels",
    )  # fmt: skip
    add(
        "biofilter.definitions.ammonia_exported", {"total_ammonia": tank, "exchange": exchange},
        load + exchange * source - taken, "1e-04", "kg/s",
        "what came in less what the filter took; a small difference of two large numbers",
    )  # fmt: skip
    add(
        "fish.loads.flow_to_remove",
        {"load": load, "exchange": exchange, "source": source, "concentration": tank,
         "removal": (tank - outlet) / tank}, flow, "1e-05", "m³/s",
        "the flow of the simulation, asked back from its levels",
    )  # fmt: skip

    # plug flow: the level along the bed, by the same law
    def after(level):
        return solve_ivp(lambda a, s: -k * s / flow, (0, area), [level], **TIGHT).y[0, -1]

    inlet = brentq(lambda s: load + exchange * (source - s) - flow * (s - after(s)), 1e-7, 0.1,
                   xtol=1e-16)  # fmt: skip
    place = "LSODA along a plug-flow bed of 150 m², brentq on the tank"
    add = partial(rows.add, "scipy", place)
    add(
        "biofilter.areas.loop_outlet",
        {"load": load, "flow": flow, "area": area, "rate": law, "exchange": exchange,
         "source": source, "mixed": False}, after(inlet), "1e-05", "kg/m³",
    )  # fmt: skip
    add(
        "biofilter.areas.area_required",
        {"load": flow * (inlet - after(inlet)), "flow": flow, "total_ammonia": inlet, "rate": law,
         "mixed": False}, area, "1e-05", "m²",
    )  # fmt: skip
    # share taken by a mixed first-order bed: Da / (1 + Da), with Da from the root of its balance
    share = brentq(lambda x: x - 2.5 * (1 - x), 0, 1)
    rows.add(
        "scipy", "brentq of x = 2.5 (1 - x), then x / (1 - x)", "biofilter.areas.damkohler",
        {"area": 100.0, "rate_at_tank": 2.5e-8, "flow": 0.001, "total_ammonia": 1e-3},
        share / (1 - share), "1e-06", "-",
    )  # fmt: skip

    nitrate = at_rest(lambda y: (load - exchange * (y - 0.005)) / 8.5, 0.0, 4000 * DAY)[0]
    rows.add(
        "scipy", "LSODA, 4,000 days of V N' = load - Q (N - source)",
        "biofilter.definitions.steady_nitrate",
        {"nitrate_load": load, "exchange": exchange, "source": 0.005}, nitrate, "1e-06", "kg/m³",
    )  # fmt: skip
    alkalinity = solve_ivp(
        lambda t, y: [exchange * (0.180 - 0.100)], (0, DAY), [0.0], **TIGHT
    ).y[0, -1] / DAY  # fmt: skip
    rows.add(
        "scipy", "LSODA, a day of new water of 180 mg/L into a tank held at 100 mg/L",
        "biofilter.definitions.makeup_alkalinity",
        {"exchange": exchange, "source": 0.180, "alkalinity": 0.100}, alkalinity, "1e-06", "kg/s",
    )  # fmt: skip


def gases(rows: Rows) -> None:
    """Carbon dioxide and oxygen of an aerated tank, simulated until nothing changes."""
    made, air_flow, approach, partition, equilibrium = 1.25 / DAY, 0.006, 0.45, 1.28, 0.55e-3
    exchange, source, flow, stripped = 0.35 / DAY, 0.02, 0.0015, 0.4

    def change(y):
        by_air = air_flow * approach * partition * (y - equilibrium)
        return (made - by_air - exchange * (y - source) - flow * stripped * (y - equilibrium)) / 8.5

    level = at_rest(change, 1e-3, 20 * DAY)[0]
    add = partial(rows.add, "scipy", "LSODA, 20 days of carbon dioxide in a tank of 8.5 m³")
    add(
        "gas.degassing.tank_carbon_dioxide",
        {"production": made, "air_flow": air_flow, "approach": approach, "partition": partition,
         "equilibrium": equilibrium, "exchange": exchange, "source": source, "loop_flow": flow,
         "loop_removal": stripped}, level, "1e-06", "kg/m³",
    )  # fmt: skip
    by_air = (
        quad(lambda t: air_flow * approach * partition * (level - equilibrium), 0, DAY)[0] / DAY
    )
    in_filter = made - by_air - exchange * (level - source)
    add(
        "gas.degassing.air_transfer_of_carbon_dioxide",
        {"air_flow": air_flow, "approach": approach, "partition": partition,
         "carbon_dioxide": level, "equilibrium": equilibrium}, by_air, "1e-06", "kg/s",
    )  # fmt: skip
    add(
        "gas.definitions.stripped_in_filter",
        {"flow": flow, "stripped": stripped, "carbon_dioxide": level, "equilibrium": equilibrium},
        in_filter, "1e-05", "kg/s", "what is left of the balance of the simulation",
    )  # fmt: skip
    add(
        "pumps.flows.carbon_dioxide_flow",
        {"production": made, "by_air": by_air, "exchange": exchange, "source": source,
         "limit": level, "equilibrium": equilibrium, "stripped": stripped}, flow, "1e-05", "m³/s",
        "the flow of the simulation, asked back from its level",
    )  # fmt: skip
    # a parcel of water and g parcels of air free of the gas, shaken until they are in balance
    for ratio in (3.0, 5.0, 10.0):
        import PyCO2SYS as pyco2  # noqa: N813

        k0 = float(pyco2.sys(par1=2000, par2=7.5, par1_type=1, par2_type=3, salinity=0,
                             temperature=26.0, opt_k_carbonic=8)["k_CO2"]) * litre(26.0)  # fmt: skip
        henry = 1.0 / (k0 * 0.0820574 * 299.15)
        left = brentq(lambda c, r=ratio, h=henry: c + r * h * c - 1.0, 0.0, 1.0, xtol=1e-14)
        rows.add(
            "PyCO2SYS", f"1 - the level at which water and {ratio:g} parts of air are in balance, 26 °C",
            "gas.degassing.stripped_fraction", {"gas_water_ratio": ratio, "temperature": 26.0},
            1.0 - left, "0.0005", "-",
        )  # fmt: skip

    saturation, beta, set_point, standard = 7.83e-3, 0.98, 5e-3, 60e-3 / 3600.0
    # transfer in proportion to the deficit; `standard` is what passes at the set point
    strength = standard / (beta * saturation - set_point)
    for demand in (40e-3 / 3600.0, 75e-3 / 3600.0):
        level = at_rest(
            lambda y, d=demand: (strength * (beta * saturation - y) - d) / 8.5, set_point, 20 * DAY
        )[0]
        rows.add(
            "scipy", f"LSODA, 20 days of V O' = a (beta Cs - O) - {demand * 3.6e6:g} g/h",
            "air.definitions.tank_oxygen",
            {"saturation": saturation, "beta": beta, "oxygen": set_point, "oxygen_demand": demand,
             "transfer": standard}, level, "1e-06", "kg/m³",
        )  # fmt: skip
    asked, given, back = 80e-3 / 3600.0, 60e-3 / 3600.0, 6.9e-3

    def with_flow(q):
        return at_rest(lambda y: (given + q * (back - y) - asked) / 8.5, 5e-3, 20 * DAY)[0] - 5e-3

    rows.add(
        "scipy", "brentq on the flow of a tank that ends at 5 mg/L after 20 days of LSODA",
        "pumps.flows.oxygen_flow",
        {"oxygen_demand": asked, "transfer": given, "return_oxygen": back, "oxygen": 5e-3},
        brentq(with_flow, 1e-4, 0.1, xtol=1e-12), "1e-05", "m³/s",
    )  # fmt: skip


def batches(rows: Rows) -> None:
    """Growth, deaths and feed of a batch by SciPy, and the biggest day of several."""
    stocked, weight, t, coefficient, base, cycle, survival, conversion = (
        475.0, 0.050, 28.0, 2.4, 18.3, 197.0, 0.95, 1.6,
    )  # fmt: skip
    common = {
        "stocked": stocked, "stocking_weight": weight, "temperature": t,
        "growth_coefficient": coefficient, "base_temperature": base, "cycle": cycle,
        "survival": survival,
    }  # fmt: skip
    # one fish: dw/dt = 3 k w^(2/3), w in g; the fish: dN/dt = -m N
    k = coefficient / 1000.0 * (t - base)
    deaths = -np.log(survival) / cycle
    life = solve_ivp(
        lambda day, y: [3 * k * y[0] ** (2 / 3), -deaths * y[1],
                        conversion * 1e-3 * 3 * k * y[0] ** (2 / 3) * y[1]],
        (0.0, cycle), [weight * 1000.0, stocked, 0.0], dense_output=True, **TIGHT,
    )  # fmt: skip

    def feed(day):
        w, n, _ = life.sol(day)
        return conversion * 1e-3 * 3 * k * w ** (2 / 3) * n if 0 <= day <= cycle else 0.0

    def biomass(day):
        w, n, _ = life.sol(day)
        return w * n * 1e-3 if 0 <= day <= cycle else 0.0

    growth = "LSODA of dw/dt = 3 k w^(2/3) and dN/dt = -m N"
    rows.add(
        "scipy", growth + ", feed gathered", "fish.peaks.feed_per_batch",
        {**common, "feed_conversion": conversion}, life.y[2, -1], "1e-05", "kg",
    )  # fmt: skip
    best = minimize_scalar(lambda day: -feed(day), bounds=(0, cycle), method="bounded",
                           options={"xatol": 1e-8})  # fmt: skip
    largest = max(-best.fun, feed(cycle))
    rows.add(
        "scipy", growth + ", minimize_scalar over its life", "fish.peaks.peak_cohort_feed",
        {**common, "feed_conversion": conversion}, largest / DAY, "1e-05", "kg/s",
    )  # fmt: skip
    for interval in (42.0, 70.0):
        ages = np.arange(cycle, cycle - interval, -0.01)
        batches_back = range(int(np.ceil(cycle / interval)))
        total = max(sum(feed(a - j * interval) for j in batches_back) for a in ages[::10])
        stock = max(sum(biomass(a - j * interval) for j in batches_back) for a in ages[::10])
        rows.add(
            "scipy", growth + f", every tenth of a day, a batch every {interval:g} days",
            "fish.peaks.peak_total_feed",
            {**common, "feed_conversion": conversion, "interval": interval},
            total / DAY, "0.0005", "kg/s", "looked for once a week here; the peak is the harvest day",
        )  # fmt: skip
        rows.add(
            "scipy", growth + f", every tenth of a day, a batch every {interval:g} days",
            "fish.peaks.peak_total_biomass", {**common, "interval": interval}, stock, "0.0005", "kg",
        )  # fmt: skip
    end = life.y[0, -1]
    rows.add(
        "scipy", growth + ", its end asked back", "fish.growth.days_to",
        {"weight": weight, "harvest_weight": end / 1000.0, "temperature": t,
         "growth_coefficient": coefficient, "base_temperature": base}, cycle, "1e-06", "d",
    )  # fmt: skip
    sizes, rates = [0.005, 0.05, 0.1, 0.25, 0.5], [7e-7, 4e-7, 3.5e-7, 2e-7, 1.4e-7]
    for w in (0.02, 0.075, 0.4):
        rows.add(
            "scipy", f"interp1d of a table of five sizes at {w} kg", "fish.batches.table_ration",
            {"weight": w, "sizes": sizes, "rates": rates}, interp1d(sizes, rates)(w), "1e-09", "1/s",
        )  # fmt: skip


def main() -> None:
    """Every balance in turn."""
    rows = Rows()
    for part in (chemistry, air, water_ways, waste, ammonia, gases, batches):
        part(rows)
    for row in rows.rows:
        row["id"] = row["id"].replace("library-", "balance-")
    write(
        rows, OUT,
        "# Check values: balances solved by general-purpose libraries, arguments in SI.\n",
    )  # fmt: skip


if __name__ == "__main__":
    main()
