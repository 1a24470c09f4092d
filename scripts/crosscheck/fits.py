"""Fits the runs of a folder with SciPy and compares with leadmark's estimates.

york.*  errors in speed and advance: scipy.odr, covariance not scaled; differences allowed 1e-4 of a standard uncertainty
        (odr itself stops at about 1e-7 of the unknowns), and of the standard uncertainties 1e-4
full.*  restricted likelihood with the covariance matrix of all shots written out, maximised by scipy.optimize;
        differences allowed 1e-5 of a standard uncertainty, 1e-5 of standard uncertainties and of the spread
"""
import csv, sys, os
import numpy as np
import scipy
from scipy import linalg, odr, optimize

print(f"Python {sys.version.split()[0]}, SciPy {scipy.__version__}, NumPy {np.__version__}")
folder, bad = sys.argv[1], 0


def read(name):
    with open(os.path.join(folder, name), newline="") as f:
        return list(csv.DictReader(f))


def compare(run, how, what, ours, theirs, scale, allowed=1e-5):
    global bad
    d = abs(ours - theirs) / scale
    flag = "" if d <= allowed else "   DISAGREES"
    bad += flag != ""
    print(f"{run:<22s} {how:<12s} {what:<8s} {ours:.10g} {theirs:.10g}  {d:.1e}{flag}")


def model(s, g, lag, t):
    tau, drop = lag + s["delay"], s["drop"] > 0
    v = np.where(drop, np.sqrt(2 * g * s["drop"]), s["speed"])
    a = np.where(drop, g, 0.0)
    height = np.where(drop, tau * g / np.where(v > 0, v, 1), 0.0)
    gravity = np.where(drop, tau * v / (2 * g) + tau**2 / 2, 0.0)
    return v * tau + a * (tau**2 + t) / 2, v + a * tau, height, gravity


def covariance(s, c, slope, height, gravity, t):
    m = np.diag(s["advance_u"] ** 2 + (height * s["drop_shot_u"]) ** 2 + t * slope**2)
    for h in np.unique(s["drop"][s["drop"] > 0]):
        z = np.where(s["drop"] == h, height * s["drop_u"], 0.0)
        m += np.outer(z, z)
    return m + np.outer(height, height) * c["drop_common_u"] ** 2 + np.outer(gravity, gravity) * c["gravity_u"] ** 2


def restricted(s, c):
    lag, t = 0.05, 1e-6
    for turn in range(60):
        f, slope, height, gravity = model(s, c["gravity"], lag, t)
        x = np.column_stack([slope, np.ones_like(slope)])
        y = s["advance"] - f + slope * lag

        def at(q):
            low = linalg.cholesky(covariance(s, c, slope, height, gravity, np.exp(q)), lower=True)
            xw, yw = linalg.solve_triangular(low, x, lower=True), linalg.solve_triangular(low, y, lower=True)
            info = xw.T @ xw
            beta = linalg.solve(info, xw.T @ yw)
            r = yw - xw @ beta
            return np.log(np.diag(low)).sum() + 0.5 * np.linalg.slogdet(info)[1] + 0.5 * r @ r, beta, linalg.inv(info)

        half = 6 / min(turn + 1, 12) ** 0.5
        q = optimize.minimize_scalar(lambda q: at(q)[0], bounds=(np.log(t) - half, np.log(t) + half), method="bounded", options={"xatol": 1e-11}).x
        _, beta, cov = at(q)
        moved, lag, t = abs(beta[0] - lag), beta[0], float(np.exp(q))
        if moved < 1e-13 and turn > 12:
            break
    return {"lag": lag, "trip": beta[1], "u_lag": cov[0, 0] ** 0.5, "u_trip": cov[1, 1] ** 0.5, "spread": t**0.5}


def york(s):
    data = odr.RealData(s["speed"], s["advance"], sx=s["speed_u"], sy=s["advance_u"])
    out = odr.ODR(data, odr.unilinear, beta0=[0.05, 0.0], sstol=1e-15, partol=1e-15, maxit=1000).run()
    return {"lag": out.beta[0], "trip": out.beta[1]}, {"u_lag": out.cov_beta[0, 0] ** 0.5, "u_trip": out.cov_beta[1, 1] ** 0.5}


ours, conditions = {}, {r["run"]: {k: float(v) for k, v in r.items() if k != "run"} for r in read("conditions.csv")}
for r in read("estimates.csv"):
    ours.setdefault(r["run"], {})[r["quantity"]] = float(r["value"])
for name, e in ours.items():
    rows = read(name + ".csv")
    s = {k: np.array([float(r[k]) for r in rows]) for k in rows[0]}
    if name.startswith("full."):
        for what, value in restricted(s, conditions[name]).items():
            compare(name, "restricted", what, e[what], value, e.get("u_" + what, e[what]))
    if name.startswith("york."):
        values, spans = york(s)
        for what, value in values.items():
            compare(name, "odr", what, e[what], value, e["u_" + what], 1e-4)
        for what, value in spans.items():
            compare(name, "odr", what, e["york_" + what], value, e["york_" + what], 1e-4)
print("SciPy agrees" if bad == 0 else f"{bad} figures disagree with SciPy")
sys.exit(bad > 0)
