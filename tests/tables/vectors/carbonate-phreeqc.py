"""Speciation, air equilibrium, mixing and ammonia by PHREEQC, for tests/tables.

Command: python carbonate-phreeqc.py > carbonate-phreeqc.json   (pip install phreeqpython==1.6.2, phreeqc.dat)
PHREEQC works with the activities of ions; "dilute" rows hold so few that activity and concentration agree.
"""
import json
import math
from importlib.metadata import version

from phreeqpython import PhreeqPython

MEQ_PER_DKH = 10 / 28.0385
VAPOUR = {5: 0.00860, 15: 0.01682, 20: 0.02307, 25: 0.03126, 30: 0.04187}
pp = PhreeqPython(database="phreeqc.dat")


def water(kh, ph, temp):
    return pp.add_solution({
        "units": "mmol/kgw", "temp": temp, "pH": ph,
        "Alkalinity": kh * MEQ_PER_DKH, "Na": "1 charge",
    })


def co2_mgl(solution):
    # moles -> mg per litre of solution
    return solution.species["CO2"] / solution.volume * 44.009e3


def dic(solution):
    # moles of carbon in every form -> mmol per litre
    carbon = {"CO2": 1, "(CO2)2": 2, "HCO3-": 1, "CO3-2": 1, "NaHCO3": 1, "NaCO3-": 1}
    return sum(n * solution.species.get(name, 0) for name, n in carbon.items()) / solution.volume * 1e3


co2, air, mix, ammonia = [], [], [], []
for kind, hardnesses in (("dilute", (0.05, 0.1)), ("real", (0.5, 1, 2, 4, 8, 15))):
    for kh in hardnesses:
        for temp in (5, 15, 20, 25, 30):
            for ph in (6.0, 6.5, 7.0, 7.5, 8.0):
                s = water(kh, ph, temp)
                co2.append([kind, kh, ph, temp, round(co2_mgl(s), 6), round(dic(s), 6), round(s.I, 6)])
            for ppm in (420, 800, 1500):
                s = water(kh, 7.5, temp)
                s.equalize(["CO2(g)"], [math.log10(ppm * 1e-6 * (1 - VAPOUR[temp]))])
                air.append([kind, kh, temp, ppm, round(s.pH, 5), round(s.I, 6)])
pairs = {
    "dilute": [((70, 0.02, 6.0), (30, 0.15, 7.2)), ((50, 0.1, 6.5), (50, 0.1, 7.5)), ((75, 0.05, 6.2), (25, 0.2, 7.0))],
    "real": [((70, 1, 6.4), (30, 8, 8.0)), ((50, 4, 7.0), (50, 4, 8.0)), ((75, 2, 6.6), (25, 10, 7.6)),
             ((90, 6, 7.8), (10, 0.5, 5.8)), ((60, 3, 7.2), (40, 3, 8.2)), ((80, 0.5, 6.0), (20, 12, 8.3))],
}
for kind, waters in pairs.items():
    for (va, kha, pha), (vb, khb, phb) in waters:
        for temp in (15, 25):
            a, b = water(kha, pha, temp), water(khb, phb, temp)
            m = pp.mix_solutions({a: va / 100, b: vb / 100})
            mix.append([kind, va, kha, pha, vb, khb, phb, temp, round(m.pH, 5), round(dic(m), 6)])
for temp in (0, 5, 10, 15, 20, 25, 30, 35, 40):
    for ph in (6.0, 7.0, 8.0, 9.0, 10.0):
        s = pp.add_solution({"units": "umol/kgw", "temp": temp, "pH": ph, "N(-3)": 1})
        nh3, nh4 = s.species["NH3"], s.species["NH4+"]
        ammonia.append([temp, ph, round(nh3 / (nh3 + nh4), 8)])

print(json.dumps({
    "package": "phreeqpython",
    "version": version("phreeqpython"),
    "command": "python carbonate-phreeqc.py > carbonate-phreeqc.json",
    "co2Columns": ["kind", "khDKh", "pH", "tempC", "co2MgL", "dicMmolL", "ionicStrength"],
    "co2": co2,
    "airColumns": ["kind", "khDKh", "tempC", "co2Ppm", "pH", "ionicStrength"],
    "air": air,
    "mixColumns": ["kind", "aL", "aKhDKh", "aPH", "bL", "bKhDKh", "bPH", "tempC", "pH", "dicMmolL"],
    "mix": mix,
    "ammoniaColumns": ["tempC", "pH", "share"],
    "ammonia": ammonia,
}).replace("], [", "],\n["))
