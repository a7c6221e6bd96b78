"""The Python side of the bench: the same tasks with pandas, NumPy and SciPy.

python3 baseline.py whole-job FOLDER OUT PROCESSES does the whole job once.
python3 baseline.py TASK FOLDER: "run" on a line of standard input times the task once and answers with
milliseconds by the clock and of all its threads, and the largest memory so far; "answer PATH" writes what the last run found.
"""

import importlib
import json
import resource
import sys
import time
from pathlib import Path

MODULES = {
    "read": "steps.read_exports",
    "glass-transition": "steps.glass_transition",
    "superposition": "steps.superposition",
    "contacts": "steps.contacts",
    "nnls-unit": "steps.nnls_unit",
}


def plain(value):
    """NumPy numbers and arrays as JSON knows them."""
    return value.tolist() if hasattr(value, "tolist") else str(value)


def main():
    name, folder = sys.argv[1], Path(sys.argv[2])
    if name == "whole-job":
        importlib.import_module("steps.whole_job").assess(folder, Path(sys.argv[3]), int(sys.argv[4]))
        used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
        cpu_ms = sum(who.ru_utime + who.ru_stime for who in used) * 1e3
        print(json.dumps({"cpu_ms": cpu_ms, "maxRss_MB": max(who.ru_maxrss for who in used) / 1024}))
        return
    run = importlib.import_module(MODULES[name]).prepare(folder)
    answer = None
    for line in sys.stdin:
        line = line.rstrip("\n")
        if line == "run":
            started, cpu = time.perf_counter(), time.process_time()
            answer = run()
            ms, cpu_ms = (time.perf_counter() - started) * 1e3, (time.process_time() - cpu) * 1e3
            rss = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            print(json.dumps({"ms": ms, "cpu_ms": cpu_ms, "maxRss_MB": rss}), flush=True)
        elif line.startswith("answer "):
            Path(line[len("answer "):]).write_text(json.dumps(answer, default=plain))
            print("{}", flush=True)


if __name__ == "__main__":
    main()
