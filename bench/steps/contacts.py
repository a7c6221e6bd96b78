"""Rebound of the pendulum and hysteresis friction of many models at once."""

import json

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq
from scipy.special import erf

from .impact import simulate

TEMPERATURES_C = [23, 0, -10, -20, -30]
MASS_KG, SPEED_M_S, RADIUS_M = 0.255, 1.98, 0.0075
SLIDING_M_S, PRESSURE_PA = 0.3, 0.3e6
POISSON, CONTACT_SHARE, CUT_OFF_SLOPE = 0.5, 0.5, 1.3
RMS_HEIGHT_M, HURST, Q0_PER_M = 0.0003, 0.8, 1500.0
HERTZ_TIME = 2.9432751843247043
STEPS = 96
POINTS_PER_DECADE = 60


def prepare(folder):
    compounds = [Models(*arrays(models)) for models in json.loads((folder / "models.json").read_text())]
    texture = Texture()
    return lambda: [[contacts(models, at_C, texture) for at_C in TEMPERATURES_C] for models in compounds]


def arrays(models):
    law = [models[0]["law"][key] for key in ("referenceTemperature_C", "c1", "c2_K", "tangentBelow_C")]
    return (
        np.tile(law, (len(models), 1)),
        np.array([model["equilibriumModulus_Pa"] for model in models]),
        np.array([model["times_s"] for model in models]),
        np.array([model["moduli_Pa"] for model in models]),
    )


class Models:
    """S models of one compound in tension: laws S × 4, equilibrium moduli S, times and moduli S × M."""

    def __init__(self, laws, equilibrium_Pa, times_s, moduli_Pa):
        self.laws, self.equilibrium_Pa, self.times_s, self.moduli_Pa = laws, equilibrium_Pa, times_s, moduli_Pa

    def log10_shift(self, temperature_C):
        reference_C, c1, c2_K, border_C = self.laws.T
        at_C = np.maximum(temperature_C, border_C)
        shift = -c1 * (at_C - reference_C) / (c2_K + at_C - reference_C)
        border_K = border_C + 273.15
        slope = c1 * c2_K * border_K**2 / (c2_K + border_C - reference_C) ** 2
        below = slope * (1 / (temperature_C + 273.15) - 1 / border_K)
        return np.where(temperature_C < border_C, shift + below, shift)


def contacts(models, temperature_C, texture):
    """The best model's numbers, with intervals from the others."""
    times_s = models.times_s * 10 ** models.log10_shift(temperature_C)[:, None]
    rebound, contact_s, textbook = rebounds(models.equilibrium_Pa, times_s, models.moduli_Pa)
    friction, halved, doubled, area, frequency_Hz = frictions(models.equilibrium_Pa, times_s, models.moduli_Pa, texture)
    return {
        "temperature_C": temperature_C,
        "rebound": interval(rebound),
        "contactTime_s": contact_s[0],
        "textbookFraction": textbook[0],
        "friction": interval(friction),
        "cutOff": {"halved": halved[0], "doubled": doubled[0]},
        "contactAreaRatio": area[0],
        "contactFrequency_Hz": frequency_Hz[0],
        "all": {"rebound": rebound, "contactTime_s": contact_s, "contactFrequency_Hz": frequency_Hz},
    }


def interval(values):
    best = values[0]
    if values.size == 1:
        return {"value": best, "low": best, "high": best}
    low, high = np.quantile(values[1:], [0.025, 0.975])
    return {"value": best, "low": min(best, low), "high": max(best, high)}


def rebounds(equilibrium_Pa, times_s, moduli_Pa):
    """Energy returned and contact time of the Hertz contact, and the textbook's fraction."""
    factor = 4 / 3 * np.sqrt(RADIUS_M) / (1 - POISSON**2)
    contact_s = np.full(equilibrium_Pa.size, 5e-3)
    for _ in range(80):
        x = np.pi / contact_s[:, None] * times_s
        share = moduli_Pa / (1 + x * x)
        storage, loss = equilibrium_Pa + (share * x * x).sum(axis=1), (share * x).sum(axis=1)
        deepest_m = (5 * MASS_KG * SPEED_M_S**2 / (4 * factor * np.hypot(storage, loss))) ** 0.4
        following = HERTZ_TIME * deepest_m / SPEED_M_S
        settled = np.abs(following / contact_s - 1).max() < 1e-9
        contact_s = following
        if settled:
            break
    textbook = np.exp(-np.pi * loss / storage)
    coarse, fine = (
        simulate(factor * equilibrium_Pa, times_s, factor * moduli_Pa, contact_s / steps, MASS_KG, SPEED_M_S, steps)
        for steps in (STEPS, 2 * STEPS)
    )
    fraction, time_s = (b + (b - a) / 3 for a, b in zip(coarse, fine))
    return np.clip(fraction, 0, 1), time_s, textbook


class Texture:
    """Self-affine spectrum with the wave numbers of the integral and the table of ∫ P³ dG."""

    def __init__(self):
        def slope(q1):
            ratio = q1 / Q0_PER_M
            height = np.expm1(-2 * HURST * np.log(ratio)) / (-2 * HURST)
            return RMS_HEIGHT_M * Q0_PER_M * np.sqrt(np.expm1((2 - 2 * HURST) * np.log(ratio)) / (2 - 2 * HURST) / height)

        q1 = np.exp(brentq(lambda x: slope(np.exp(x)) - CUT_OFF_SLOPE, np.log(1.001 * Q0_PER_M), np.log(1e6 * Q0_PER_M)))
        ends = [Q0_PER_M, q1 / 2, q1, 2 * q1]
        parts = [np.array([Q0_PER_M])]
        for low, high in zip(ends[:-1], ends[1:]):
            count = max(4, int(np.ceil(POINTS_PER_DECADE * np.log10(high / low))))
            parts.append(np.geomspace(low, high, count + 1)[1:])
        self.half = sum(part.size for part in parts[:2]) - 1
        self.full = sum(part.size for part in parts[:3]) - 1
        self.q = np.concatenate(parts)
        area = np.expm1(-2 * HURST * np.log(q1 / Q0_PER_M)) / (-2 * HURST)
        c0 = RMS_HEIGHT_M**2 / (2 * np.pi * Q0_PER_M**2 * area)
        self.q4_spectrum = self.q**4 * c0 * (self.q / Q0_PER_M) ** (-2 * (1 + HURST))
        # ∫ P³ dG in t = √G/(1 + √G), where the integrand is smooth on 0 … 1.
        t = np.linspace(0, 1, 2049)[1:-1]
        u = t / (1 - t)
        integrand = np.concatenate([[0], 2 * u * erf(1 / (2 * u)) ** 3 / (1 - t) ** 2, [2 / np.pi**1.5]])
        self.third_power = CubicSpline(np.linspace(0, 1, 2049), integrand).antiderivative()


def frictions(equilibrium_Pa, times_s, moduli_Pa, texture):
    """Hysteresis friction, also with the cut-off halved and doubled, contact area and contact frequency.

    The angle integrals are in closed form.
    """
    load_Pa = (1 - POISSON**2) * PRESSURE_PA
    pairs = times_s[:, None, :] / (times_s[:, :, None] + times_s[:, None, :])
    laplace = equilibrium_Pa[:, None] + np.einsum("sij,sj->si", pairs, moduli_Pa)
    residues = 2 * moduli_Pa * laplace
    a = SLIDING_M_S * texture.q[None, :, None] * times_s[:, None, :]
    s = np.sqrt(1 + a * a)
    share = a / (s * (1 + s))
    loss = 2 * np.pi * np.einsum("sqm,sm->sq", share, moduli_Pa)
    share *= a
    magnitude = 2 * np.pi * (equilibrium_Pa[:, None] ** 2 + np.einsum("sqm,sm->sq", share, residues))

    growth = texture.q4_spectrum * magnitude / (8 * load_Pa**2)
    step = np.log(texture.q[1:] / texture.q[:-1])
    log_ratio = np.log(growth[:, 1:] / growth[:, :-1])
    flat = np.abs(log_ratio) < 1e-6
    areas = np.where(flat, growth[:, 1:], np.diff(growth, axis=1) / np.where(flat, 1, log_ratio)) * step
    g = np.cumsum(areas, axis=1)
    x = 1 / (2 * np.sqrt(g))
    p = erf(x)
    first = g * p + np.exp(-x * x) / (2 * np.sqrt(np.pi) * x) - 0.5 * (1 - p)
    root = np.sqrt(g)
    integral = CONTACT_SHARE * first + (1 - CONTACT_SHARE) * texture.third_power(root / (1 + root))
    ratio = 4 * load_Pa * loss / magnitude
    terms = (ratio[:, 1:] + ratio[:, :-1]) / 2 * np.diff(integral, axis=1, prepend=0)
    mu = np.concatenate([np.zeros((g.shape[0], 1)), np.cumsum(terms, axis=1)], axis=1)
    full = texture.full
    half = mu[:, full] / 2
    k = (mu < half[:, None]).sum(axis=1)
    rows = np.arange(k.size)
    part = (half - mu[rows, k - 1]) / (mu[rows, k] - mu[rows, k - 1])
    q_half = texture.q[k - 1] * (texture.q[k] / texture.q[k - 1]) ** part
    return mu[:, full], mu[:, texture.half], mu[:, -1], p[:, full - 1], SLIDING_M_S * q_half / (2 * np.pi)
