"""Executes notebooks in order, each in a kernel of its own, and writes them with their outputs.

usage: execute-notebooks.py FOLDER NOTEBOOK...   (FOLDER: where the executed copies go)
"""

import os
import queue
import sys
import time

import nbformat
from jupyter_client.manager import start_new_kernel
from nbformat.v4 import output_from_msg

CELL_SECONDS = 300
# This kernel may publish outputs after it has said that it is idle, so what a cell must show is waited for:
# a result where it ends in an expression (written without a semicolon), a text where it prints.
OUTPUT_SECONDS = 60
LATE_SECONDS = 0.4


def execute(client, code):
    """The outputs of one cell. Raises where the cell fails or does not end."""
    cell = client.execute(code)
    reply = client.get_shell_msg(timeout=CELL_SECONDS)
    while reply["parent_header"].get("msg_id") != cell:
        reply = client.get_shell_msg(timeout=CELL_SECONDS)
    outputs = []
    expected = {"execute_result"} if not code.rstrip().endswith(";") else set()
    if "console.log" in code:
        expected.add("stream")
    if reply["content"]["status"] != "ok":
        expected = {"error"}
    idle = False
    start = last = time.monotonic()
    while not idle or expected or time.monotonic() - last < LATE_SECONDS:
        if idle and not expected and "console.log" not in code:
            break
        if time.monotonic() - start > OUTPUT_SECONDS:
            raise RuntimeError(f"no {' and no '.join(sorted(expected)) or 'end'} came from this cell")
        try:
            message = client.get_iopub_msg(timeout=0.05)
        except queue.Empty:
            continue
        if message["parent_header"].get("msg_id") != cell:
            continue
        last = time.monotonic()
        kind = message["msg_type"]
        expected.discard(kind)
        if kind == "status":
            idle = idle or message["content"]["execution_state"] == "idle"
        elif kind in ("stream", "display_data", "execute_result", "error"):
            add(outputs, output_from_msg(message))
    content = reply["content"]
    if content["status"] != "ok":
        raise RuntimeError("\n".join([content["ename"], content["evalue"], *content["traceback"]]))
    for output in outputs:
        if output.output_type == "error" or output.get("name") == "stderr":
            raise RuntimeError(output.get("text") or output.get("evalue"))
    return outputs, content["execution_count"]


def add(outputs, output):
    last = outputs[-1] if outputs else None
    if output.output_type == "stream" and last is not None and last.output_type == "stream" and last.name == output.name:
        last.text += output.text
    else:
        outputs.append(output)


folder, notebooks = sys.argv[1], sys.argv[2:]
failed = False
for path in notebooks:
    name = os.path.basename(path)
    notebook = nbformat.read(path, as_version=4)
    manager, client = start_new_kernel(
        startup_timeout=60, kernel_name="deno", cwd=os.path.dirname(os.path.abspath(path))
    )
    try:
        for number, cell in enumerate(notebook.cells, start=1):
            if cell.cell_type != "code":
                continue
            try:
                cell.outputs, cell.execution_count = execute(client, cell.source)
            except Exception as error:
                print(f"{name}: cell {number} failed:\n{cell.source}\n\n{error}", file=sys.stderr)
                failed = True
                break
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
    nbformat.validate(notebook)
    nbformat.write(notebook, os.path.join(folder, name))
    print(f"{name}: {len(notebook.cells)} cells")
sys.exit(1 if failed else 0)
