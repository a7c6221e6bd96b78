// Executes every notebook in notebooks/ and stores its outputs: `npm run notebooks`.
// With --check nothing is stored: the outputs are compared with the stored ones, and a difference is a failure.
// With --install nothing is run: only what is missing is installed. Names of notebooks after it run only those.
// What is missing is installed: the kernel from the npm registry into notebooks/node_modules, and, as root on Debian,
// the client that drives it (python3-jupyter-client, python3-nbformat).
import { spawnSync } from "node:child_process";
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { installDebianPackages, installsDebianPackages } from "./debian-packages.mjs";
import { findPython } from "./find-tools.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");
const notebooks = join(root, "notebooks");
const args = process.argv.slice(2);
const isInstall = args.includes("--install");
const isCheck = args.includes("--check");
const asked = args.filter((arg) => !arg.startsWith("--"));
const missingTool = 3;

const names = readdirSync(notebooks)
  .filter((name) => name.endsWith(".ipynb"))
  .filter((name) => asked.length === 0 || asked.some((one) => name === one || name === `${one}.ipynb`))
  .sort();
if (names.length === 0) fail(`no such notebook: ${asked.join(", ")}`, 2);

if (isInstall) {
  kernelBinary();
  notebookPython();
  process.exit(0);
}
// The tests build before they check, and must not build again beside one another.
if (!isCheck || !existsSync(join(root, "dist", "index.js"))) {
  run(process.execPath, [join(root, "scripts", "setup.mjs"), "build"]);
}
const kernel = kernelBinary();
const python = notebookPython();

const folder = mkdtempSync(join(tmpdir(), "frostline-notebooks-"));
try {
  const spec = join(folder, "jupyter", "kernels", "deno");
  mkdirSync(spec, { recursive: true });
  writeFileSync(
    join(spec, "kernel.json"),
    JSON.stringify({
      argv: [kernel, "jupyter", "--kernel", "--conn", "{connection_file}"],
      display_name: "Deno",
      language: "typescript",
    }),
  );
  const executed = join(folder, "executed");
  mkdirSync(executed);
  const { status } = spawnSync(
    python,
    [join(root, "scripts", "execute-notebooks.py"), executed, ...names.map((name) => join(notebooks, name))],
    {
      stdio: ["ignore", "inherit", "inherit"],
      env: {
        ...process.env,
        JUPYTER_PATH: join(folder, "jupyter"),
        JUPYTER_RUNTIME_DIR: join(folder, "runtime"),
        DENO_DIR: join(folder, "deno"),
        DENO_NO_UPDATE_CHECK: "1",
        NO_COLOR: "1",
      },
    },
  );
  if (status !== 0) process.exitCode = 1;
  else if (isCheck) process.exitCode = differences(executed).length === 0 ? 0 : 1;
  else for (const name of names) copyFileSync(join(executed, name), join(notebooks, name));
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** Cells whose texts are not the stored ones; a picture has to be there, its bytes may differ by a font or a digit. */
function differences(executed) {
  const found = [];
  for (const name of names) {
    const now = outputsOf(join(executed, name));
    const stored = outputsOf(join(notebooks, name));
    now.forEach((text, i) => {
      if (text === stored[i]) return;
      found.push(name);
      console.error(
        `${name}: the outputs of cell ${i + 1} are not the stored ones.\n--- stored\n${stored[i]}\n--- now\n${text}`,
      );
    });
  }
  if (found.length > 0) console.error("Run `npm run notebooks` to store the outputs of this run.");
  return found;
}

function outputsOf(path) {
  const joined = (text) => (Array.isArray(text) ? text.join("") : (text ?? ""));
  return JSON.parse(readFileSync(path, "utf8")).cells.map((cell) =>
    (cell.outputs ?? [])
      .map((output) => {
        const data = output.data ?? {};
        return [joined(output.text), joined(data["text/plain"]), ...Object.keys(data).sort()].join("\n");
      })
      .join("\n"),
  );
}

function kernelBinary() {
  const name = process.platform === "win32" ? "deno.exe" : "deno";
  const modules = join(notebooks, "node_modules");
  const find = () => {
    const places = [join(modules, "deno", name)];
    if (existsSync(join(modules, "@deno"))) {
      for (const platform of readdirSync(join(modules, "@deno")))
        places.push(join(modules, "@deno", platform, name));
    }
    return places.find((path) => existsSync(path));
  };
  if (find() === undefined) {
    say("installing the TypeScript kernel (npm ci in notebooks/) …");
    run("npm", ["ci", "--prefix", notebooks, "--no-audit", "--no-fund", "--loglevel=error"]);
  }
  return find() ?? fail("there is no Deno for this platform; see notebooks/README.md", missingTool);
}

function notebookPython() {
  const find = () => findPython(["jupyter_client", "nbformat"]);
  if (find() === null && installsDebianPackages) {
    say("installing python3-jupyter-client and python3-nbformat (apt-get) …");
    installDebianPackages(["python3-jupyter-client", "python3-nbformat"]);
  }
  return (
    find() ??
    fail(
      `python3-jupyter-client and python3-nbformat are missing: the notebooks cannot be run${isInstall ? ", and their check (tests/notebooks) will be skipped" : ""}. Install them (Debian: apt-get install python3-jupyter-client python3-nbformat; elsewhere: pip install jupyter_client nbformat), or name a Python that has them in the environment variable FROSTLINE_PYTHON, and run again.`,
      missingTool,
    )
  );
}

function run(command, args) {
  const { status } = spawnSync(command, args, {
    cwd: root,
    stdio: ["ignore", 2, 2],
    shell: process.platform === "win32" && command === "npm",
  });
  if (status !== 0) fail(`${command} ${args[0]} failed`, 2);
}

function say(text) {
  process.stderr.write(`frostline notebooks: ${text}\n`);
}

function fail(text, code) {
  say(text);
  process.exit(code);
}
