"""One spectrum under all isotherms: the shifts outside, non-negative least squares inside (variable projection)."""

import numpy as np
from scipy.optimize import least_squares, nnls

MODES_PER_DECADE = 5


def log_spaced_times(omega, per_decade, margin=1.0):
    first, last = -np.log10(omega.max()) - margin, -np.log10(omega.min()) + margin
    return np.logspace(first, last, max(2, int(np.ceil((last - first) * per_decade)) + 1))


def maxwell_kernel(omega, times_s):
    """x²/(1+x²) and x/(1+x²), points × modes, without overflow."""
    x = np.outer(omega, times_s)
    loss = 1 / (x + 1 / x)
    return x * loss, loss


class ReducedFit:
    """Relative residuals of both moduli of K isotherms; all derivatives are per decade of shift."""

    def __init__(self, isotherm, frequency_Hz, storageModulus_Pa, lossModulus_Pa, log10_a, trust):
        self.isotherm, self.omega = isotherm, 2 * np.pi * frequency_Hz
        self.isotherms = isotherm.max() + 1
        n = isotherm.size
        self.weights = np.concatenate([1 / storageModulus_Pa, trust / lossModulus_Pa])
        self.target = np.concatenate([np.ones(n), np.full(n, trust)])
        self.both = np.concatenate([isotherm, isotherm])
        self.lay_grid(log10_a)

    def reduced(self, log10_a):
        return self.omega * 10 ** log10_a[self.isotherm]

    def lay_grid(self, log10_a):
        self.times_s = log_spaced_times(self.reduced(log10_a), MODES_PER_DECADE)
        self.at = None

    def covers(self, log10_a):
        omega = self.reduced(log10_a)
        return self.times_s[0] * omega.max() < 0.25 and self.times_s[-1] * omega.min() > 4

    def refine_grid(self):
        """Halves the grid about the modes in use."""
        used = np.flatnonzero(self.moduli[:-1] > 0)
        logs = np.log(self.times_s)
        between = [(logs[j] + logs[j + side]) / 2 for j in used for side in (-1, 1) if 0 <= j + side < logs.size]
        self.times_s = np.exp(np.unique(np.round(np.concatenate([logs, between]), 12)))
        self.at = None

    def evaluate(self, log10_a):
        if self.at is not None and np.array_equal(self.at, log10_a):
            return self.residuals
        storage, loss = self.kernel = maxwell_kernel(self.reduced(log10_a), self.times_s)
        n = self.omega.size
        matrix = np.empty((2 * n, self.times_s.size + 1))
        matrix[:n, :-1], matrix[n:, :-1] = storage, loss
        matrix[:n, -1], matrix[n:, -1] = 1, 0
        matrix *= self.weights[:, None]
        self.moduli, _ = nnls(matrix, self.target, maxiter=20 * matrix.shape[1])
        self.matrix, self.at = matrix, log10_a.copy()
        self.residuals = matrix @ self.moduli - self.target
        self.passive = np.flatnonzero(self.moduli > 0)
        return self.residuals

    def jacobian(self, log10_a):
        """d residuals / d shift, 2n × K, with the spectrum's own freedom projected out (Kaufman)."""
        self.evaluate(log10_a)
        _, loss = self.kernel
        moduli = self.moduli[:-1]
        # d/d ln x of x²/(1+x²) is 2 (x/(1+x²))², of x/(1+x²) it is x(1−x²)/(1+x²)².
        x2 = np.outer(self.reduced(log10_a), self.times_s) ** 2
        slope = np.concatenate([2 * loss**2 @ moduli, loss * ((1 - x2) / (1 + x2)) @ moduli])
        full = np.zeros((slope.size, self.isotherms))
        full[np.arange(slope.size), self.both] = np.log(10) * self.weights * slope
        basis, _ = np.linalg.qr(self.matrix[:, self.passive])
        return full - basis @ (basis.T @ full)

    def fit(self, shifts_of, gradient_of, start):
        """Least squares over parameters that make the shifts. Returns a dictionary of what was found."""
        found = least_squares(
            lambda p: self.evaluate(shifts_of(p)),
            start,
            jac=lambda p: self.jacobian(shifts_of(p)) @ gradient_of(p),
            method="lm",
            ftol=2e-9,
            xtol=1e-8,
            gtol=1e-11,
        )
        log10_a = shifts_of(found.x)
        rss = (self.evaluate(log10_a) ** 2).sum()
        degrees = max(1, self.target.size - self.passive.size - start.size)
        jacobian = self.jacobian(log10_a) @ gradient_of(found.x)
        return {
            "parameters": found.x,
            "log10_a": log10_a,
            "rss": rss,
            "variance": rss / degrees,
            "degrees": degrees,
            "modes": self.passive.size,
            "information": jacobian.T @ jacobian,
        }
