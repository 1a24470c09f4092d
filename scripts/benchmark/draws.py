#!/usr/bin/env python3
"""The same trips drawn by NumPy, as docs/formats-additions.md and the plan's conventions have them: lag, speed, heading and
place in the opening at random, the body's eight corners' box at the flash, and the share of bodies inside a given box.

Drawn in chunks that stay in the processor's cache, which is the fastest for NumPy.

usage: draws.py CASE.json -> prints JSON: seconds (best of the given repeats), how many were drawn and how many held inside.
Only the drawing and counting are timed, not the start of Python.
"""
import json
import sys
import time

import numpy as np

G = 9.80665


def trips(c, rng, n):
    tau = c["lag"] + c["scale"] * (rng.standard_t(c["df"], n) if c["df"] else rng.standard_normal(n))
    while np.any(tau <= 0):
        bad = tau <= 0
        tau[bad] = c["lag"] + c["scale"] * (rng.standard_t(c["df"], bad.sum()) if c["df"] else rng.standard_normal(bad.sum()))
    tau += c["delay"]
    speed = c["speed"] + c["speed_sd"] * rng.standard_normal(n)
    while np.any(speed <= 0):
        bad = speed <= 0
        speed[bad] = c["speed"] + c["speed_sd"] * rng.standard_normal(bad.sum())
    e = c["elevation"] + c["elevation_sd"] * rng.standard_normal(n)
    a = c["azimuth_sd"] * rng.standard_normal(n)
    y = c["exit"][0] * (rng.random(n) - 0.5)
    z = c["exit"][1] * (rng.random(n) - 0.5)
    return tau, speed, e, a, y, z


def bodies(c, tau, speed, e, a, y, z):
    """Middle and half extent of each body along the three axes."""
    ce, se, ca, sa = np.cos(e), np.sin(e), np.cos(a), np.sin(a)
    vx, vy, vz = speed * ce * ca, speed * se, speed * ce * sa
    px, py, pz = vx * tau, y + vy * tau, z + vz * tau
    if c["motion"] == "hop":
        py -= G * tau**2 / 2
        vy = vy - G * tau
    v = np.sqrt(vx**2 + vy**2 + vz**2)
    dx, dy, dz = vx / v, vy / v, vz / v
    r = np.hypot(dx, dz)
    ux, uy, uz = -dy * dx / r, r, -dy * dz / r
    wx, wz = -dz / r, dx / r
    mid = c["behind_nose"] - c["length"] / 2
    cx, cy, cz = px + mid * dx, py + mid * dy, pz + mid * dz
    l, h, w = c["length"] / 2, c["height"] / 2, c["width"] / 2
    hx = l * abs(dx) + h * abs(ux) + w * abs(wx)
    hy = l * abs(dy) + h * abs(uy)
    hz = l * abs(dz) + h * abs(uz) + w * abs(wz)
    return cx, cy, cz, hx, hy, hz


def inside(c, b):
    cx, cy, cz, hx, hy, hz = b
    (x0, x1), (y0, y1), (z0, z1) = c["along"], c["up"], c["depth"]
    return np.count_nonzero((cx - hx >= x0) & (cx + hx <= x1) & (cy - hy >= y0) & (cy + hy <= y1) & (cz - hz >= z0) & (cz + hz <= z1))


def main():
    c = json.load(open(sys.argv[1]))
    rng = np.random.default_rng(c["seed"])
    best, cpu, held, draws = float("inf"), float("inf"), 0, 0
    for _ in range(c["repeats"]):
        t, p = time.perf_counter(), time.process_time()
        for done in range(0, c["draws"], c["chunk"]):
            n = min(c["chunk"], c["draws"] - done)
            held += int(inside(c, bodies(c, *trips(c, rng, n))))
            draws += n
        best, cpu = min(best, time.perf_counter() - t), min(cpu, time.process_time() - p)
    print(json.dumps({"seconds": best, "cpu": cpu, "held": held, "draws": draws}))


main()
