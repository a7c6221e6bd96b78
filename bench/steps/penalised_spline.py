"""Cubic B-splines on equal knots with a difference penalty, its strength by restricted maximum likelihood."""

import numpy as np
from scipy.linalg import eigh
from scipy.optimize import minimize_scalar


class PenalisedSpline:
    """One generalised eigendecomposition makes every strength, and every refit, a product of matrices."""

    def __init__(self, x, y, segments, order, expected=(0.0, 0)):
        """`expected`: scatter, and as how many degrees of freedom it counts (the conjugate prior of a variance)."""
        n = x.size
        known = expected[1] * expected[0] ** 2 + 1e-300
        degrees = n - order + expected[1]
        self.low, self.spacing, self.segments = x[0], (x[-1] - x[0]) / segments, segments
        p = segments + 3
        basis = self.basis(x, 0)
        differences = np.diff(np.eye(p), order, axis=0)
        penalty = differences.T @ differences
        mixed = basis.T @ basis + penalty + 1e-10 * np.eye(p)
        # mixed = U⁻ᵀ U⁻¹ and penalty = U⁻ᵀ diag(d) U⁻¹, so BᵀB + λ P = U⁻ᵀ diag(1 + (λ − 1) d) U⁻¹.
        d, u = eigh(penalty, mixed)
        d = np.clip(d, 0, 1)
        log_mixed = -2 * np.linalg.slogdet(u)[1]
        projected = u.T @ (basis.T @ y)
        power = y @ y

        def likelihood(log_strength):
            strength = 10.0 ** np.atleast_1d(log_strength)[:, None]
            damped = 1 + (strength - 1) * d
            c2 = (projected / damped) ** 2
            rss = power - 2 * (projected**2 / damped).sum(axis=1) + (c2 * (1 - d)).sum(axis=1)
            roughness = (c2 * d).sum(axis=1)
            log_determinant = log_mixed + np.log(damped).sum(axis=1)
            log_strength = np.log(strength[:, 0])
            return (
                degrees * np.log(rss + strength[:, 0] * roughness + known)
                + log_determinant
                - (p - order) * log_strength
            )

        grid = np.arange(-6.0, 7.0)
        best = grid[np.argmin(likelihood(grid))]
        found = minimize_scalar(
            lambda log: likelihood(log)[0], bounds=(best - 1, best + 1), method="bounded", options={"xatol": 1e-3}
        )
        damped = 1 + (10.0**found.x - 1) * d
        self.coefficients = u @ (projected / damped)
        strengths = np.arange(-6.0, 3.0)
        self.u, self.damped = u, 1 + (10.0 ** strengths[:, None] - 1) * d
        c2 = (projected / self.damped) ** 2
        rss = power - 2 * (projected**2 / self.damped).sum(axis=1) + (c2 * (1 - d)).sum(axis=1)
        self.penalised = rss + 10.0**strengths * (c2 * d).sum(axis=1) + known
        self.centres = (projected / self.damped) @ u.T
        deviance = likelihood(strengths)
        weights = np.exp((deviance.min() - deviance) / 2)
        self.weights = weights / weights.sum()
        self.degrees_of_freedom = max(1, degrees)

    def draws(self, rng, count):
        """Coefficients of curves that the data allow: strength, then scatter, then coefficients."""
        k = rng.choice(self.weights.size, size=count, p=self.weights)
        scatter = np.sqrt(self.penalised[k] / rng.chisquare(self.degrees_of_freedom, count))
        normal = rng.standard_normal((count, self.u.shape[0])) / np.sqrt(self.damped[k])
        return self.centres[k] + scatter[:, None] * (normal @ self.u.T)

    def basis(self, x, derivative):
        """Dense n × p matrix of the splines or of their first derivatives at x."""
        segment, weights = self.local_basis(np.asarray(x), derivative)
        out = np.zeros((segment.size, self.segments + 3))
        out[np.arange(segment.size)[:, None], segment[:, None] + np.arange(4)] = weights
        return out

    def local_basis(self, x, derivative):
        """Segment of each x and the four weights (n × 4) of its splines."""
        u = (x - self.low) / self.spacing
        segment = np.clip(np.floor(u), 0, self.segments - 1).astype(int)
        t = u - segment
        r = 1 - t
        if derivative == 0:
            weights = [r**3 / 6, (3 * t**3 - 6 * t**2 + 4) / 6, (-3 * t**3 + 3 * t**2 + 3 * t + 1) / 6, t**3 / 6]
        elif derivative == 1:
            weights = [-(r**2) / 2, (3 * t**2 - 4 * t) / 2, (-3 * t**2 + 2 * t + 1) / 2, t**2 / 2]
        else:
            weights = [r, 3 * t - 2, -3 * t + 1, t]
        return segment, np.stack(weights, axis=1) / self.spacing**derivative

    def maxima(self, coefficients, low, high, start):
        """The local maximum next to `start` of each row of coefficients; NaN where the curve climbs out."""
        stride = self.spacing / 2
        reach = int(np.ceil((high - low) / stride)) + 1
        steps = np.arange(-reach, reach + 1)
        grid = start + steps * stride
        slope = coefficients @ self.basis(grid, 1).T
        rising = slope[:, reach] > 0
        falls = (slope <= 0) & (steps >= 1)
        climbs = (slope >= 0) & (steps <= -1)
        upper = np.where(falls.any(axis=1), falls.argmax(axis=1), -1)
        lower = np.where(climbs.any(axis=1), 2 * reach - climbs[:, ::-1].argmax(axis=1), -1)
        at = np.where(rising, upper, lower)
        inner = at - np.where(rising, 1, -1)
        found = at >= 0
        found &= (np.abs(at - reach) == 1) | ((grid[at] >= low) & (grid[at] <= high))
        rows = np.arange(at.size)
        a, b = np.minimum(grid[at], grid[inner]), np.maximum(grid[at], grid[inner])
        # The slope falls from a to b: Newton's steps, halved intervals where they leave it.
        slope_a, slope_b = slope[rows, np.minimum(at, inner)], slope[rows, np.maximum(at, inner)]
        x = a + (b - a) * np.clip(slope_a / np.where(slope_a > slope_b, slope_a - slope_b, 1), 0, 1)
        for _ in range(12):
            value, curvature = (
                (coefficients[rows[:, None], segment[:, None] + np.arange(4)] * weights).sum(axis=1)
                for segment, weights in (self.local_basis(x, 1), self.local_basis(x, 2))
            )
            a, b = np.where(value > 0, x, a), np.where(value > 0, b, x)
            step = x - value / np.where(curvature < 0, curvature, -1)
            following = np.where((curvature < 0) & (step >= a) & (step <= b), step, (a + b) / 2)
            change = np.abs(following - x).max()
            x = following
            if change < 1e-9:
                break
        return np.where(found, x, np.nan)
