"""Makes quality-vectors.json: 12,000 points a test, flagged by a public reference library.

Library: ioos_qc 3.0.0 (Apache-2.0), with numpy 2.4.6 and pandas 3.1.1, on Python 3.11.
    python3 -m venv qc && qc/bin/pip install ioos_qc==3.0.0
    qc/bin/python tests/tables/vectors/make-quality-vectors.py > tests/tables/vectors/quality-vectors.json

Values are whole numbers ("code") times a step, so that both sides start from the very same doubles; null = missing.
Times are whole seconds from the start, as distances to the one before. Flags are runs: "1:57 4" is 57 times 1, then
one 4.
Nothing of the library is copied here; it is only asked.
"""

import itertools
import json
import random

import numpy as np
from ioos_qc import qartod

POINTS = 12_000
rng = random.Random(20260815)


def codes_of_water(noise, calm_share, spike_share, spike_codes):
    """A wandering value with calm stretches, steps, spikes and holes, in whole steps."""
    out = []
    level = 0.0
    calm_left = 0
    for _ in range(POINTS):
        if calm_left == 0 and rng.random() < calm_share:
            calm_left = rng.randint(3, 60)
        if calm_left > 0:
            calm_left -= 1
        else:
            level += rng.gauss(0, noise) - 0.002 * level
            if rng.random() < 0.002:
                level += rng.choice((-1, 1)) * rng.uniform(5, 40)
        code = round(level)
        if rng.random() < spike_share:
            code += rng.choice((-1, 1)) * (rng.randint(*spike_codes) if rng.random() < 0.4 else rng.randint(2, 24))
        out.append(None if rng.random() < 0.01 else code)
    return out


def values_of(codes, base, step):
    return np.array([np.nan if code is None else (base + code) * step for code in codes])


def gaps_of(usual, jitter):
    """An even number of points gives an odd number of distances, so that the median is one of them."""
    return [0] + [usual if rng.random() < 0.6 else usual + rng.randint(-jitter, jitter) for _ in range(POINTS - 1)]


def times_of(gaps):
    return np.datetime64("2026-01-01T00:00:00", "s") + np.cumsum(gaps).astype("timedelta64[s]")


def runs_of(flags):
    runs = [(int(flag), len(list(same))) for flag, same in itertools.groupby(np.ma.filled(flags, 9))]
    return " ".join(f"{flag}:{count}" if count > 1 else str(flag) for flag, count in runs)


temperature = {"base": 400, "step": 0.0625, "codes": codes_of_water(0.9, 0.02, 0.02, (3, 900)), "gaps": gaps_of(60, 25)}
ph = {"base": 720, "step": 0.01, "codes": codes_of_water(1.5, 0.03, 0.03, (2, 300)), "gaps": gaps_of(30, 12)}

cases = []
for name, series in (("temperature", temperature), ("ph", ph)):
    values = values_of(series["codes"], series["base"], series["step"])
    times = times_of(series["gaps"])
    middle = series["base"] * series["step"]
    step = series["step"]
    fail = [middle - 60 * step, middle + 60 * step]
    suspect = [middle - 25 * step, middle + 25 * step]

    def add(test, limits, flags):
        cases.append({"series": name, "test": test, "limits": limits, "flags": runs_of(flags)})

    add("gross-range", {"fail": fail, "suspect": suspect}, qartod.gross_range_test(values, fail, suspect))
    add("gross-range", {"fail": fail}, qartod.gross_range_test(values, fail))
    for low, high in ((2, 6), (4, 20)):
        for form in ("average", "differential"):
            limits = {"suspect": low * step, "fail": high * step, "form": form}
            add("spike", limits, qartod.spike_test(values, low * step, high * step, form))
    for low, high in ((0.03, 0.2), (0.1, 0.5)):
        limits = {"suspectPerSecond": low * step, "failPerSecond": high * step}
        add("rate-of-change", limits, qartod.rate_of_change_test(values, times, low * step, high * step))
    for suspect_s, fail_s, tolerance in ((300, 900, 0.5), (240, 600, 3.5), (720, 2400, 6)):
        limits = {"suspectMs": suspect_s * 1000, "failMs": fail_s * 1000, "tolerance": tolerance * step}
        add("flat-line", limits, qartod.flat_line_test(values, times, suspect_s, fail_s, tolerance * step))
    limits = {"suspect": 12 * step, "fail": 6 * step, "windowMs": 1800_000, "fewest": 10, "measure": "range"}
    flags = qartod.attenuated_signal_test(values, times, 12 * step, 6 * step, 1800, min_obs=10, check_type="range")
    add("attenuated-signal", limits, flags)
    limits = {"lowFrac": 0.001, "highFrac": 0.999, "margin": 4 * step, "fewest": 100}
    add("climatology", limits, qartod.percentile_range_test(values, 0.1, 99.9, 4 * step))

print("{")
print('"madeWith": "ioos_qc 3.0.0, numpy 2.4.6, pandas 3.1.1",')
for name, series in (("temperature", temperature), ("ph", ph)):
    print(f'"{name}": {json.dumps(series, separators=(",", ":"))},')
print('"cases": [')
print(",\n".join(json.dumps(case, separators=(",", ":")) for case in cases))
print("]\n}")
