"""Local quadratic regression with tricube weights on five neighbours, for all points at once."""

import numpy as np


def local_regression(x, y, neighbours=5):
    """Smoothed value and slope at each abscissa; x ascending."""
    n = x.size
    k = min(neighbours, n)
    index = nearest_neighbours(x, k)
    offset = x[index] - x[:, None]
    reach = np.abs(offset).max(axis=1) * 1.0001
    reach[reach == 0] = 1
    u = offset / reach[:, None]
    w = (1 - np.abs(u) ** 3) ** 3
    s0, s1, s2, s3, s4 = ((w * u**p).sum(axis=1) for p in range(5))
    t0, t1, t2 = ((w * u**p * y[index]).sum(axis=1) for p in range(3))
    determinant = s0 * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s2 * s3) + s2 * (s1 * s3 - s2 * s2)
    flat = np.abs(determinant) < 1e-12 * s0**3
    safe = np.where(flat, 1, determinant)
    value = (t0 * (s2 * s4 - s3 * s3) - s1 * (t1 * s4 - s3 * t2) + s2 * (t1 * s3 - s2 * t2)) / safe
    slope = (s0 * (t1 * s4 - t2 * s3) - t0 * (s1 * s4 - s2 * s3) + s2 * (s1 * t2 - s2 * t1)) / safe / reach
    return np.where(flat, t0 / s0, value), np.where(flat, 0, slope)


def nearest_neighbours(x, k):
    """Indices of the k points about each point, n × k."""
    n = x.size
    starts = np.clip(np.arange(n)[:, None] - np.arange(k - 1, -1, -1), 0, n - k)
    after = np.minimum(starts + k, n - 1)
    # The first start that the next point on the right is not nearer than.
    settled = (starts == n - k) | (x[after] - x[:, None] >= x[:, None] - x[starts])
    first = starts[np.arange(n), settled.argmax(axis=1)]
    return first[:, None] + np.arange(k)


def scatter_about_trend(x, y):
    """Robust standard deviation about the cubic through each point's four neighbours."""
    centre = np.arange(2, x.size - 2)
    index = centre[:, None] + np.array([-2, -1, 1, 2])
    at, knots = x[centre], x[index]
    weights = np.ones(index.shape)
    for a in range(4):
        for b in range(4):
            if a != b:
                weights[:, a] *= (at - knots[:, b]) / (knots[:, a] - knots[:, b])
    deviation = np.abs(y[centre] - (weights * y[index]).sum(axis=1)) / np.sqrt(1 + (weights**2).sum(axis=1))
    return np.median(deviation[np.isfinite(deviation)]) / 0.674489750196
