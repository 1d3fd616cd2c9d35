"""Write tests/reference/typical_years.csv: mean air of each month of three hourly years.

Run with the ``reference`` extra installed: ``python tests/reference/make_typical_years.py``.  The
hourly files come with pvlib (BSD-3-Clause; typical years of the National Renewable Energy
Laboratory) and only their means are kept.  Nothing of this package is called.
"""

import csv
from importlib.metadata import version
from pathlib import Path

OUT = Path(__file__).with_name("typical_years.csv")
FILES = ("723170TYA.CSV", "703165TY.csv", "12839.tm2")


def hours(name: str):
    """Air of each hour of a file [°C] and its month; an hour bears the time of its end."""
    import pandas as pd
    import pvlib

    path = Path(pvlib.__file__).parent / "data" / name
    if path.suffix == ".tm2":
        table, _ = pvlib.iotools.read_tmy2(path)
        return 0.1 * table["DryBulb"].to_numpy(), table.index.month  # tenths of a degree, its start
    table, _ = pvlib.iotools.read_tmy3(path, map_variables=True)
    return table["temp_air"].to_numpy(), (table.index - pd.Timedelta(minutes=30)).month


def main() -> None:
    """Twelve rows for each file."""
    rows = []
    for name in FILES:
        air, months = hours(name)
        for month in range(1, 13):
            mine = air[months == month]
            rows.append((name, month, len(mine), f"{mine.mean():.6f}"))
    with OUT.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        file.write(
            "# Mean air of each month [°C], from the hourly files in pvlib/data of"
            f" pvlib {version('pvlib')} (BSD-3-Clause).\n"
        )
        writer.writerow(("file", "month", "hours", "air_mean"))
        writer.writerows(rows)


if __name__ == "__main__":
    main()
