"""SciPy's answers to the fits that Frostline makes itself. Answers one {"task": ..., ...} a line, as JSON.

Tasks: nnls, least_squares (a NIST formula), superposition (least_squares outside, nnls inside),
savgol, area (quad over two polylines), loss_from_relaxation (quad with weight cos).
"""

import json
import sys

import numpy as np
from scipy.integrate import quad
from scipy.optimize import curve_fit, least_squares, nnls
from scipy.signal import savgol_filter


def task_nnls(d):
    out = []
    for system in d["systems"]:
        a, b = np.array(system["matrix"]), np.array(system["rhs"])
        x, norm = nnls(a, b)
        out.append({"solution": x.tolist(), "norm": norm})
    return out


def task_least_squares(d):
    names = {"exp": np.exp, "arctan": np.arctan, "pi": np.pi}
    out = []
    for p in d["problems"]:
        x, y = np.array(p["x"], float), np.array(p["y"], float)
        code = compile(p["model"], "model", "eval")

        def residuals(b):
            with np.errstate(all="ignore"):
                return eval(code, names, {"x": x, **{f"b{j + 1}": v for j, v in enumerate(b)}}) - y

        start = [q["start2"] for q in p["parameters"]]
        fit = least_squares(
            residuals, start, jac="3-point", x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=5000
        )
        out.append({"parameters": fit.x.tolist(), "residualSumOfSquares": float(2 * fit.cost)})
    return out


def task_superposition(d):
    omega, temperature = np.array(d["omega"]), np.array(d["temperature"])
    storage, loss = np.array(d["storage"]), np.array(d["loss"])
    times, reference = np.array(d["times"]), d["reference"]
    n = len(omega)

    def residuals(p):
        s, kappa = p
        delta = temperature - reference
        x = (omega * 10 ** (-s * delta / (1 + kappa * delta)))[:, None] * times[None, :]
        a = np.empty((2 * n, len(times) + 1))
        a[:n, :-1] = x**2 / (1 + x**2) / storage[:, None]
        a[n:, :-1] = x / (1 + x**2) / loss[:, None]
        a[:n, -1] = 1 / storage
        a[n:, -1] = 0
        m, _ = nnls(a, np.ones(2 * n), maxiter=5000)
        return a @ m - 1

    fit = least_squares(residuals, d["start"], x_scale=[0.1, 0.01], xtol=1e-10, ftol=1e-12, diff_step=1e-5)
    return {"slope": fit.x[0], "bend": fit.x[1], "residualSumOfSquares": float(2 * fit.cost)}


def task_savgol(d):
    return savgol_filter(d["y"], d["window"], d["order"], deriv=d["derivative"], delta=d["step"]).tolist()


def task_area(d):
    out = []
    for pair in d["pairs"]:
        (xa, ya), (xb, yb) = pair["first"], pair["second"]
        low, high = max(ya[0], yb[0]), min(ya[-1], yb[-1])
        knots = sorted(v for v in [*ya, *yb] if low < v < high)
        value, _ = quad(
            lambda y: np.interp(y, ya, xa) - np.interp(y, yb, xb), low, high, points=knots, limit=500, epsabs=1e-12
        )
        out.append(value / (high - low))
    return out


def task_kraus(d):
    # M' = large + (rest - large)/(1 + (g/gc)^2m), by curve_fit on ln M'.
    out = []
    for sweep in d["sweeps"]:
        x, y = np.log(sweep["strain"]), np.log(np.array(sweep["storage"]) / sweep["storage"][0])
        law = lambda x, rest, large, critical, m: np.log(large + (rest - large) / (1 + np.exp(2 * m * (x - critical))))
        best, _ = curve_fit(law, x, y, p0=[1.02, np.exp(y[-1]) * 0.9, np.log(0.01), 0.6], xtol=1e-13, ftol=1e-13)
        out.append([best[0] * sweep["storage"][0], best[1] * sweep["storage"][0], float(np.exp(best[2])), best[3]])
    return out


def task_loss_from_relaxation(d):
    times, moduli = np.array(d["times"]), np.array(d["moduli"])
    out = []
    for w in d["omega"]:
        # M'' = w * integral of (M(t) - Me) cos(wt) dt, term by term so that quad sees one scale at a time.
        total = 0.0
        for t, m in zip(times, moduli):
            value, _ = quad(lambda u: np.exp(-u), 0, 50, weight="cos", wvar=w * t, epsabs=1e-14, limit=500)
            total += m * w * t * value
        out.append(total)
    return out


if __name__ == "__main__":
    for line in sys.stdin:
        request = json.loads(line)
        print(json.dumps(globals()["task_" + request["task"]](request)), flush=True)
