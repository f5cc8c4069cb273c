/**
 * The command line as a function of its arguments and of what it is given of the world. A command is a file of its own; to add one,
 * import it and add it to `COMMANDS`.
 */
import { Command, CommanderError } from "commander";
import { refuse } from "./answer.ts";
import { cardCommand } from "./card.ts";
import type { CliDeps } from "./deps.ts";
import { exchangeCommand } from "./exchange.ts";
import { exportCommand } from "./export.ts";
import { importCommand } from "./import.ts";
import { leagueCommand } from "./league.ts";
import { recordCommand } from "./record.ts";
import { replayCommand } from "./replay.ts";
import { rulesCommand } from "./rules.ts";
import { slipCommand } from "./slip.ts";
import { strokesCommand } from "./strokes.ts";
import { verifyCommand } from "./verify.ts";

const COMMANDS: readonly ((deps: CliDeps) => Command)[] = [
  strokesCommand,
  exchangeCommand,
  cardCommand,
  rulesCommand,
  exportCommand,
  verifyCommand,
  importCommand,
  recordCommand,
  slipCommand,
  replayCommand,
  leagueCommand,
];

/** @param args as typed after `sward` */
export async function run(args: readonly string[], deps: CliDeps): Promise<void> {
  const program = new Command("sward")
    .description(
      "A record of handicap play for golf croquet clubs. Every command has --help with an example, and --json.",
    )
    .exitOverride()
    // The parser's own complaints are caught below and said as every other refusal is.
    .configureOutput({ writeOut: deps.out, writeErr: () => undefined })
    .helpCommand(false)
    .addHelpText(
      "after",
      "\nsward relay --help lists the commands of a relay on this machine: backup, restore, check.",
    );
  for (const make of COMMANDS) program.addCommand(make(deps).copyInheritedSettings(program));
  if (args.length === 0) return program.outputHelp();
  try {
    await program.parseAsync(args, { from: "user" });
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (error.exitCode === 0) return;
    const name = COMMANDS.map((make) => make(deps).name()).find((each) => args.includes(each));
    const command = name === undefined ? "sward" : `sward ${name}`;
    const problem = error.message.replace(/^error: /, "");
    refuse(deps, args.includes("--json"), { fault: { type: "command-line", command, problem } });
  }
}
