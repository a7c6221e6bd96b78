#!/usr/bin/env node
import { readFileSync } from "node:fs";
import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import { failOnWords } from "./study/run/gate/fail-on-words.js";

declare const FROSTLINE_VERSION: string;

const usageError = 2;
const failed = 3;

const program = new Command("frostline")
  .description(
    "Reads a folder of dynamic mechanical and rebound test exports and says, for each rubber compound, " +
      "where its glass transition lies, how it grips and rebounds in use, and whether it turns glassy in the cold.",
  )
  .version(versionAndBuild(), "-V, --version", "print the version and which build of it this is")
  .helpOption("-h, --help", "show this help")
  .helpCommand("help [command]", "show the help of a command")
  .showHelpAfterError("See `frostline --help`, or --help after a command, for what can be given.")
  .addHelpText(
    "after",
    "\nExamples:\n  frostline assess exports/                 read a folder, write frostline-out/report.html\n" +
      "  frostline inspect exports/odd.csv         show how one file was read\n" +
      "  frostline demo                            make an invented example folder and assess it\n" +
      "\nExit codes: 0 done, even if some files were rejected; 1 a --fail-on condition occurred;\n2 nothing usable, or bad usage; 3 a defect, or an output that could not be written.",
  )
  .exitOverride()
  .configureOutput({ outputError: (text, write) => write(`frostline: ${text}`) });

const wholeNumber = (text: string) => {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1)
    throw new InvalidArgumentError("Expected a whole number from 1 up.");
  return value;
};
const share = (text: string) => {
  const match = /^(\d{1,6})\/(\d{1,6})$/.exec(text);
  const part = Number(match?.[1]);
  const of = Number(match?.[2]);
  if (!(part >= 1 && part <= of)) throw new InvalidArgumentError("Expected a share such as 1/4.");
  return { part, of };
};
const format = () =>
  new Option("--format <format>", "also write the tables in this format; may be given more than once")
    .choices(["parquet", "xlsx"])
    .argParser((value: string, previous: string[] | undefined) => {
      if (!["parquet", "xlsx"].includes(value)) throw new InvalidArgumentError("Expected parquet or xlsx.");
      return [...(previous ?? []), value];
    });
const failOn = (means = "exit with 1 when this occurs; may be given more than once") =>
  new Option("--fail-on <what>", means)
    .choices(failOnWords)
    .argParser((value: string, previous: string[] | undefined) => {
      if (!(failOnWords as readonly string[]).includes(value))
        throw new InvalidArgumentError("Expected glassy, undetermined, rejected or requirement.");
      return [...(previous ?? []), value];
    });

program
  .command("assess")
  .description("read files and folders, and write the report, the JSON and the tables")
  .argument("<paths...>", "export files, or folders of them")
  .option("--out <folder>", "where the output goes", "frostline-out")
  .option("--study <file>", "study file; default: study.yaml beside the exports, if there is one")
  .option("--workers <n>", "worker threads for the fits; default: one a core", wholeNumber)
  .addOption(failOn())
  .addOption(format())
  .option("--since <results.json>", "say what moved since these earlier results, and because of what")
  .option("--open", "show the report in the browser when it is done")
  .option(
    "--no-cache",
    "compute every compound anew; neither take fits from the output folder's cache nor keep them",
  )
  .option("--part <i/n>", "only the i-th of n shares of the work, for `frostline merge`", share)
  .option("--quiet", "no progress on stderr")
  .action(async (paths: string[], options) => {
    const { assessCommand } = await import("./study/run/assess-command.js");
    process.exitCode = await assessCommand(paths, { ...options, version: FROSTLINE_VERSION });
  });

program
  .command("merge")
  .description("put the shares of one job together; the same bytes as a single run")
  .argument("<partials...>", "the files that `assess --part` wrote")
  .option("--out <folder>", "where the output goes", "frostline-out")
  .addOption(failOn())
  .addOption(format())
  .option("--since <results.json>", "say what moved since these earlier results, and because of what")
  .option("--open", "show the report in the browser when it is done")
  .action(async (partials: string[], options) => {
    const { mergeCommand } = await import("./study/run/assess-command.js");
    process.exitCode = await mergeCommand(partials, { ...options, version: FROSTLINE_VERSION });
  });

program
  .command("inspect")
  .description("show how files were read: columns, units, facts and their lines, what was skipped and why")
  .argument("<files...>", "one export file or several")
  .option("--study <file>", "study file with column overrides; default: study.yaml beside the file")
  .option("--json", "the same as JSON, for programs")
  .action(async (files: string[], options) => {
    const { inspectCommand } = await import("./study/inputs/inspect-command.js");
    process.exitCode = await inspectCommand(files, options);
  });

program
  .command("watch")
  .description("assess a folder, and again whenever a file arrives, changes or leaves")
  .argument("<folder>", "the folder to watch")
  .option("--out <folder>", "where the output goes", "frostline-out")
  .option("--study <file>", "study file; default: study.yaml in the folder, if there is one")
  .option("--workers <n>", "worker threads for the fits; default: one a core", wholeNumber)
  .option("--poll", "look again and again instead of waiting for events; for network shares")
  .option("--settle <ms>", "how long a file must have stopped growing before it is read", wholeNumber, 1000)
  .addOption(failOn("end with 1 when this occurs in a report that was written; may be given more than once"))
  .option("--quiet", "tell only what is wrong")
  .action(async (folder: string, options) => {
    const { watchCommand } = await import("./study/watch/watch-command.js");
    process.exitCode = await watchCommand(folder, { ...options, version: FROSTLINE_VERSION });
  });

program
  .command("demo")
  .description("write a folder of invented exports and assess it")
  .option("--out <folder>", "where the demo goes", "frostline-demo")
  .option("--workers <n>", "worker threads for the fits; default: one a core", wholeNumber)
  .option("--quiet", "no progress on stderr")
  .option("--open", "show the report in the browser when it is done")
  .action(async (options) => {
    const { demoCommand } = await import("./study/demo/demo-command.js");
    process.exitCode = await demoCommand({ ...options, version: FROSTLINE_VERSION });
  });

program
  .command("page")
  .description("write the program as one HTML file: drop exports on it in a browser, offline")
  .option("--out <file>", "where the page goes", "frostline.html")
  .action(async (options) => {
    const { pageCommand } = await import("./study/drop-page/page-command.js");
    process.exitCode = await pageCommand({ ...options, version: FROSTLINE_VERSION });
  });

// Whoever reads stdout may close it early, or its disk be full: the answer was not given, whatever else was done.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  const why =
    error.code === "EPIPE" ? "it was closed before the end" : `it cannot be written (${error.code})`;
  fail(`stdout: ${why}`);
});
// Progress and warnings that nobody reads change nothing.
process.stderr.on("error", () => {});
process.on("uncaughtException", fail);
process.on("unhandledRejection", fail);

/** "0.1.0 (build 3f2a…)": what was built, told by its content; two installations with one build are the same program. */
function versionAndBuild(): string {
  try {
    return `${FROSTLINE_VERSION} (build ${readFileSync(new URL("./build.txt", import.meta.url), "utf8").trim()})`;
  } catch {
    return FROSTLINE_VERSION;
  }
}

/** One line, and the exit code of a failure. */
function fail(reason: unknown): never {
  const said = reason instanceof Error ? `${reason.message} [defect; please report it]` : String(reason);
  process.stderr.write(`frostline: ${said.replace(/\s+/g, " ")}\n`);
  process.exit(failed);
}

try {
  if (process.argv.length <= 2) {
    program.outputHelp({ error: true });
    process.exitCode = usageError;
  } else {
    await program.parseAsync();
  }
} catch (error) {
  if (!(error instanceof CommanderError)) fail(error);
  process.exitCode = error.exitCode === 0 ? 0 : usageError;
}
