"""Three readings of the glass transition of a temperature sweep, each with an interval from 200 draws."""

import json

import numpy as np
from scipy.signal import find_peaks, peak_prominences

from .local_regression import local_regression, scatter_about_trend
from .penalised_spline import PenalisedSpline

DRAWS = 200


def prepare(folder):
    sweeps = [
        tuple(np.array(sweep[key]) for key in ("temperature_C", "storageModulus_Pa", "lossModulus_Pa"))
        for sweep in json.loads((folder / "sweeps.json").read_text())
    ]
    return lambda: [glass_transition(*sweep, np.random.default_rng(i)) for i, sweep in enumerate(sweeps)]


def glass_transition(temperature_C, storageModulus_Pa, lossModulus_Pa, rng):
    tan_delta = peaks_of(temperature_C, np.log(lossModulus_Pa / storageModulus_Pa), storageModulus_Pa, 5, (1.0, 1.0), 1.12, rng)
    loss = peaks_of(temperature_C, np.log(lossModulus_Pa), storageModulus_Pa, 4, (0.15, 1.5), 1.22, rng)
    main = max(tan_delta, key=lambda peak: peak["prominence"], default=None)
    below = [peak for peak in loss if main is None or peak["temperature_C"] <= main["temperature_C"] + 3]
    main_loss = max(below, key=lambda peak: peak["temperature_C"], default=None)
    return {"tanDelta": main, "lossModulus": main_loss, "onset": onset(temperature_C, storageModulus_Pa, rng)}


def peaks_of(temperature_C, log_value, storageModulus_Pa, order, depth, widening, rng):
    """Every peak across which the storage modulus falls by a factor of three."""
    noise = scatter_about_trend(temperature_C, log_value)
    smooth, _ = local_regression(temperature_C, log_value)
    candidates, _ = find_peaks(smooth)
    prominences = peak_prominences(smooth, candidates)[0]
    peaks = []
    for index, prominence in zip(candidates, prominences):
        if prominence < max(0.05, 4 * noise):
            continue
        peak = peak_at(temperature_C, log_value, index, order, depth, widening, rng)
        if peak is None:
            continue
        around = [np.abs(temperature_C - peak["temperature_C"] - side).argmin() for side in (-20, 20)]
        if storageModulus_Pa[around[0]] / storageModulus_Pa[around[1]] < 3:
            continue
        peak["prominence"] = peak["height"] * -np.expm1(-prominence)
        peak["width_K"] = width_at_half_height(temperature_C, smooth, peak)
        peaks.append(peak)
    return peaks


def peak_at(x, y, index, order, depth, widening, rng):
    """Place of the maximum near a sample with its 95 % interval; the curve is seen down to a depth on its cold and its warm side."""
    left, right = np.flatnonzero(y[:index] < y[index] - depth[0]), np.flatnonzero(y[index:] < y[index] - depth[1])
    first = left[-1] + 1 if left.size else 0
    last = index + right[0] - 1 if right.size else y.size - 1
    is_shown = last - first + 1 >= 6
    first = max(0, min(first - 3, index - 4))
    last = min(y.size - 1, max(last + 3, index + 4))
    xs, ys = x[first : last + 1], y[first : last + 1]
    n = xs.size
    if n < 6:
        return None
    spline = PenalisedSpline(xs, ys, min(20, max(3, n - 1)), 3 if n <= 10 else order, (0.012, 4) if is_shown else (0.0, 0))
    position = spline.maxima(spline.coefficients[None, :], xs[0], xs[-1], x[index])[0]
    if np.isnan(position):
        return None
    drawn = spline.maxima(spline.draws(rng, DRAWS), xs[0], xs[-1], position)
    drawn = drawn[np.isfinite(drawn)]
    if drawn.size < DRAWS / 2:
        return None
    # The plain quantile of 200 draws holds 94.6 % in the mean.
    half_K = widening * np.quantile(np.abs(drawn - position), 0.95, method="weibull")
    if order == 5 and not is_shown:
        half_K = np.hypot(half_K, 0.45 * (xs[-1] - xs[0]) / (n - 1))
    segment, weights = spline.local_basis(np.array([position]), 0)
    return {
        "temperature_C": position,
        "low_C": position - half_K,
        "high_C": position + half_K,
        "height": np.exp(weights[0] @ spline.coefficients[segment[0] : segment[0] + 4]),
    }


def width_at_half_height(x, smooth, peak):
    """Full width where the smoothed log curve has fallen by ln 2; None where a flank leaves the data."""
    level = np.log(peak["height"]) - np.log(2)
    top = np.abs(x - peak["temperature_C"]).argmin()
    below, above = np.flatnonzero(smooth[:top] <= level), np.flatnonzero(smooth[top:] <= level)
    if not below.size or not above.size:
        return None

    def crossing(outer, inner):
        return x[inner] + (smooth[inner] - level) / (smooth[inner] - smooth[outer]) * (x[outer] - x[inner])

    return crossing(top + above[0], top + above[0] - 1) - crossing(below[-1], below[-1] + 1)


def onset(temperature_C, storageModulus_Pa, rng):
    """Where the tangent in the glass meets the tangent at the steepest fall of log M'."""
    log_modulus = np.log10(storageModulus_Pa)
    _, slope = local_regression(temperature_C, log_modulus)
    n = slope.size
    steepest = 1 + slope[1:-1].argmin()
    glassy = np.flatnonzero(slope[: steepest + 1] >= 0.12 * slope[steepest])
    if slope[steepest] >= 0 or not glassy.size:
        return None
    glass_end = glassy[-1]
    part_of_glass = (temperature_C[glass_end] - temperature_C[:glass_end] <= 30) & (
        slope[:glass_end] > 0.24 * slope[steepest]
    )
    other = np.flatnonzero(~part_of_glass)
    glass_start = other[-1] + 1 if other.size else 0
    if glass_end - glass_start < 3:
        return None
    glass = Line(temperature_C, log_modulus, glass_start, glass_end)
    fall = Fall(temperature_C, log_modulus, steepest)
    onset_C = crossing(glass.parameters, fall.tangents(fall.spline.coefficients[None, :]))[0]
    if not temperature_C[glass_start] <= onset_C <= temperature_C[steepest]:
        return None
    # Where the glass ends falls between two rows, and noise moves it by one: each draw takes one of the three.
    ends = [end for end in (glass_end - 1, glass_end, min(glass_end + 1, steepest)) if end - glass_start >= 3]
    shares = np.bincount(rng.integers(len(ends), size=DRAWS), minlength=len(ends))
    lines = [Line(temperature_C, log_modulus, glass_start, end).redrawn(rng, share) for end, share in zip(ends, shares)]
    drawn = crossing(np.concatenate(lines, axis=1), fall.tangents(fall.spline.draws(rng, DRAWS)))
    half_K = np.quantile(np.abs(drawn - onset_C), 0.95)
    return {"temperature_C": onset_C, "low_C": onset_C - half_K, "high_C": onset_C + half_K}


class Fall:
    """log M' about its steepest point as a penalised spline."""

    def __init__(self, x, y, steepest):
        inside = np.flatnonzero(np.abs(x - x[steepest]) <= 14)
        first, last = min(inside[0], max(0, steepest - 4)), max(inside[-1], min(x.size - 1, steepest + 4))
        xs = x[first : last + 1]
        self.spline = PenalisedSpline(xs, y[first : last + 1], min(20, max(3, xs.size - 1)), 4)
        middle = x[steepest]
        self.grid = np.linspace(middle - 0.5 * (middle - xs[0]), middle + 0.5 * (xs[-1] - middle), 61)

    def tangents(self, coefficients):
        """Intercept and slope of the tangent at the steepest point of each row of coefficients."""
        slopes = coefficients @ self.spline.basis(self.grid, 1).T
        at = slopes.argmin(axis=1)
        rows = np.arange(at.size)
        slope = slopes[rows, at]
        value = (coefficients @ self.spline.basis(self.grid, 0).T)[rows, at]
        return value - slope * self.grid[at], slope


class Line:
    """A least-squares line and what its residuals allow."""

    def __init__(self, x, y, first, last):
        self.x = x[first : last + 1]
        self.centred = self.x - self.x.mean()
        self.parameters = self.fit(y[first : last + 1])
        intercept, slope = self.parameters
        self.fitted = intercept + slope * self.x
        n = self.x.size
        self.residuals = (y[first : last + 1] - self.fitted) * (np.sqrt(n / (n - 2)) if n > 2 else 1)

    def fit(self, y):
        slope = (y * self.centred).sum(axis=-1) / (self.centred**2).sum()
        return y.mean(axis=-1) - slope * self.x.mean(), slope

    def redrawn(self, rng, draws):
        n = self.x.size
        return self.fit(self.fitted + self.residuals[rng.integers(n, size=(draws, n))])


def crossing(a, b):
    return (b[0] - a[0]) / (a[1] - b[1])
