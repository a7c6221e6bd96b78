"""Impacts and hysteresis friction with SciPy, straight from the formulas, for comparison.

Reads one JSON object on standard input, writes one on standard output. Lengths in m, moduli in Pa, times in s.
"""

import json
import sys

import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.interpolate import CubicSpline
from scipy.special import erf


def modulus(spectrum, omega):
    tau = np.asarray(spectrum["times_s"])
    strength = np.asarray(spectrum["moduli_Pa"])
    x = 1j * omega * tau
    return spectrum["equilibriumModulus_Pa"] + np.sum(strength * x / (1 + x))


def impact(case):
    """m x'' = -F, F = Ke y + sum q_i, q_i' = K_i y' - q_i / tau_i, y = x or x^(3/2), until F = 0."""
    tau = np.asarray(case["times_s"])
    strengths = np.asarray(case["strengths"])
    power, m, v0 = case["power"], case["mass_kg"], case["speed_m_s"]

    def shape(x):
        return np.sign(x) * abs(x) ** power

    def force(state):
        return case["equilibrium"] * shape(state[0]) + state[2:].sum()

    def rates(_, state):
        y_rate = power * abs(state[0]) ** (power - 1) * state[1]
        return np.concatenate(([state[1], -force(state) / m], strengths * y_rate - state[2:] / tau))

    def released(t, state):
        return force(state) if t > 1e-7 else 1.0

    released.terminal, released.direction = True, -1
    start = np.zeros(2 + tau.size)
    start[1] = v0
    run = solve_ivp(rates, (0, 1), start, method="Radau", rtol=1e-9, atol=1e-12 * v0, events=released)
    return {"reboundFraction": float((run.y_events[0][0][1] / v0) ** 2), "contactTime_s": float(run.t_events[0][0])}


def receding_impact(case):
    """The same with a contact that shrinks again (Ting, J. Appl. Mech. 33, 845, 1966).

    No internal variables: both history integrals are sums over all past steps with the kernel's mean over each,
    t1 from the sums themselves. Second order in the step; extrapolated from two of them.
    """
    tau = np.asarray(case["times_s"])[:, None]
    strengths = np.asarray(case["strengths"])[:, None]
    power, m, v0, end = case["power"], case["mass_kg"], case["speed_m_s"], case["contactTime_s"]

    def run(steps):
        h = 1.5 * end / steps
        lags = np.arange(steps + 1)[None, :]
        decays = np.exp(-lags * h / tau) * -np.expm1(-h / tau) * tau / h
        kernel = case["equilibrium"] + (strengths * decays).sum(axis=0)
        dx, dy = np.zeros(steps), np.zeros(steps)
        x, v, f, peak, before = 0.0, v0, 0.0, 0, 0.0
        for n in range(steps):
            weights = kernel[n::-1]
            f_next, shrinks = f, False
            for _ in range(6):
                x_next = x + h * v - h * h / (4 * m) * (f + f_next)
                dx[n] = x_next - x
                dy[n] = max(x_next, 0) ** power - max(x, 0) ** power
                if v < 0:
                    since = np.cumsum((weights * dx[: n + 1])[::-1])[::-1]
                    shrinks = since[peak] < 0
                if shrinks:
                    if since[0] <= 0:
                        f_next = 0.0
                        continue
                    k = np.nonzero(since[: peak + 1] > 0)[0][-1]
                    part = since[k] / (since[k] - since[k + 1])
                    loads = weights * dy[: n + 1]
                    f_next = loads[:k].sum() + part * loads[k]
                else:
                    f_next = (weights * dy[: n + 1]).sum()
            push = (weights * dx[: n + 1]).sum() if shrinks else f_next
            if n > 0 and push <= 0:
                left = before / (before - push)
                return ((v - left * h * f / (2 * m)) / v0) ** 2, (n + left) * h
            v, x, f, before = v - h * (f + f_next) / (2 * m), x_next, f_next, push
            if v > 0:
                peak = n + 1
        raise RuntimeError("the contact did not end")

    coarse, fine = run(1000), run(2000)
    rebound, time = (b + (b - a) / 3 for a, b in zip(coarse, fine))
    return {"reboundFraction": float(rebound), "contactTime_s": float(time)}


def angle_integrals(spectrum, w):
    def loss(phi):
        c = np.cos(phi)
        return c * modulus(spectrum, w * c).imag

    def magnitude(phi):
        return abs(modulus(spectrum, w * np.cos(phi))) ** 2

    quarter = dict(limit=200, epsabs=0, epsrel=1e-8)
    return 4 * quad(loss, 0, np.pi / 2, **quarter)[0], 4 * quad(magnitude, 0, np.pi / 2, **quarter)[0]


def friction(task):
    """mu for every case; the spectrum is at the reference temperature, a case carries v and log10 aT."""
    spectrum, texture = task["spectrum"], task["texture"]
    q0, q1, hurst = texture["q0_per_m"], texture["q1_per_m"], texture["hurstExponent"]
    height2 = quad(lambda q: 2 * np.pi * q * (q / q0) ** (-2 * (1 + hurst)), q0, q1, epsrel=1e-11)[0]
    c0 = texture["rmsHeight_m"] ** 2 / height2
    cases = task["cases"]
    reduced = [case["speed_m_s"] * 10 ** case["log10aT"] for case in cases]
    grid = np.linspace(np.log(q0 * min(reduced)) - 0.01, np.log(q1 * max(reduced)) + 0.01, 500)
    table = np.array([angle_integrals(spectrum, np.exp(x)) for x in grid])
    log_loss, log_magnitude = CubicSpline(grid, np.log(table[:, 0])), CubicSpline(grid, np.log(table[:, 1]))
    load = 0.75 * task["pressure_Pa"]

    def one(speed):
        def roughness(q):
            return q**3 * c0 * (q / q0) ** (-2 * (1 + hurst))

        def growth(q):
            return roughness(q) * np.exp(log_magnitude(np.log(q * speed))) / (8 * load**2)

        edges = np.concatenate(([q0], q0 * (1 + 10.0 ** np.arange(-9, -0.9, 0.5)), np.geomspace(1.2 * q0, q1, 12)))
        g_at, mu = 0.0, 0.0
        for low, high in zip(edges[:-1], edges[1:]):

            def integrand(q, low=low, g_at=g_at):
                g = g_at + quad(growth, low, q, epsrel=1e-9)[0]
                p = erf(0.5 / np.sqrt(g)) if g > 0 else 1.0
                s = 0.5 + 0.5 * p**2
                return 0.5 * roughness(q) * s * p * np.exp(log_loss(np.log(q * speed))) / load

            mu += quad(integrand, low, high, epsrel=1e-7)[0]
            g_at += quad(growth, low, high, epsrel=1e-9)[0]
        return {"frictionCoefficient": mu, "contactAreaRatio": float(erf(0.5 / np.sqrt(g_at)))}

    return [one(speed) for speed in reduced]


def main():
    task = json.load(sys.stdin)
    answer = {
        "impacts": [impact(case) for case in task.get("impacts", [])],
        "receding": [receding_impact(case) for case in task.get("receding", [])],
        "angles": [angle_integrals(task["spectrum"], w) for w in task.get("frequencies_rad_s", [])],
    }
    if "cases" in task:
        answer["friction"] = friction(task)
    json.dump(answer, sys.stdout)


main()
