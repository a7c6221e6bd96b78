"""Isotherms to shift factors, shift law and relaxation spectrum."""

import json

import numpy as np

from .reduced_fit import ReducedFit
from .shift_law import choose_law
from .spectrum import modulus, solve_spectrum


def prepare(folder):
    compounds = [
        tuple(np.array(compound[key]) for key in ("temperature_C", "frequency_Hz", "storageModulus_Pa", "lossModulus_Pa"))
        for compound in json.loads((folder / "isotherms.json").read_text())
    ]
    return lambda: [answer(superpose(*compound)) for compound in compounds]


def superpose(temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa):
    steps_C, isotherm = np.unique(temperature_C, return_inverse=True)
    order = np.lexsort((frequency_Hz, isotherm))
    isotherm, frequency_Hz, storageModulus_Pa, lossModulus_Pa = (
        column[order] for column in (isotherm, frequency_Hz, storageModulus_Pa, lossModulus_Pa)
    )
    reference = int(np.abs(steps_C - (steps_C.min() + steps_C.max()) / 2).argmin())
    start = starting_shifts(steps_C, isotherm, frequency_Hz, storageModulus_Pa)
    away = np.flatnonzero(np.arange(steps_C.size) != reference)

    def shifts_of(p):
        shifts = np.zeros(steps_C.size)
        shifts[away] = p
        return shifts

    choose = np.eye(steps_C.size)[:, away]
    log10_a = start - start[reference]
    trust = 1.0
    for _ in range(5):
        reduced = ReducedFit(isotherm, frequency_Hz, storageModulus_Pa, lossModulus_Pa, log10_a, trust)
        free = reduced.fit(shifts_of, lambda p: choose, log10_a[away])
        for _ in range(6):
            if reduced.covers(free["log10_a"]):
                break
            reduced.lay_grid(free["log10_a"])
            free = reduced.fit(shifts_of, lambda p: choose, free["parameters"])
        log10_a = free["log10_a"]
        n = isotherm.size
        rms = np.sqrt([(reduced.residuals[:n] ** 2).mean(), (reduced.residuals[n:] ** 2).mean()])
        wanted = np.clip(rms[0] / (rms[1] / trust), 0.1, 4)
        if abs(np.log(wanted / trust)) < 0.3:
            break
        trust = wanted
    for _ in range(3):
        before = free["rss"]
        reduced.refine_grid()
        if (reduced.evaluate(free["log10_a"]) ** 2).sum() > 0.8 * before:
            break
        free = reduced.fit(shifts_of, lambda p: choose, free["parameters"])

    law = choose_law(measured_shifts(steps_C, reference, away, free, reduced.target.size))
    if law["scatter"] == 0:
        joint = reduced.fit(
            lambda p: law["law"].shift(p, steps_C)[0], lambda p: law["law"].shift(p, steps_C)[1], law["parameters"]
        )
        law["parameters"] = joint["parameters"]
        law["covariance"] = error_variance(joint) * np.linalg.inv(joint["information"])
    shift = law["law"].shift(law["parameters"], steps_C)[0]
    omega = 2 * np.pi * frequency_Hz * 10 ** shift[isotherm]
    fitted = solve_spectrum(omega, storageModulus_Pa, lossModulus_Pa, trust, np.sqrt(free["variance"]))
    return {
        "steps_C": steps_C, "isotherm": isotherm, "frequency_Hz": frequency_Hz, "reference_C": steps_C[reference],
        "law": law, "free": free["log10_a"], "shift": shift, "omega": omega, "trust": trust, "fitted": fitted,
    }


def answer(found):
    law, p = found["law"], found["law"]["parameters"]
    is_wlf = law["law"].kind == "wlf"
    storage, loss = modulus(found["fitted"]["spectrum"], found["omega"])
    return {
        "referenceTemperature_C": found["reference_C"],
        "law": law["law"].kind,
        "wlf": {"c1": p[0] / p[1], "c2_K": 1 / p[1]} if is_wlf else None,
        "activationEnergy_J_mol": None if is_wlf else p[0] * 1000 * np.log(10) * 8.314462618,
        "log10aT": found["free"],
        "moduli": [{"storageModulus_Pa": m1, "lossModulus_Pa": m2} for m1, m2 in zip(storage, loss)],
    }


def error_variance(fit):
    return fit["variance"] * (1 + fit["modes"] / fit["degrees"])


def measured_shifts(steps_C, reference, away, free, moduli):
    """The free shifts with what is known of their errors."""
    information = free["information"] + np.eye(away.size) * free["variance"] / 9
    covariance = np.zeros((steps_C.size, steps_C.size))
    covariance[np.ix_(away, away)] = error_variance(free) * np.linalg.inv(information)
    return {
        "temperature_C": steps_C,
        "log10_a": free["log10_a"],
        "reference": reference,
        "covariance": covariance,
        "free_deviance": moduli * np.log(2 * np.pi * free["variance"]) + free["degrees"],
        "moduli": moduli,
        "other_parameters": free["modes"] + 1,
    }


def starting_shifts(steps_C, isotherm, frequency_Hz, storageModulus_Pa):
    """Closed-form area shifts of neighbouring isotherms by the storage modulus, chained."""
    curves = [
        rising_curve(np.log10(frequency_Hz[isotherm == k]), np.log10(storageModulus_Pa[isotherm == k]))
        for k in range(steps_C.size)
    ]
    slopes = np.full(steps_C.size - 1, np.nan)
    for k, (first, second) in enumerate(zip(curves[:-1], curves[1:])):
        shift, overlap = area_shift(first, second)
        if overlap >= 0.15:
            slopes[k] = min(shift / (steps_C[k + 1] - steps_C[k]), 0)
    known = np.flatnonzero(~np.isnan(slopes))
    if known.size:
        slopes = slopes[known[np.abs(np.arange(slopes.size)[:, None] - known).argmin(axis=1)]]
    else:
        slopes[:] = -0.1
    return np.concatenate([[0], np.cumsum(slopes * np.diff(steps_C))])


def area_shift(first, second):
    """(1/(y2−y1)) ∫ (x_k(y) − x_{k+1}(y)) dy over the ordinates that both have, exact for polylines."""
    low, high = max(first[1][0], second[1][0]), min(first[1][-1], second[1][-1])
    if high <= low:
        return None, high - low
    inner = np.concatenate([first[1], second[1]])
    knots = np.unique(np.concatenate([[low, high], inner[(inner > low) & (inner < high)]]))
    gap = np.interp(knots, first[1], first[0]) - np.interp(knots, second[1], second[0])
    return np.trapz(gap, knots) / (high - low) if hasattr(np, "trapz") else np.trapezoid(gap, knots) / (high - low), high - low


def rising_curve(x, y):
    """Isotonic regression by pooling adjacent violators; pooled points stand at their mean abscissa."""
    blocks = []
    for point in zip(x, y):
        blocks.append((*point, 1))
        while len(blocks) > 1 and blocks[-1][1] <= blocks[-2][1]:
            (xa, ya, wa), (xb, yb, wb) = blocks.pop(), blocks.pop()
            blocks.append(((xa * wa + xb * wb) / (wa + wb), (ya * wa + yb * wb) / (wa + wb), wa + wb))
    x, y, _ = np.array(blocks).T
    return x, y
