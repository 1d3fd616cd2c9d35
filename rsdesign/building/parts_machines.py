"""Purchases: machines by their duty, what stands ready for a power cut, and spare parts."""

from ..core import tables
from ..design.prices import prices_of
from ..equations.air.devices import AirDevice, AirType
from ..equations.power.tables import Backup
from ..studies.outage.course import Needs, needs
from .backup_power import batteries, charger_current
from .circuits import next_breaker
from .graph import Layout, Machine
from .parts_vessels import own_price
from .prices import OwnPrices
from .problems import Phrase, phrase
from .row import Row, priced
from .rules import WIDEST_UNION, inside_of, rule

CHECK = "A licensed electrician checks it."


def machine_rows(layout: Layout, own: OwnPrices) -> list[Row]:
    """Machines, spares beside them, the backup, the alarm and spare parts."""
    rows = []
    for m in layout.machines:
        rows += _machine(layout, m)
    rows += _backup(layout, own)
    rows.append(priced(own, "machines", "alarm sensors", "Sensors of the alarm",
                       phrase("a pressure switch, {floats} float switches",
                              floats=(2.0 * sum(v.count for v in layout.vessels if v.name in ("tank", "sump")), "count")),
                       1, "tank", "each tells one failure", note=Phrase(SENSORS)))  # fmt: skip
    rows.append(priced(own, "machines", "alarm", "Alarm that rings when air or power stops", Phrase("loud"), 1,
                       "tank", "nobody sees a silent machine", note=Phrase("With a battery of its own. It rings where someone sleeps, and calls a phone if nobody is near.")))  # fmt: skip
    return [*rows, *_spare_parts(layout, own)]


SENSORS = (
    "The pressure switch sits in the air pipe behind the check valves and tells when the air stops; floats tell when"
    " water stands too high or too low in tank and sump; a relay tells when the power goes."
)


def _machine(layout: Layout, m: Machine) -> list[Row]:
    s, rows = layout.sizing, []
    name = "pump" if m.kind == "pump" else "air_machine"
    each = m.watts * float(prices_of(s.design)[name].value)
    size, label, mine = duty(layout, m), f"{m.label}: {m.duty}", own_price(layout, name)
    if m.running:
        rows.append(Row("machines", m.name, label, size, float(m.running), "count", each, m.serves, m.why, name,
                        mine, listed=name, note=_with_crest(layout, m)))  # fmt: skip
    if m.spare:
        rows.append(Row("machines", f"spare {m.name}", f"SPARE: {label}", size, float(m.spare), "count", each,
                        m.serves, "stands still until one fails", name if m.kind == "air" else "", mine, True, name,
                        Phrase(SPARE_NOTES[m.kind])))  # fmt: skip
    return rows


def _with_crest(layout: Layout, m: Machine) -> Phrase:
    """What a buyer looks for; of a pump the height to which it fills the pipe at its first start, too."""
    sump = layout.vessel("sump")
    tops = [p[2] for w in layout.ways if w.run.kind == "pressure" for p in w.points]
    if m.kind != "pump" or sump is None or not tops:
        return Phrase(_machine_note(m))
    return phrase(f"{_machine_note(m)} With its outlet shut it must hold more than {{crest}}: as high is the top of the"
                  " pipe over the water of the sump.", crest=(max(tops) - sump.level, "both length"))  # fmt: skip


def _type(m: Machine) -> str:
    """The kind of an air machine, by its size; "" for one that is in no table."""
    return next(
        (row.type for row in tables.read("air_devices", AirDevice) if row.name == m.label), ""
    )


A_SIZE = "The name is a size, not a model:"
"""What stands before the kind of a machine: its name is of this list, and no maker's."""


def _machine_note(m: Machine) -> str:
    """What a buyer looks for."""
    if m.kind == "pump":
        return f"{A_SIZE} any pump for fish water serves that gives this flow at this head all day, and has no oil in it."
    kind = next(
        (row.label for row in tables.read("air_types", AirType) if row.name == _type(m)),
        "air machine",
    )
    return f"{A_SIZE} {kind}, or any other that gives this air at this pressure all day."


SPARE_NOTES = {
    "pump": "It lies ready in its box with its half of the union on.",
    "air": "It hangs in the air pipe with its own check valve, and waits.",
}
"""What the row of a spare machine says, by its kind."""


def duty(layout: Layout, m: Machine) -> Phrase:
    """What one machine has to give, and against what, with the watts of its plate."""
    a, b, p = layout.sizing.air, layout.sizing.bed, layout.sizing.pump
    if m.kind == "pump":
        return phrase("{flow} at {head} of head, {watts} by the plate",
                      flow=(float(p.flow) / m.running, "both flow"), head=(float(p.head), "both length"),
                      watts=(m.watts, "power"))  # fmt: skip
    flow, pressure = (
        (b.device_flow, b.pressure)
        if m.serves == "filter"
        else (a.device_flow, a.discharge_pressure)
    )
    return phrase("{flow} at {pressure}, {watts} by the plate", flow=(float(flow), "both air flow"),
                  pressure=(float(pressure), "both pressure"), watts=(m.watts, "power"))  # fmt: skip


# --- what stands ready for a power cut --------------------------------------------------------


def _backup(layout: Layout, own: OwnPrices) -> list[Row]:
    """What stands ready for the air, of the kind chosen, as large as a power cut asks; with all it needs."""
    s = layout.sizing
    safety, need = s.design.safety, needs(s)
    if safety.backup == "none":
        return []
    watts = max(float(need.air_power), 1.0)
    kind = tables.named(tables.read("backups", Backup), safety.backup_kind, "backup")
    size = phrase(
        "for {watts} of air over {time}",
        watts=(watts, "power"),
        time=(float(need.run_time), "hours"),
    )
    rows = [priced(own, "machines", "backup air", f"Backup: {kind.bought}, starts {safety.backup}", size, 1, "tank",
                   "fish have minutes without air", by=watts, budget="backup",
                   note=Phrase(kind.caution + (BY_HAND if safety.backup == "by hand" else "")))]  # fmt: skip
    if safety.backup_kind == "battery air":
        rows.append(_joint(layout, own))
    if safety.backup_kind == "generator":
        rows.append(priced(own, "machines", "transfer switch", "Transfer switch for the generator",
                           phrase("generator of {power}", power=(float(need.generator), "apparent power")), 1, "tank",
                           "it never feeds back into the house", budget="backup", note=Phrase(CHECK)))  # fmt: skip
    elif safety.backup_kind == "oxygen bottle":
        rows.append(priced(own, "machines", "oxygen regulator", "Oxygen bottle with its regulator",
                           phrase("{oxygen} of oxygen, regulator set to {flow}",
                                  oxygen=(float(need.oxygen_mass), "mass"), flow=(float(need.oxygen_flow), "both air flow")),
                           1, "tank", "for as long as the cut lasts", budget="backup"))  # fmt: skip
    else:
        rows += _battery(layout, need, watts, own)
    return rows


BY_HAND = " One that starts by itself is safer: the fish have minutes."
"""What is added to the row of a backup that waits for a person."""


def _joint(layout: Layout, own: OwnPrices) -> Row:
    """What joins the backup's air to the air pipe, and what that air has to be."""
    a, need = layout.sizing.air, needs(layout.sizing)
    run = layout.run("air main") or layout.run("air riser")
    pipe = run.pipe if run else "1-1/2 in"
    flow = float(a.device_flow) * float(a.count) * min(float(need.share), 1.0)
    size = phrase(f"{pipe}, for {{flow}} at {{pressure}}", flow=(flow, "both air flow"),
                  pressure=(float(a.discharge_pressure), "both pressure"))  # fmt: skip
    return priced(own, "machines", "backup air joint", "Tee, check valve and valve with a tag for the backup air", size, 1,
                  "tank", "one hand lets the backup in", inside_of(pipe), budget="backup", note=Phrase(JOINT))  # fmt: skip


JOINT = "Between the check valves and the manifold. The tag reads BACKUP AIR. The air pump must give that air and pressure."


def _battery(layout: Layout, need: Needs, watts: float, own: OwnPrices) -> list[Row]:
    """Batteries with the sum behind them, charger, fuse and cable."""
    safety = layout.sizing.design.safety
    volts, charge = float(safety.battery_voltage), float(need.battery)
    many = batteries(charge, volts)
    used = phrase("{watts} × {time} ÷ ({volts} × {share} of it used × {passed} passed on × {kept} left when old)"
                  f" = {{charge}}. Fresh air, no sparks: its gas burns.{SO_MANY if many > rule('many batteries') else ''}",
                  watts=(watts, "power"), time=(float(need.run_time), "hours"), volts=(volts, "voltage"),
                  share=(float(safety.discharge_depth), "fraction"), passed=(float(safety.inverter_efficiency), "fraction"),
                  kept=(float(safety.ageing), "fraction"), charge=(charge, "charge"))  # fmt: skip
    block = phrase("each {block} at {at}; {charge} at {volts} in all", block=(rule("battery block"), "charge"),
                   at=(rule("battery block volts"), "voltage"), charge=(charge, "charge"), volts=(volts, "voltage"))  # fmt: skip
    back = charger_current(charge, float(safety.discharge_depth))
    drawn = watts / (volts * float(safety.inverter_efficiency))
    fuse = next_breaker(drawn / rule("breaker share"))
    wired = phrase("{volts}, carries {drawn}, fuse {fuse} near the positive terminal", volts=(volts, "voltage"),
                   drawn=(drawn, "current"), fuse=(fuse, "current"))  # fmt: skip
    return [
        priced(own, "machines", "battery", "Battery of the backup, deep cycle", block, many,
               "tank", "runs the air while the power is off", budget="backup", note=used),
        priced(own, "machines", "battery charger", "Charger for it",
               phrase("{current} at {volts}", current=(back, "current"), volts=(volts, "voltage")), 1, "tank",
               "always full", by=back, budget="backup",
               note=phrase("Full again in {time}. It minds the battery by itself.", time=(rule("charge time"), "hours"))),
        priced(own, "machines", "battery fuse", "Fuse with its holder, and cable for it", wired, 1, "tank",
               "a short circuit burns", by=fuse, budget="backup", note=Phrase(CHECK)),
    ]  # fmt: skip


SO_MANY = " So many: ask the electrician about a generator or a higher voltage first."


# --- spare parts ------------------------------------------------------------------------------

WORN = {
    "diaphragm": ("diaphragm set", "Diaphragm set for", "rubber wears out, faster in heat"),
    "": ("air filter", "Air filter for", "dust of a dry place clogs it"),
}
"""What wears first in an air machine, by its kind; "" for all others: price, label, why."""


def _spare_parts(layout: Layout, own: OwnPrices) -> list[Row]:
    """Small parts that stop a system when they fail: each once, in a box."""
    rows = []

    def spare(
        name: str, label: str, size: Phrase, used: str, why: str, by: float | None = None
    ) -> None:
        rows.append(priced(own, "machines", name, f"SPARE: {label}", size, 1, used, why, by, spare=True,
                           note=Phrase(f"{why[:1].upper()}{why[1:]}.")))  # fmt: skip

    for m in {m.label: m for m in layout.machines}.values():
        if m.kind == "air":
            name, label, why = WORN.get(_type(m), WORN[""])
            spare(name, f"{label} {m.label}", Phrase("to fit it"), m.serves, why)
    for run in layout.runs:
        if run.kind == "pressure" and run.counted("check valve"):
            bore = inside_of(run.pipe)
            spare(
                "check valve",
                "Check valve",
                Phrase(run.pipe),
                run.label,
                "a flap that sticks lets water back",
                bore,
            )
            spare(
                "adapter",
                "Adapter, thread to pipe",
                Phrase(run.pipe),
                "spare pump",
                "for the spare pump",
                bore,
            )
            if bore <= WIDEST_UNION:
                spare("union", "Union", Phrase(run.pipe), "spare pump",
                      "half of it stays on the spare pump, so that it goes in without cement", bore)  # fmt: skip
    for size in dict.fromkeys(r.pipe for r in layout.runs if r.counted("union")):
        spare("union seal", "Seal ring for a union", Phrase(size), "all pipe", "a dry ring leaks")
    return rows
