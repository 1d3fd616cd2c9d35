"""Numbers, units, equations, choices and tables: what everything else is built on."""
