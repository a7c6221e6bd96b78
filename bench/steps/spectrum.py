"""Relaxation spectrum by regularised non-negative least squares, its strength by generalised cross-validation."""

import numpy as np
from scipy.linalg import cho_factor, cho_solve, solve_triangular
from scipy.optimize import nnls

from .reduced_fit import log_spaced_times, maxwell_kernel

STRENGTHS = 10.0 ** np.arange(2, -11, -1)


class Problem:
    """|A u − b|² + λ |D² u|², u the moduli over the local loss modulus, u ≥ 0."""

    def __init__(self, omega, storageModulus_Pa, lossModulus_Pa, trust, per_decade):
        self.times_s = log_spaced_times(omega, per_decade)
        n, modes = omega.size, self.times_s.size
        storage, loss = maxwell_kernel(omega, self.times_s)
        matrix = np.zeros((2 * n, modes + 1))
        matrix[:n, :-1], matrix[n:, :-1] = storage, loss
        matrix[:n, -1] = 1
        weights = np.concatenate([1 / storageModulus_Pa, trust / lossModulus_Pa])
        self.scale = local_loss_modulus(omega, storageModulus_Pa, lossModulus_Pa, self.times_s)
        self.matrix = matrix * weights[:, None] * self.scale
        self.target = np.concatenate([np.ones(n), np.full(n, trust)])
        self.gram = self.matrix.T @ self.matrix
        self.linear = self.matrix.T @ self.target
        curvature = np.zeros((modes - 2, modes + 1))
        curvature[:, :-1] = np.diff(np.eye(modes), 2, axis=0)
        self.penalty = curvature.T @ curvature * (np.trace(self.gram) / (6 * modes))

    def solve(self, strength):
        quadratic = self.gram + strength * self.penalty
        quadratic[np.diag_indices_from(quadratic)] *= 1 + 1e-13
        root = np.linalg.cholesky(quadratic)
        u, _ = nnls(root.T, solve_triangular(root, self.linear, lower=True), maxiter=20 * self.linear.size)
        return u, quadratic

    def scored(self, strength):
        u, quadratic = self.solve(strength)
        residuals = self.matrix @ u - self.target
        rss = (residuals**2).sum()
        used = np.flatnonzero(u > 0)
        block = np.ix_(used, used)
        effective = np.trace(cho_solve(cho_factor(quadratic[block]), self.gram[block]))
        count = self.target.size
        score = count * rss / (count - effective) ** 2 if effective < count else np.inf
        rms = np.sqrt(rss / count)
        return {
            "u": u, "residuals": residuals, "rms": rms, "effective": effective, "score": score, "strength": strength
        }

    def best(self):
        best = None
        for strength in STRENGTHS:
            scored = self.scored(strength)
            if best is None or scored["score"] < best["score"]:
                best = scored
            elif scored["score"] > 1.5 * best["score"]:
                break
        return best

    def spectrum(self, u):
        kept = np.flatnonzero(u[:-1] > 0)
        moduli_Pa = u * self.scale
        return self.times_s[kept], moduli_Pa[kept], moduli_Pa[-1]


def solve_spectrum(omega, storageModulus_Pa, lossModulus_Pa, trust, noise):
    """Five modes a decade, ten where that lowers the score by a tenth."""
    coarse = Problem(omega, storageModulus_Pa, lossModulus_Pa, trust, 5)
    found = coarse.best()
    if found["rms"] > 1.1 * noise:
        fine = Problem(omega, storageModulus_Pa, lossModulus_Pa, trust, 10)
        finer = fine.best()
        if finer["score"] < 0.9 * found["score"]:
            return {**finer, "spectrum": fine.spectrum(finer["u"]), "per_decade": 10}
    return {**found, "spectrum": coarse.spectrum(found["u"]), "per_decade": 5}


def local_loss_modulus(omega, storageModulus_Pa, lossModulus_Pa, times_s):
    """Log mean of the points within a quarter decade of 1/τ, else the nearest; last entry: the lowest M'."""
    distance = np.abs(np.log10(omega) + np.log10(times_s)[:, None])
    near = distance < 0.25
    logs = np.log10(lossModulus_Pa)
    counts = near.sum(axis=1)
    mean = np.where(counts > 0, (near * logs).sum(axis=1) / np.maximum(counts, 1), logs[distance.argmin(axis=1)])
    return np.append(10**mean, storageModulus_Pa.min())


def modulus(spectrum, omega):
    """M' and M'' of a spectrum (times, moduli, equilibrium modulus)."""
    times_s, moduli_Pa, equilibrium_Pa = spectrum
    storage, loss = maxwell_kernel(omega, times_s)
    return equilibrium_Pa + storage @ moduli_Pa, loss @ moduli_Pa
