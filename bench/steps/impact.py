"""A rigid mass on viscoelastic half-spaces whose contact grows and shrinks again (Ting 1966), S of them at once."""

import numpy as np

LONGEST_CONTACT = 40


def simulate(equilibrium, times_s, strengths, step_s, mass_kg, speed_m_s, steps):
    """Rebound fraction and contact time: F = x^(3/2) through S × M modes, the mass by the trapezoidal rule."""
    count = equilibrium.size
    ratio = step_s[:, None] / times_s
    decay = np.exp(-ratio)
    gain = -strengths * np.expm1(-ratio) / ratio
    gains = gain.sum(axis=1)
    inertia = step_s**2 / (4 * mass_kg)
    loading = Loading(equilibrium, decay, gain, steps)
    x, y, force, push = (np.zeros(count) for _ in range(4))
    v = np.full(count, speed_m_s)
    modes = np.zeros_like(decay)
    alive = np.ones(count, bool)
    fraction, end_s = np.zeros(count), LONGEST_CONTACT * steps * step_s
    for n in range(LONGEST_CONTACT * steps):
        ahead = x + step_s * v
        remembered = np.einsum("sm,sm->s", decay, modes) - gains * y
        next_x = indentation(ahead - inertia * (force + remembered), inertia * (equilibrium + gains), ahead)
        next_force = remembered + (equilibrium + gains) * shape(next_x)
        next_push = next_force.copy()
        shrinking = np.flatnonzero(alive & (v < 0))
        for _ in range(2):
            # The force hardly depends on x over a step: two substitutions settle it.
            if shrinking.size == 0:
                break
            shrinks, borne, pushed = loading.force_at(shrinking, next_x[shrinking], x[shrinking])
            shrinking = shrinking[shrinks]
            next_force[shrinking], next_push[shrinking] = borne[shrinks], pushed[shrinks]
            next_x[shrinking] = (ahead - inertia * (force + next_force))[shrinking]
        ended = alive & (next_push <= 0) & (n > 0)
        if ended.any():
            part = push[ended] / (push[ended] - next_push[ended])
            end_v = v[ended] - part * step_s[ended] * force[ended] / (2 * mass_kg)
            fraction[ended] = np.where(end_v < 0, (end_v / speed_m_s) ** 2, 0)
            end_s[ended] = (n + part) * step_s[ended]
            alive &= ~ended
            if not alive.any():
                break
        next_y = shape(next_x)
        modes = decay * modes + gain * (next_y - y)[:, None]
        loading.advance(next_x, next_y, next_x - x, modes, shrinking)
        v = v - step_s * (force + next_force) / (2 * mass_kg)
        x, y, force, push = next_x, next_y, next_force, next_push
    return fraction, end_s


class Loading:
    """What each contact went through while it grew: step × S levels, step × S × M internal forces."""

    def __init__(self, equilibrium, decay, gain, steps):
        self.equilibrium, self.decay, self.gain = equilibrium, decay, gain
        self.now = np.zeros_like(decay)
        self.step = 0
        self.peak = np.zeros(equilibrium.size, int)
        self.below = np.full(equilibrium.size, np.iinfo(int).max)
        levels, forces = (steps, equilibrium.size), (steps, *decay.shape)
        self.x, self.y = np.zeros(levels), np.zeros(levels)
        self.pushes, self.forces = np.zeros(forces), np.zeros(forces)
        self.powers = np.empty((2 * steps, *decay.shape))
        self.powers[0], self.powers[1] = 1, decay

    def advance(self, x, y, change, modes, shrinking):
        """Ends a step; contacts not in `shrinking` still grow."""
        self.now = self.decay * self.now + self.gain * change[:, None]
        self.step += 1
        if self.step + 1 >= len(self.powers):
            self.powers = np.concatenate([self.powers, np.empty_like(self.powers)])
        np.multiply(self.powers[self.step], self.decay, out=self.powers[self.step + 1])
        grows = np.ones(x.size, bool)
        grows[shrinking] = False
        if not grows.any() or (self.below[grows] <= self.peak[grows]).all():
            return
        if self.step >= len(self.x):
            for name in ("x", "y", "pushes", "forces"):
                setattr(self, name, np.concatenate([getattr(self, name)] * 2))
        self.x[self.step], self.y[self.step] = x, y
        self.pushes[self.step], self.forces[self.step] = self.now, modes
        self.peak[grows] = self.step

    def force_at(self, rows, x, from_x):
        """Whether each contact shrinks, and then its force and last push, if the step ends at x."""
        push = self.equilibrium[rows] * x + np.einsum("sm,sm->s", self.decay[rows], self.now[rows])
        push += self.gain[rows].sum(axis=1) * (x - from_x)
        peak, below = self.peak[rows], self.below[rows]
        # The growing ones are only asked for their balance at the peak.
        first = below > peak
        shrinks = np.ones(rows.size, bool)
        shrinks[first] = push[first] < self.remaining(self.x, self.pushes, rows[first], peak[first])
        shrinks |= push <= 0
        k = np.minimum(below, peak - 1)
        low, high = np.zeros(rows.size), np.full(rows.size, np.nan)
        seek = np.flatnonzero(shrinks & (push > 0))
        while seek.size:
            low[seek] = push[seek] - self.remaining(self.x, self.pushes, rows[seek], k[seek])
            seek = seek[(low[seek] < 0) & (k[seek] > 0)]
            high[seek] = low[seek]
            k[seek] -= 1
        found = np.flatnonzero(shrinks & (push > 0))
        missing = found[np.isnan(high[found])]
        high[missing] = push[missing] - self.remaining(self.x, self.pushes, rows[missing], k[missing] + 1)
        self.below[rows[found]] = k[found] + 1
        force = np.zeros(rows.size)
        part = low[found] / (low[found] - high[found])
        lower = self.remaining(self.y, self.forces, rows[found], k[found])
        upper = self.remaining(self.y, self.forces, rows[found], k[found] + 1)
        force[found] = (1 - part) * lower + part * upper
        return shrinks, force, push

    def remaining(self, levels, forces, rows, k):
        """What the loading up to step k still exerts at the end of the step to come."""
        faded = np.einsum("sm,sm->s", self.powers[self.step + 1 - k, rows], forces[k, rows])
        return self.equilibrium[rows] * levels[k, rows] + faded


def shape(x):
    return np.sign(x) * np.abs(x) ** 1.5


def indentation(free, k, guess):
    """Solves x + k·shape(x) = free by Newton's method."""
    x = guess.copy()
    for _ in range(60):
        root = np.sqrt(np.abs(x))
        change = (x + k * x * root - free) / (1 + 1.5 * k * root)
        x -= change
        if (np.abs(change) <= 1e-13 * np.abs(x) + 1e-18).all():
            break
    return x
