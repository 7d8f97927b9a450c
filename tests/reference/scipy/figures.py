#!/usr/bin/env python3
"""Figures of SciPy and NumPy that tests/reference/recorded.rs holds the program against.

    python3 -m venv venv && venv/bin/pip install scipy==1.17.1 numpy==2.4.6
    venv/bin/python tests/reference/scipy/figures.py > tests/reference/scipy/figures.json

Recorded with Python 3.11, SciPy 1.17.1, NumPy 2.4.6, seed 20260 (PCG64). The points are drawn here, not measured.
Run by hand when a figure is added; no check runs it.
"""

import json
import sys

import numpy as np
from scipy import optimize, stats

SEED = 20260
rng = np.random.default_rng(SEED)
TIGHT = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15}


def circle(n, arc_deg, radius, centre, noise):
    """Points at even clocks over an arc, the least-squares circle and its covariance for points of u 1."""
    clocks = np.radians(np.arange(n) * arc_deg / (n if arc_deg == 360 else n - 1))
    radii = radius + noise * rng.standard_normal(n)
    points = np.round(np.c_[centre[0] + radii * np.cos(clocks), centre[1] + radii * np.sin(clocks)], 6)

    def residuals(p):
        return np.hypot(points[:, 0] - p[0], points[:, 1] - p[1]) - p[2]

    fit = optimize.least_squares(residuals, [*centre, radius], method="lm", **TIGHT)
    covariance = np.linalg.inv(fit.jac.T @ fit.jac)
    left = residuals(fit.x)
    return {
        "points": points.tolist(), "centre": fit.x[:2].tolist(), "radius": fit.x[2],
        "covariance": covariance.tolist(), "peak_to_valley": float(left.max() - left.min()),
    }


def cylinder(depths, n, radius, lean, noise):
    """Rings of points about a leaning axis: the least-squares cylinder, and the minimum zone from there on."""
    points = []
    for depth in depths:
        for k in range(n):
            clock = 2 * np.pi * (k + 0.3) / n
            r = radius + noise * rng.standard_normal()
            points.append([r * np.cos(clock) + lean[0] * depth, r * np.sin(clock) + lean[1] * depth, -depth])
    points = np.round(points, 6)

    def distances(p):
        direction = np.array([p[2], p[3], 1.0]) / np.sqrt(p[2] ** 2 + p[3] ** 2 + 1)
        away = points - [p[0], p[1], 0.0]
        return np.linalg.norm(away - np.outer(away @ direction, direction), axis=1)

    start = [0.0, 0.0, -lean[0], -lean[1], radius]
    fit = optimize.least_squares(lambda p: distances(p) - p[4], start, method="lm", x_scale=[1, 1, 0.01, 0.01, 1], **TIGHT)
    left = distances(fit.x) - fit.x[4]
    # The least half width h with |distance - r| <= h, in units of the noise.
    best = None
    for attempt in range(8):
        shift = (0 if attempt == 0 else noise) * rng.standard_normal(5) * [1, 1, 0.01, 0.01, 1]
        p0 = np.r_[fit.x + shift, np.abs(left).max() * 1.5]
        scale = np.array([noise, noise, noise / 60, noise / 60, noise, noise])
        rows = [
            {"type": "ineq", "fun": lambda q: (q[5] * noise - (distances(fit.x + q[:5] * scale[:5]) - fit.x[4] - q[4] * noise)) / noise},
            {"type": "ineq", "fun": lambda q: (q[5] * noise + (distances(fit.x + q[:5] * scale[:5]) - fit.x[4] - q[4] * noise)) / noise},
        ]
        q0 = np.r_[(p0[:5] - fit.x) / scale[:5], p0[5] / noise]
        found = optimize.minimize(lambda q: q[5], q0, constraints=rows, method="SLSQP", options={"ftol": 1e-14, "maxiter": 2000})
        # Measured from all points at the axis found; never too small.
        apart = distances(fit.x + found.x[:5] * scale[:5])
        zone = float(apart.max() - apart.min())
        best = zone if best is None else min(best, zone)
    return {
        "points": points.tolist(), "at_z_0": fit.x[:2].tolist(), "slope": fit.x[2:4].tolist(), "radius": fit.x[4],
        "cylindricity": float(left.max() - left.min()), "zone": best,
    }


def harmonics(n, noise):
    """Radii at uneven clocks and the orders 0 to 8 by linear least squares."""
    clocks = np.round(np.sort(rng.uniform(0, 360, n)), 3)
    lobes = {2: (0.012, 40.0), 3: (0.004, 100.0), 4: (0.008, 15.0), 7: (0.002, 20.0)}
    radii = 48.0 + noise * rng.standard_normal(n)
    for order, (size, phase) in lobes.items():
        radii += size * np.cos(order * np.radians(clocks - phase))
    radii = np.round(radii, 6)
    columns = [np.ones(n)]
    for order in range(1, 9):
        columns += [np.cos(order * np.radians(clocks)), np.sin(order * np.radians(clocks))]
    parts = np.linalg.lstsq(np.array(columns).T, radii, rcond=None)[0]
    told = []
    for order in range(1, 9):
        c, s = parts[2 * order - 1 : 2 * order + 1]
        told.append({"order": order, "amplitude": float(np.hypot(c, s)), "clock": float(np.degrees(np.arctan2(s, c)) / order % (360 / order))})
    return {"readings": np.c_[clocks, radii].tolist(), "mean": float(parts[0]), "told": told}


tails = {
    "f": [[f, a, b, stats.f.sf(f, a, b)] for f, a, b in
          [(1.5, 1, 7), (4.0, 2, 21), (9.4, 5, 43), (2.2, 5, 19), (12.0, 1, 15), (30.0, 3, 60), (0.4, 6, 30)]],
    "chi_squared": [[x, n, stats.chi2.sf(x, n)] for x, n in
                    [(0.5, 1), (3.841, 1), (9.2, 4), (40.0, 22), (30.0, 45), (120.0, 60), (29.83, 2)]],
    "chi_squared_95": [[n, stats.chi2.ppf(0.95, n)] for n in [1, 2, 5, 12, 48, 96, 300]],
    "f_95": [[a, b, stats.f.ppf(0.95, a, b)] for a, b in [(1, 10), (3, 20), (5, 40), (6, 90)]],
}

figures = {
    "seed": SEED,
    "circles": {
        "eight points all round": circle(8, 360, 48.0, (60.0, 0.02), 0.003),
        "thirty-six points all round": circle(36, 360, 50.5, (170.012, -0.008), 0.004),
        "a third of a circle": circle(20, 120, 40.0, (0.0, 0.0), 0.002),
    },
    "cylinders": {
        "three rings": cylinder([20.0, 70.0, 125.0], 8, 48.0, (0.0003, -0.0002), 0.004),
        "five rings": cylinder([10.0, 40.0, 70.0, 100.0, 130.0], 12, 50.5, (-0.0005, 0.0004), 0.006),
    },
    "harmonics": harmonics(40, 0.0005),
    "tails": tails,
}
json.dump(figures, sys.stdout, indent=1)
sys.stdout.write("\n")
