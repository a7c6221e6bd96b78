"""WLF and Arrhenius fitted to the measured shifts by generalised least squares."""

import numpy as np
from scipy.optimize import brentq, least_squares, minimize_scalar
from scipy.special import gammaincinv

ZERO_K = 273.15
# Parameters that a border counts for: one, but sought over the whole range.
BORDER_COST = 4


class Law:
    """log10 aT = −sΔ/(1 + κΔ), below `border_C` as its tangent in 1/T; or s (1000/T − 1000/T0)."""

    def __init__(self, kind, reference_C, border_C=None):
        self.kind, self.reference_C, self.border_C = kind, reference_C, border_C
        self.size = 2 if kind == "wlf" else 1

    def shift(self, p, temperature_C):
        """log10 aT and its derivatives, K and K × size."""
        t = np.asarray(temperature_C, dtype=float)
        if self.kind == "arrhenius":
            x = 1000 / (t + ZERO_K) - 1000 / (self.reference_C + ZERO_K)
            return p[0] * x, x[:, None]
        s, kappa = p
        below = np.zeros(t.size, bool) if self.border_C is None else t < self.border_C
        difference = np.where(below, self.border_C or 0, t) - self.reference_C
        denominator = 1 + kappa * difference
        value = -s * difference / denominator
        ds, dk = -difference / denominator, s * difference**2 / denominator**2
        if below.any():
            border_K = self.border_C + ZERO_K
            lever = np.where(below, border_K**2 * (1 / border_K - 1 / (t + ZERO_K)), 0)
            value = value - s / denominator**2 * lever
            ds = ds - lever / denominator**2
            dk = dk + 2 * s * difference / denominator**3 * lever
        return value, np.stack([ds, dk], axis=1)

    def largest_bend(self, temperature_C):
        covered = temperature_C if self.border_C is None else temperature_C[temperature_C >= self.border_C]
        coldest = covered.min() if self.border_C is None else min(covered.min(), self.border_C)
        return 1 / max(2, self.reference_C - coldest + 2)


def weighted_fit(shifts, law, start, scatter=0.0):
    """One fit at a given scatter of the isotherms about the law."""
    away = np.arange(shifts["temperature_C"].size) != shifts["reference"]
    t, measured = shifts["temperature_C"][away], shifts["log10_a"][away]
    covariance = shifts["covariance"][np.ix_(away, away)] + scatter**2 * (1 + np.eye(t.size))
    root = np.linalg.cholesky(covariance)
    whiten = np.linalg.inv(root)

    def residuals(p):
        return whiten @ (law.shift(p, t)[0] - measured)

    def jacobian(p):
        return whiten @ law.shift(p, t)[1]

    found = least_squares(residuals, start, jacobian, method="lm", xtol=1e-10, ftol=1e-12, gtol=1e-12)
    lower, upper = [1e-6, 1e-4][: law.size], [np.inf, law.largest_bend(shifts["temperature_C"])][: law.size]
    if (found.x < lower).any() or (found.x > upper).any():
        found = least_squares(residuals, np.clip(start, lower, upper), jacobian, bounds=(lower, upper), xtol=1e-10)
    jacobian_there = jacobian(found.x)
    return {
        "parameters": found.x,
        "covariance": np.linalg.inv(jacobian_there.T @ jacobian_there),
        "chi2": 2 * found.cost,
        "deviance": 2 * found.cost + 2 * np.log(np.diag(root)).sum(),
    }


def fit_law(shifts, law):
    degrees = shifts["temperature_C"].size - 1 - law.size
    fit = weighted_fit(shifts, law, start_of(shifts, law))
    scatter = 0.0
    if degrees > 0 and fit["chi2"] > 2 * gammaincinv(degrees / 2, 0.95):

        def excess(size):
            return weighted_fit(shifts, law, fit["parameters"], size)["chi2"] - degrees

        scatter = brentq(excess, 0, 10, rtol=1e-4)
        fit = weighted_fit(shifts, law, fit["parameters"], scatter)
    count = law.size + (scatter > 0) + (0 if law.border_C is None else BORDER_COST) + shifts["other_parameters"]
    left = max(1, shifts["moduli"] - count - 1)
    aicc = shifts["free_deviance"] + fit["deviance"] + 2 * count + 2 * count * (count + 1) / left
    return {**fit, "law": law, "scatter": scatter, "aicc": aicc}


def start_of(shifts, law):
    t, log10_a, t0 = shifts["temperature_C"], shifts["log10_a"], law.reference_C
    low, high = t.argmin(), t.argmax()
    if law.kind == "arrhenius":
        step = 1000 / (t[low] + ZERO_K) - 1000 / (t[high] + ZERO_K)
        return np.array([max(0.1, (log10_a[low] - log10_a[high]) / step)])
    below, above = -log10_a[low] / (t[low] - t0), -log10_a[high] / (t[high] - t0)
    ratio = below / above
    kappa = (ratio - 1) / ((t[high] - t0) - ratio * (t[low] - t0))
    kappa = np.clip(kappa, 0.002, 0.9 * law.largest_bend(t))
    return np.array([max(1e-3, above * (1 + kappa * (t[high] - t0))), kappa])


def choose_law(shifts):
    """WLF, WLF with its border to the glass, Arrhenius: the lowest corrected Akaike criterion."""
    reference_C = shifts["temperature_C"][shifts["reference"]]
    laws = [fit_law(shifts, Law("wlf", reference_C)), fit_law(shifts, Law("arrhenius", reference_C))]
    bordered = fit_border(shifts, reference_C)
    if bordered is not None:
        laws.append(bordered)
    return min(laws, key=lambda law: law["aicc"])


def fit_border(shifts, reference_C):
    t = np.sort(shifts["temperature_C"])
    index = [k for k in range(1, t.size) if t[k] <= reference_C and t.size - k >= 3 and t[k] > t[0] + 0.5]
    if not index:
        return None
    start = start_of(shifts, Law("wlf", reference_C, t[index[0]]))

    def misfit(border_C):
        return weighted_fit(shifts, Law("wlf", reference_C, border_C), start)["chi2"]

    best = index[int(np.argmin([misfit(t[k]) for k in index]))]
    ends = t[best - 1], t[best + 1] if best + 1 in index else t[best]
    border_C = minimize_scalar(misfit, bounds=ends, method="bounded", options={"xatol": 0.05}).x
    return fit_law(shifts, Law("wlf", reference_C, border_C))
