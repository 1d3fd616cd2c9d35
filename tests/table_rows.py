"""Which row class reads which table; a test holds that every table has one."""

from rsdesign.building import rules, steps
from rsdesign.core.choices import ChoiceRow
from rsdesign.core.formula import Symbol
from rsdesign.design import catalogue
from rsdesign.equations.air import devices as air_devices
from rsdesign.equations.biofilter import media
from rsdesign.equations.costs import labour
from rsdesign.equations.fish import growth_bands, meals, species
from rsdesign.equations.heat import tables as heat_tables
from rsdesign.equations.pipes import tables as plumbing_tables
from rsdesign.equations.power import tables as standby_tables
from rsdesign.records import columns as log_columns
from rsdesign.records import rules as log_rules
from rsdesign.report import routines
from rsdesign.report.drawings import fish_shapes
from rsdesign.report.drawings.building import scales
from rsdesign.report.glossary import Term
from rsdesign.season import bacteria
from rsdesign.sizing.checks.rows import CheckRow, PartRow
from rsdesign.studies import cure_search, purchases
from rsdesign.studies.spread import inputs as spread_inputs

ROW_CLASSES = {
    "air_device_points": air_devices.AirPoint,
    "air_devices": air_devices.AirDevice,
    "air_types": air_devices.AirType,
    "backups": standby_tables.Backup,
    "build_steps": steps.StepRow,
    "build_tools": steps.Tool,
    "building_rules": rules.Rule,
    "lead_times": routines.LeadTime,
    "vessel_materials": rules.VesselMaterial,
    "bases": standby_tables.Base,
    "checks": CheckRow,
    "choices": ChoiceRow,
    "cures": cure_search.CureRow,
    "drawing_scales": scales.DrawingScale,
    "diffusers": air_devices.Diffuser,
    "filter_types": media.FilterType,
    "filter_vessels": media.Vessel,
    "findings": log_rules.FindingRow,
    "fittings": plumbing_tables.Fitting,
    "glossary": Term,
    "glazings": heat_tables.Glazing,
    "grains": catalogue.Grain,
    "growth_bands": growth_bands.GrowthBand,
    "insulation": heat_tables.Insulation,
    "judged_parts": PartRow,
    "meal_responses": meals.MealResponse,
    "kit_bases": log_columns.Reported,
    "kits": log_columns.ChartRow,
    "log_columns": log_columns.Column,
    "media": media.Medium,
    "pipe_parts": rules.PipePart,
    "pipes": plumbing_tables.Pipe,
    "plant_beds": catalogue.PlantBed,
    "polishing": catalogue.Polishing,
    "pumps": plumbing_tables.Pump,
    "purchases": purchases.Purchase,
    "rations": species.Ration,
    "ripening": bacteria.Parameter,
    "settlers": catalogue.Settler,
    "source_waters": catalogue.SourceWater,
    "fish_shapes": fish_shapes.FishShape,
    "species": species.Species,
    "species_sources": species.CellSource,
    "stages": species.Stage,
    "symbols": Symbol,
    "tasks": labour.Task,
    "treatments": standby_tables.Treatment,
    "uncertain_inputs": spread_inputs.UncertainInput,
    "tank_covers": heat_tables.TankCover,
    "tank_shapes": catalogue.Shape,
    "tank_sizes": catalogue.TankSize,
    "wall_heights": rules.WallHeight,
}
