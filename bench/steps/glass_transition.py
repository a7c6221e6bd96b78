"""Three readings of the glass transition of a temperature sweep, each with an interval from 200 draws."""

import json

import numpy as np
from scipy.signal import find_peaks, peak_prominences

from .local_regression import local_regression, scatter_about_trend
from .penalised_spline import PenalisedSpline

DRAWS = 200
# How far below the maximum the curve is seen on its cold and its warm side, rows beyond, share of a step that few rows do not show.
ROUND = (1.6, 1.6), 0, 0.45
LOPSIDED = (0.15, 1.5), 3, 0.0


def prepare(folder):
    sweeps = [
        tuple(np.array(sweep[key]) for key in ("temperature_C", "storageModulus_Pa", "lossModulus_Pa"))
        for sweep in json.loads((folder / "sweeps.json").read_text())
    ]
    return lambda: [glass_transition(*sweep, np.random.default_rng(i)) for i, sweep in enumerate(sweeps)]


def glass_transition(temperature_C, storageModulus_Pa, lossModulus_Pa, rng):
    tan_delta = peaks_of(temperature_C, np.log(lossModulus_Pa / storageModulus_Pa), storageModulus_Pa, ROUND, 1.05, rng)
    loss = peaks_of(temperature_C, np.log(lossModulus_Pa), storageModulus_Pa, LOPSIDED, 1.22, rng)
    main = max(tan_delta, key=lambda peak: peak["prominence"], default=None)
    below = [peak for peak in loss if main is None or peak["temperature_C"] <= main["temperature_C"] + 3]
    main_loss = max(below, key=lambda peak: peak["temperature_C"], default=None)
    return {"tanDelta": main, "lossModulus": main_loss, "onset": onset(temperature_C, storageModulus_Pa, rng)}


def peaks_of(temperature_C, log_value, storageModulus_Pa, shape, widening, rng):
    """Every peak across which the storage modulus falls by a factor of three."""
    noise = scatter_about_trend(temperature_C, log_value)
    smooth, _ = local_regression(temperature_C, log_value)
    candidates, _ = find_peaks(smooth)
    prominences = peak_prominences(smooth, candidates)[0]
    peaks = []
    for index, prominence in zip(candidates, prominences):
        if prominence < max(0.05, 4 * noise):
            continue
        peak = peak_at(temperature_C, log_value, index, shape, widening, rng)
        if peak is None:
            continue
        around = [np.abs(temperature_C - peak["temperature_C"] - side).argmin() for side in (-20, 20)]
        if storageModulus_Pa[around[0]] / storageModulus_Pa[around[1]] < 3:
            continue
        peak["prominence"] = peak["height"] * -np.expm1(-prominence)
        peak["width_K"] = width_at_half_height(temperature_C, smooth, peak)
        peaks.append(peak)
    return peaks


def peak_at(x, y, index, shape, widening, rng):
    """Place of the maximum near a sample with its 95 % interval; the curve is seen down to a depth on its cold and its warm side."""
    depth, padding, unseen = shape
    left, right = np.flatnonzero(y[:index] < y[index] - depth[0]), np.flatnonzero(y[index:] < y[index] - depth[1])
    first = left[-1] + 1 if left.size else 0
    last = index + right[0] - 1 if right.size else y.size - 1
    is_shown = last - first + 1 >= 6
    first = max(0, min(first - padding, index - 4))
    last = min(y.size - 1, max(last + padding, index + 4))
    xs, ys = x[first : last + 1], y[first : last + 1]
    n = xs.size
    if n < 6:
        return None
    spline = PenalisedSpline(xs, ys, min(20, max(3, n - 1)), 3 if n <= 10 else 4, expected_scatter(x, y) if is_shown else (0.0, 0))
    position = spline.maxima(spline.coefficients[None, :], xs[0], xs[-1], x[index])[0]
    if np.isnan(position):
        return None
    drawn = spline.maxima(spline.draws(rng, DRAWS), xs[0], xs[-1], position)
    drawn = drawn[np.isfinite(drawn)]
    if drawn.size < DRAWS / 2:
        return None
    # The plain quantile of 200 draws holds 94.6 % in the mean.
    half_K = widening * np.quantile(np.abs(drawn - position), 0.95, method="weibull")
    if not is_shown:
        half_K = np.hypot(half_K, unseen * (xs[-1] - xs[0]) / (n - 1))
    segment, weights = spline.local_basis(np.array([position]), 0)
    return {
        "temperature_C": position,
        "low_C": position - half_K,
        "high_C": position + half_K,
        "height": np.exp(weights[0] @ spline.coefficients[segment[0] : segment[0] + 4]),
    }


def expected_scatter(x, y):
    """A good instrument's scatter, or the curve's own where it is larger, as if three rows had shown it."""
    return max(0.012, scatter_about_trend(x, y)), 3


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
    """Where the tangent in the glass meets the tangent at the steepest fall of log M', both of one spline through glass and fall."""
    log_modulus = np.log(storageModulus_Pa)
    n = log_modulus.size
    step_K = (temperature_C[-1] - temperature_C[0]) / (n - 1)
    _, slope = local_regression(temperature_C, log_modulus, max(5, min(n, int(8 / step_K + 0.5) + 1)))
    steepest = 1 + slope[1:-1].argmin()
    glassy = np.flatnonzero(slope[: steepest + 1] >= 0.12 * slope[steepest])
    if slope[steepest] >= 0 or not glassy.size:
        return None
    glass_end = glassy[-1]
    part_of_glass = (temperature_C[glass_end] - temperature_C[:glass_end] <= 30) & (
        slope[:glass_end] > 0.24 * slope[steepest]
    )
    other = np.flatnonzero(~part_of_glass)
    first = other[-1] + 1 if other.size else 0
    if glass_end - first < 3:
        return None
    slow = np.flatnonzero(slope[steepest + 1 :] >= 0.2 * slope[steepest])
    last = min(n - 1, max(steepest + 4, steepest + slow[0] if slow.size else n - 1))
    x, y = temperature_C[first : last + 1], log_modulus[first : last + 1]
    spline = PenalisedSpline(x, y, min(30, x.size - 1), 3, expected_scatter(temperature_C, log_modulus))
    between = (temperature_C[glass_end] + temperature_C[steepest]) / 2, (temperature_C[steepest] + x[-1]) / 2
    reader = OnsetReader(spline, x[0], x[-1], between)
    onset_C = reader.read(spline.coefficients[None, :])[0]
    if not x[0] <= onset_C <= temperature_C[steepest]:
        return None
    distance = np.abs(reader.read(spline.draws(rng, DRAWS)) - onset_C)
    half_K = np.quantile(distance[np.isfinite(distance)], 0.95)
    return {"temperature_C": onset_C, "low_C": onset_C - half_K, "high_C": onset_C + half_K}


class OnsetReader:
    """The onset of each of many curves on one grid."""

    step_K = 0.5

    def __init__(self, spline, low_C, high_C, between):
        self.grid = low_C + self.step_K * np.arange(int((high_C - low_C) / self.step_K) + 1)
        self.values, self.slopes = spline.basis(self.grid, 0).T, spline.basis(self.grid, 1).T
        places = [int((at - low_C) / self.step_K + 0.5) for at in between]
        self.steep = slice(places[0], min(places[1], self.grid.size - 1) + 1)

    def read(self, coefficients):
        """NaN where no glass is left before the fall."""
        value, slope = coefficients @ self.values, coefficients @ self.slopes
        rows, places = np.arange(len(coefficients)), np.arange(self.grid.size)
        fastest = self.steep.start + slope[:, self.steep].argmin(axis=1)
        fall = slope[rows, fastest]
        glassy = 0.12 * fall
        flat = (slope >= glassy[:, None]) & (places <= fastest[:, None])
        end = np.where(flat.any(axis=1), self.grid.size - 1 - flat[:, ::-1].argmax(axis=1), 0)
        end += 2 * glassy < slope[rows, end] + slope[rows, np.minimum(end + 1, self.grid.size - 1)]
        start = np.maximum(0, end - round(30 / self.step_K))
        inside = (places >= start[:, None]) & (places <= end[:, None])
        count = inside.sum(axis=1)
        x0, y0 = (inside * self.grid).sum(axis=1) / count, (inside * value).sum(axis=1) / count
        centred = inside * (self.grid - x0[:, None])
        glass = (centred * value).sum(axis=1) / (centred**2).sum(axis=1)
        onset_C = (value[rows, fastest] - fall * self.grid[fastest] - y0 + glass * x0) / (glass - fall)
        return np.where((end - start) * self.step_K >= 3, onset_C, np.nan)
