"""Which row class reads which table; a test holds that every table has one."""

from rsdesign import catalogue
from rsdesign.costs import labour
from rsdesign.fish import species
from rsdesign.parts import air_devices, heat_tables, media, plumbing_tables, standby_tables
from rsdesign.studies import purchases
from rsdesign.working import Symbol

ROW_CLASSES = {
    "air_device_points": air_devices.AirPoint,
    "air_devices": air_devices.AirDevice,
    "air_types": air_devices.AirType,
    "backups": standby_tables.Backup,
    "bases": standby_tables.Base,
    "diffusers": air_devices.Diffuser,
    "filter_types": media.FilterType,
    "filter_vessels": media.Vessel,
    "fittings": plumbing_tables.Fitting,
    "glazings": heat_tables.Glazing,
    "grains": catalogue.Grain,
    "insulation": heat_tables.Insulation,
    "media": media.Medium,
    "pipes": plumbing_tables.Pipe,
    "plant_beds": catalogue.PlantBed,
    "polishing": catalogue.Polishing,
    "pumps": plumbing_tables.Pump,
    "purchases": purchases.Purchase,
    "rations": species.Ration,
    "settlers": catalogue.Settler,
    "source_waters": catalogue.SourceWater,
    "species": species.Species,
    "species_sources": species.CellSource,
    "stages": species.Stage,
    "symbols": Symbol,
    "tasks": labour.Task,
    "treatments": standby_tables.Treatment,
    "tank_covers": heat_tables.TankCover,
    "tank_shapes": catalogue.Shape,
    "tank_sizes": catalogue.TankSize,
}
