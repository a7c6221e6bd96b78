"""From a folder of exports to results.json and tables: fits, predictions, intervals and verdicts."""

import json
import multiprocessing

import numpy as np
import pandas as pd

from .contacts import TEMPERATURES_C, Models, Texture, contacts
from .glass_transition import glass_transition
from .read_exports import read_export, sample_of
from .spectrum import Problem
from .superposition import superpose

DRAWS, PREDICTED = 80, 60
DRAWN_STRENGTH = 0.01
MODULI = ("storageModulus_Pa", "lossModulus_Pa")
POINTS_PER_DECADE = 20
LEATHERY_BORDER_K = 10
GLASS_EXPONENT, GLASS_MOST = 4, 0.05
SWEEP_HZ = 10
CONVENTIONAL_HZ = 1 / (2 * np.pi * 100)


def assess(folder, out, processes):
    """One process a core; every compound has a sweep and a set of isotherms."""
    names = sorted({path.name.rsplit("-", 1)[0] for path in folder.iterdir()})
    with multiprocessing.Pool(processes) as pool:
        compounds = pool.map(assess_compound, [(folder, name) for name in names], chunksize=1)
    write(out, compounds)


def assess_compound(task):
    folder, stem = task
    rng = np.random.default_rng(1)
    sweep_path = folder / f"{stem}-sweep.csv"
    sweep, isotherms = read_export(sweep_path), read_export(folder / f"{stem}-isotherms.csv")
    columns = ("temperature_C", "storageModulus_Pa", "lossModulus_Pa")
    transition = glass_transition(*(sweep[key] for key in columns), rng)
    found = superpose(*(isotherms[key] for key in ("temperature_C", "frequency_Hz", *columns[1:])))
    models = models_of(found, transition["lossModulus"]["temperature_C"], isotherms, rng)
    texture = Texture()
    law = found["law"]["parameters"]
    return {
        "name": sample_of(sweep_path),
        "glassTransition": transition,
        "superposition": {"c1": law[0] / law[1], "c2_K": 1 / law[1], "referenceTemperature_C": found["reference_C"]},
        "outlooks": [outlook(models, found["omega"], at_C, texture, rng) for at_C in TEMPERATURES_C],
    }


def models_of(found, peak_C, isotherms, rng):
    """The fitted model and its alternatives: the law from its covariance, the spectrum from data with resampled residuals.

    The residuals go on the data, and the penalty is weaker than the fit's: else the fit's smoothing is in no interval.
    """
    law, fitted, isotherm = found["law"], found["fitted"], found["isotherm"]
    if law["law"].kind != "wlf":
        raise ValueError("this job is made of WLF materials")
    n = isotherm.size
    count = 2 * n
    widen = np.sqrt(count / max(1, count - fitted["effective"]))
    parts = [fitted["residuals"][:n], fitted["residuals"][n:] / found["trust"]]
    parts = [(part - part.mean()) * widen for part in parts]
    root = np.linalg.cholesky(law["covariance"])
    spectra, laws = [fitted["spectrum"]], [law["parameters"]]
    while len(spectra) <= DRAWS:
        p = law["parameters"] + root @ rng.standard_normal(law["parameters"].size)
        if not (p > 0).all() or 1 + p[1] * (found["steps_C"].min() - found["reference_C"]) <= 0.01:
            continue
        extra = law["scatter"] * rng.standard_normal(found["steps_C"].size)
        shift = law["law"].shift(p, found["steps_C"])[0] + extra
        omega = 2 * np.pi * found["frequency_Hz"] * 10 ** shift[isotherm]
        drawn = [isotherms[key] * np.exp(rng.choice(part, n)) for key, part in zip(MODULI, parts)]
        problem = Problem(omega, *drawn, found["trust"], fitted["per_decade"])
        spectra.append(problem.spectrum(problem.solve(DRAWN_STRENGTH * fitted["strength"])[0]))
        laws.append(p)
    spectra, laws = spectra[: PREDICTED + 1], np.array(laws[: PREDICTED + 1])
    modes = max(times.size for times, _, _ in spectra)
    times_s = np.array([np.pad(times, (0, modes - times.size), constant_values=1) for times, _, _ in spectra])
    moduli_Pa = np.array([np.pad(moduli, (0, modes - moduli.size)) for _, moduli, _ in spectra])
    coldest_C = found["steps_C"].min()
    wlf = np.array([wlf_with_border(p, found["reference_C"], law["law"].border_C, peak_C, coldest_C) for p in laws])
    return Models(wlf, np.array([equilibrium for _, _, equilibrium in spectra]), times_s, moduli_Pa)


def wlf_with_border(p, reference_C, border_C, peak_C, coldest_C):
    """(T0, C1, C2, border): below its border the law goes on as its tangent."""
    c1, c2_K = p[0] / p[1], 1 / p[1]
    if border_C is None:
        difference = peak_C - reference_C
        log10_a = -c1 * difference / (c2_K + difference) + np.log10(SWEEP_HZ / CONVENTIONAL_HZ)
        glass_C = reference_C - log10_a * c2_K / (c1 + log10_a)
        border_C = min(max(glass_C, reference_C - c2_K + 20), coldest_C)
    return reference_C, c1, c2_K, border_C


def outlook(models, omega, temperature_C, texture, rng):
    found = contacts(models, temperature_C, texture)
    everyone = found.pop("all")
    impact_Hz = 1 / (2 * everyone["contactTime_s"])
    frequency_Hz = np.maximum(everyone["contactFrequency_Hz"], impact_Hz)
    if temperature_C < glass_at(models, omega, impact_Hz)[1][0]:
        found["rebound"]["low"] = low_in_glass(everyone["rebound"], rng)
    peaks = [two_sided(values) for values in glass_at(models, omega, frequency_Hz)]
    return {**found, "verdict": verdict(temperature_C, *peaks), "peaks": peaks}


def low_in_glass(rebound, rng):
    """Below the M'' peak the loss is the secondary relaxation's, up to five times the model's: it reaches downwards only."""
    share = np.abs(rng.standard_normal(rebound.size - 1)) / 1.959964
    drawn = np.maximum(rebound[1:] ** (1 + GLASS_EXPONENT * share), rebound[1:] - GLASS_MOST * share)
    return min(rebound[0], np.quantile(drawn, 0.025))


def glass_at(models, omega, frequency_Hz):
    """Temperatures of the tan δ peak and of the M'' peak at each model's own contact frequency."""
    low, high = np.log10(omega.min() / (2 * np.pi)), np.log10(omega.max() / (2 * np.pi))
    count = max(2, int((high - low) * POINTS_PER_DECADE) + 1)
    x = 2 * np.pi * 10 ** (low + np.arange(count) / POINTS_PER_DECADE)[None, :, None] * models.times_s[:, None, :]
    share = 1 / (x + 1 / x)
    loss = np.einsum("sfm,sm->sf", share, models.moduli_Pa)
    share *= x
    storage = models.equilibrium_Pa[:, None] + np.einsum("sfm,sm->sf", share, models.moduli_Pa)
    tan_delta = loss / storage
    top = tan_delta.argmax(axis=1)
    colder = np.where(np.arange(count) >= top[:, None], loss, 0)
    return [
        temperature_at(models, low + vertex(values, at) / POINTS_PER_DECADE - np.log10(frequency_Hz))
        for values, at in ((tan_delta, top), (loss, colder.argmax(axis=1)))
    ]


def vertex(values, at):
    """Place of the parabola's maximum; NaN at the edges of what was measured."""
    inside = (at > 0) & (at < values.shape[1] - 1)
    rows, middle = np.arange(at.size), np.clip(at, 1, values.shape[1] - 2)
    left, here, right = (values[rows, middle + side] for side in (-1, 0, 1))
    return np.where(inside, middle + (left - right) / (2 * (left - 2 * here + right)), np.nan)


def temperature_at(models, log10_a):
    """The laws solved for the temperature."""
    reference_C, c1, c2_K, border_C = models.laws.T
    at_border = -c1 * (border_C - reference_C) / (c2_K + border_C - reference_C)
    border_K = border_C + 273.15
    slope = c1 * c2_K * border_K**2 / (c2_K + border_C - reference_C) ** 2
    below = 1 / (1 / border_K + (log10_a - at_border) / slope) - 273.15
    return np.where(log10_a > at_border, below, reference_C - c2_K * log10_a / (c1 + log10_a))


def two_sided(values):
    drawn = values[1:][np.isfinite(values[1:])]
    low, high = np.quantile(drawn, [0.025, 0.975]) if drawn.size else (values[0], values[0])
    return values[0], min(values[0], low), max(values[0], high)


def verdict(temperature_C, tan_delta_peak, loss_peak):
    if np.isnan(tan_delta_peak[0]) or np.isnan(loss_peak[0]):
        return None
    leathery = [value + LEATHERY_BORDER_K for value in tan_delta_peak]
    if loss_peak[1] <= temperature_C <= loss_peak[2]:
        return "glassy or leathery"
    if temperature_C < loss_peak[0]:
        return "glassy"
    if leathery[1] <= temperature_C <= leathery[2]:
        return "leathery or rubbery"
    return "leathery" if temperature_C < leathery[0] else "rubbery"


def write(out, compounds):
    out.mkdir(parents=True, exist_ok=True)
    (out / "results.json").write_text(json.dumps({"compounds": compounds}, default=lambda value: value.tolist(), indent=1))
    for key in ("glassTransition", "superposition"):
        pd.json_normalize([{"compound": compound["name"], **compound[key]} for compound in compounds]).to_csv(
            out / f"{key}.csv", index=False
        )
    rows = [{"compound": compound["name"], **row} for compound in compounds for row in compound["outlooks"]]
    pd.json_normalize(rows).to_csv(out / "outlooks.csv", index=False)
