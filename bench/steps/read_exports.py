"""Exports of either dialect into columns in °C, Hz and Pa."""

import io
import re

import pandas as pd

QUANTITIES = {
    "Temperature": "temperature_C",
    "Frequency": "frequency_Hz",
    "Storage modulus": "storageModulus_Pa",
    "Loss modulus": "lossModulus_Pa",
}
PASCALS = {"Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9}


def prepare(folder):
    paths = sorted((folder / "exports").iterdir())
    return lambda: [read_export(path) for path in paths]


def read_export(path):
    """The preamble is passed over; the header tells delimiter, decimal mark, columns and units."""
    text = path.read_text(encoding="utf-8")
    start = text.index("Temperature")
    header = text[start : text.index("\n", start)]
    delimiter = ";" if ";" in header else ","
    names = header.split(delimiter)
    wanted = {}
    for position, name in enumerate(names):
        for words, quantity in QUANTITIES.items():
            if name.startswith(words):
                wanted[position] = (quantity, re.search(r"\[(.*)\]", name).group(1))
    frame = pd.read_csv(
        io.StringIO(text[start + len(header) :]),
        sep=delimiter,
        decimal="," if delimiter == ";" else ".",
        header=None,
        usecols=list(wanted),
        dtype=float,
    )
    columns = {}
    for position, (quantity, unit) in wanted.items():
        values = frame[position].to_numpy()
        columns[quantity] = values * PASCALS[unit] if quantity.endswith("_Pa") else values
    return columns


def sample_of(path):
    """The sample's own name, from the preamble."""
    with path.open(encoding="utf-8") as file:
        return re.split("[;,]", file.readline().strip(), maxsplit=1)[1]
