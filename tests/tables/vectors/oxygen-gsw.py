"""Oxygen at rest with the air by an independent fit (Garcia & Gordon 1992), for tests/tables.

Command: python3 oxygen-gsw.py > oxygen-gsw.json   (Debian package python3-gsw)
"""
import json

import gsw

GRAMS_PER_MOL = 31.998
rows = []
for salinity in (0, 1, 2, 5, 10, 20, 35, 40):
    for temp in range(0, 41, 1 if salinity in (0, 5) else 5):
        umol_kg = gsw.O2sol_SP_pt(salinity, temp)
        density = gsw.rho_t_exact(gsw.SA_from_SP(salinity, 0, 0, 0), temp, 0)
        rows.append([temp, salinity, round(float(umol_kg * density * GRAMS_PER_MOL * 1e-6), 6)])
print(json.dumps({
    "package": "gsw",
    "version": gsw.__version__,
    "command": "python3 oxygen-gsw.py > oxygen-gsw.json",
    "columns": ["tempC", "salinityGkg", "mgL"],
    "rows": rows,
}).replace("], [", "],\n["))
