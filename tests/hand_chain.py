"""A whole system worked by hand: plain formulas on plain numbers, nothing of the package called.

Units of the pencil: g, mg/L, m³, days and hours as each line says.  Every physical ingredient is
one short function, so that a change of the physics is a change of one line here, with its reason.
Constants are typed in again from their sources, tables of the trade as the person would read them.
"""

from dataclasses import dataclass
from math import ceil, exp, log, log10, pi, sqrt

# --- what the person knows ------------------------------------------------------------------

DUNG = ((17.0, 0.30), (7.0, 0.25), (2.5, 0.20), (0.8, 0.15), (0.2, 0.10))
"""Settling speed [mm/s] and share of the waste that can settle."""

TANKS_FT = (3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 15, 16, 18, 20, 22, 24, 27, 30)
PIPES_IN = (0.608, 0.810, 1.033, 1.364, 1.592, 2.049, 3.042, 3.998, 6.031, 7.942, 9.976, 11.889)


@dataclass
class Case:
    """What a design file says, in the units of the pencil."""

    elevation: float  # m
    water: float  # °C, growing
    warmest: float  # °C
    coldest: float  # °C, still fed
    source_alkalinity: float  # mg/L as CaCO3
    source_ph: float
    source_nitrate: float  # mg/L N
    stocked_at: float  # g
    sold_at: float  # g
    survival: float
    conversion: float
    protein: float
    depth: float  # m
    lift: float  # m
    length: float  # m
    elbows: int
    settler: float  # effectiveness
    overflow: float  # mm/s
    polishing: float
    rinsed: float
    trickling: bool
    plants: float = 0.0  # m²
    fish: float | None = None
    harvest: float | None = None  # kg a year
    interval: float | None = None  # days
    tanks: int | None = None
    width: float | None = None  # m
    density: float = 0.25 * 119.826427  # kg/m³
    pump: tuple[float, float, int] = (4.0, 150.0, 1)  # highest head m, freely L/min, how many


# --- ingredients, one line each -------------------------------------------------------------


def pressure(z):  # U.S. Standard Atmosphere 1976
    return 101325.0 * (1.0 - 2.25577e-5 * z) ** 5.25588


def saturation(t, p):  # Benson and Krause 1984, the APHA form, fresh water
    k, atm = t + 273.15, p / 101325.0
    one = exp(
        -139.34411 + 1.575701e5 / k - 6.642308e7 / k**2 + 1.243800e10 / k**3 - 8.621949e11 / k**4
    )
    vapour = exp(11.8571 - 3840.70 / k - 216961.0 / k**2)
    theta = 0.000975 - 1.426e-5 * t + 6.436e-8 * t * t
    return one * atm * (1 - vapour / atm) * (1 - theta * atm) / ((1 - vapour) * (1 - theta))


def field_factor(t, p, held):  # ASCE/EWRI 2-06: alpha 0.85, beta 0.98, theta 1.024, fouling 0.85
    deficit = 0.98 * saturation(t, p) - held
    return 0.85 * 0.85 * 1.024 ** (t - 20.0) * deficit / saturation(20.0, 101325.0)


def weiss(t):  # Weiss 1974, mol/(L atm)
    k = t + 273.15
    return exp(-58.0931 + 90.5069 * 100.0 / k + 22.2940 * log(k / 100.0))


def henry(t):  # gas over water, by mass in a volume
    return 1.0 / (0.082057 * (t + 273.15) * weiss(t))


def outdoor_carbon_dioxide(t, p):  # 420 ppm
    vapour = 610.8 * exp(17.27 * t / (t + 237.3))
    return 44.01e3 * weiss(t) * 420e-6 * (p - vapour) / 101325.0


def harned(t):  # Harned and Davis 1943, Harned and Scholes 1941
    k = t + 273.15
    return (
        10 ** (14.8435 - 3404.71 / k - 0.032786 * k),
        10 ** (6.4980 - 2902.39 / k - 0.02379 * k),
    )


def carbon_dioxide(alkalinity, ph, t):  # charge balance without hydroxide
    k1, k2 = harned(t)
    h = 10.0**-ph
    return alkalinity / 50.04 / (k1 / h * (1.0 + 2.0 * k2 / h)) * 44.01


def ph_of(alkalinity, co2, t):  # the same by halving
    low, high = 4.0, 11.0
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (middle, high) if carbon_dioxide(alkalinity, middle, t) > co2 else (low, middle)
    return low


def unionized(t, ph):  # Emerson et al. 1975
    return 1.0 / (1.0 + 10 ** (0.09018 + 2729.92 / (t + 273.2) - ph))


def film_rate(level, oxygen, t, ph, alkalinity):  # g/(m² day)
    acid = 1.0 + 0.13 * (min(ph, 8.2) - 8.2)  # Villaverde 1997
    shared = 0.75 * acid * alkalinity / (10.0 + alkalinity)
    s = min(level, oxygen / 3.0)
    half = shared * 1.043 ** (t - 24.0) * min(max(0.55 * sqrt(s) - 0.10, 0.0), 0.69)  # Nijhof 1990
    line = min(half, shared * 1.043 ** (t - 20.0) * 0.22 * s)  # Kinyage 2019
    part = min(max((s - 0.4) / 0.2, 0.0), 1.0)
    return line + part * (half - line)


def drained(hours, leach=0.4):  # waste that sludge keeps until it is drained; two fifths a day
    x = leach * hours / 24.0
    return (1.0 - exp(-x)) / x


def viscosity(t):  # kinematic, m²/s: Vogel over a parabola of density
    dynamic = 2.414e-5 * 10 ** (247.8 / (t + 273.15 - 140.0))
    return dynamic / (1000.0 * (1.0 - (t - 4.0) ** 2 * 5.6e-6))


def friction(flow, inside, length, losses, t):  # m; Colebrook with 0.1 mm
    speed = flow / (pi / 4.0 * inside**2)
    reynolds, f = speed * inside / viscosity(t), 0.02
    for _ in range(50):
        f = (-2.0 * log10(1e-4 / inside / 3.7 + 2.51 / (reynolds * sqrt(f)))) ** -2
    return (f * length / inside + losses) * speed**2 / (2.0 * 9.80665)


def next_pipe(flow, speed=1.0):  # m
    wanted = sqrt(4.0 * flow / (pi * speed))
    return next(size * 0.0254 for size in PIPES_IN if size * 0.0254 >= wanted * (1 - 1e-9))


def meeting(c, pipe, losses):  # m³ a day at which the pumps give the head that the pipe asks
    highest, freely, count = c.pump
    low, high = 0.0, freely * count / 6e4
    for _ in range(60):
        q = (low + high) / 2.0
        given = highest * (1.0 - (q / (freely * count / 6e4)) ** 2)
        asked = c.lift + friction(q, pipe, c.length, losses, c.warmest)
        low, high = (q, high) if given > asked else (low, q)
    return low * 86400.0


# --- the chain ------------------------------------------------------------------------------


def plan(c):
    """Days, batches and the biggest day, looked for every quarter of a day."""
    k = 2.4e-3 * (min(c.water, 31.0) - 18.3)
    start, end = c.stocked_at ** (1 / 3), c.sold_at ** (1 / 3)
    days = (end - start) / k
    interval = c.interval or days + 14.0
    fish = c.fish or c.harvest * 1000.0 / 365.25 * interval / c.sold_at
    stocked = fish / c.survival

    def feed(age):  # kg a day of one batch
        alive = stocked * c.survival ** (age / days)
        return alive * c.conversion * 3.0 * k * (start + k * age) ** 2 / 1000.0

    def weight(age):
        return stocked * c.survival ** (age / days) * (start + k * age) ** 3 / 1000.0

    batches = range(ceil(days / interval - 1e-9))
    back = [0.25 * i for i in range(int(4 * min(interval, days)))]
    ages = [[days - q - j * interval for j in batches] for q in back]
    most_feed = max(sum(feed(a) for a in row if a >= 0) for row in ages)
    most_fish = max(sum(weight(a) for a in row if a >= 0) for row in ages)
    one = max(feed(days - q) for q in back)
    tanks = c.tanks or len(batches)
    each = max(1, tanks // len(batches))
    return days, most_feed, most_fish, max(one / each, most_feed / tanks), fish, tanks, each


def water_of(c, most_fish, fish, tanks, each):
    """Volume of a tank, of all, and what is counted for fine waste: no more than the fish need."""
    fullest = max(fish * c.sold_at / 1000.0 / each, most_fish / tanks)
    needed = fullest / c.density
    if c.width is not None:
        volume = pi / 4.0 * c.width**2 * c.depth
        return volume, volume * tanks, min(volume, needed) * tanks
    across = sqrt(4.0 * needed / c.depth / pi)
    width = next(ft * 0.3048 for ft in TANKS_FT if ft * 0.3048 >= across * (1 - 1e-9))
    volume = pi / 4.0 * width**2 * c.depth
    return volume, volume * tanks, needed * tanks


def rotting(c, feed, volume, flow):
    """Fine waste, what rots, freed ammonia and new water, gone around until they agree [g, m³/d]."""
    solids, tan = 250.0 * feed, 92.0 * feed * c.protein
    dung = 160.0 * feed * c.protein - 26.4 * feed / c.conversion - tan  # nitrogen
    load = c.overflow
    caught = c.settler * sum(share * min(1.0, speed / load) for speed, share in DUNG)
    suspended = solids * (0.3 + 0.7 * (1.0 - caught * drained(24.0)))
    rots, new = 0.0, 0.0
    for _ in range(200):
        released = 0.25 * dung * rots / solids
        nitrate = tan + released - plants_take(c)
        new = nitrate / (150.0 - c.source_nitrate)
        fines = suspended / (new + flow * c.polishing + 0.2 * volume)
        rots = fines * (0.2 * volume + flow * c.polishing * (1.0 - c.rinsed))
    return rots, tan + released, new, suspended, caught


def plants_take(c):  # g N a day, as nitrate: Graber and Junge 2009 measured 0.43 and 0.52
    return 0.5 * c.plants


def warmth(c):  # fish breathe twice as much for 10 °C more: the hottest week over the growing water
    return 2.0 ** ((c.warmest - c.water) / 10.0)


def work(c: Case) -> dict[str, float]:
    """Every figure, in the units of the pencil; the flow is found by going around."""
    days, feed, most_fish, tank_feed, fish, tanks, each = plan(c)
    one, volume, counted = water_of(c, most_fish, fish, tanks, each)
    p, t = pressure(c.elevation), c.warmest
    h, free = henry(t), outdoor_carbon_dioxide(t, p)
    source = carbon_dioxide(c.source_alkalinity, c.source_ph, t)
    stripped = 0.3 * 5.0 * h / (1.0 + 5.0 * h) if c.trickling else 0.0
    factor = field_factor(t, p, 5.0)

    def at(flow):
        """All that hangs on the flow, which itself is asked for by it."""
        rots, tan, new, suspended, caught = rotting(c, feed, volume, flow)
        fish_o2, film_o2, rot_o2 = 450.0 * feed * warmth(c), 4.57 * tan, 0.6 * rots
        busiest = 1.4 * fish_o2 + film_o2 + rot_o2
        asked = busiest - film_o2 * (1.0 if c.trickling else 0.5)  # the filter's own air
        air = asked / factor / (278.7 * 0.04 * (c.depth - 0.1))  # m³ a day, 4 %/m
        co2_made = 1.375 * (fish_o2 + rot_o2) + 3.57 * 44.01 / 50.04 * tan
        strength = air * 0.45 * h + flow * stripped
        co2 = (co2_made + strength * free + new * source) / (strength + new)
        ph = ph_of(100.0, co2, t)
        limit = min(1.0, 0.05 / unionized(t, ph))
        for_tan = (tan - new * limit) / (limit * 0.35)
        for_fines = (suspended / 25.0 - new - 0.2 * counted) / c.polishing
        return locals()

    flow = 100.0  # m³ a day, as planned
    for _ in range(60):
        planned = at(flow)
        limit, for_tan, for_fines = planned["limit"], planned["for_tan"], planned["for_fines"]
        flow = max(for_tan, for_fines)
    pipe = next_pipe(flow / 86400.0)
    losses = 0.9 * c.elbows + 0.05 + 2.0 + 1.0
    flow = meeting(c, pipe, losses)  # as it runs
    real = at(flow)
    tan, new, caught, ph = (real[x] for x in ("tan", "new", "caught", "ph"))
    fish_o2, film_o2, rot_o2, busiest = (
        real[x] for x in ("fish_o2", "film_o2", "rot_o2", "busiest")
    )

    # the filter takes all, since beds may be empty or new, but what the old water takes along
    taken = tan - new * limit
    needed = limit - taken / flow
    breath = max(0.9 * saturation(t, p), 5.0)

    def rate(level):
        return film_rate(level, breath, c.coldest, ph, 100.0)

    if c.trickling:  # plug flow: the integral from the outlet to the tank
        n = 20000
        step = (limit - needed) / n
        area = flow * sum(step / rate(needed + (i + 0.5) * step) for i in range(n))
    else:
        area = taken / rate(needed)

    second = flow / 86400.0
    base = (3.57 * tan - new * (c.source_alkalinity - 100.0)) * 84.007 / 50.04
    # the air is off: a trickling filter breathes on, a moving bed takes all from the tank
    off = 1.4 * fish_o2 + rot_o2 + film_o2 * (0.0 if c.trickling else 1.0)
    per_hour = tank_feed / feed * off / 24.0
    return {
        "days to harvest": days,
        "peak feed, kg/d": feed,
        "ammonia of the fish, g/d": 92.0 * feed * c.protein,
        "ammonia with rotting, g/d": tan,
        "oxygen of the fish, g/h": fish_o2 / warmth(c) / 24.0,
        "oxygen of the nitrifiers, g/h": film_o2 / 24.0,
        "oxygen of rotting, g/h": rot_o2 / 24.0,
        "oxygen in the busiest hour, g/h": busiest / 24.0,
        "carbon dioxide made, g/h": real["co2_made"] / 24.0,
        "carbon dioxide in the tank, mg/L": real["co2"],
        "pH": ph,
        "flow for ammonia, L/min": for_tan / 1.44,
        "flow for fines, L/min": for_fines / 1.44,
        "settler, m²": flow / (c.overflow * 86.4),
        "share caught": caught,
        "air, m³/h": real["air"] / 24.0,
        "media, m²": area,
        "head, m": c.lift + friction(second, pipe, c.length, losses, t),
        "new water, L/d": new * 1000.0,
        "baking soda, g/d": base,
        "minutes from 5 to 3 mg/L": 2.0 * one / per_hour * 60.0,
    }
