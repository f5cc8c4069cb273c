/**
 * How every command ends: with an answer on standard output, or with a refusal on standard error, exit code 2 and nothing on
 * standard output. With --json both are one line of JSON, so a program that calls `sward` never has to read prose.
 */
import type { Fault } from "../messages.ts";
import { sentenceOf } from "../messages.ts";
import type { CliDeps } from "./deps.ts";

export interface Answer {
  /** What --json prints. */
  readonly json: unknown;
  /** What a person reads, without the last line break. */
  readonly text: string;
}

/** `at` names the option, or the file and line, that is at fault. */
export interface Refusal {
  readonly fault: Fault;
  readonly at?: string;
}

export function answer(deps: CliDeps, asJson: boolean, { json, text }: Answer): void {
  deps.out(`${asJson ? JSON.stringify(json) : text}\n`);
}

export function refuse(deps: CliDeps, asJson: boolean, { fault, at }: Refusal): void {
  const message = sentenceOf(fault);
  const place = at === undefined ? {} : { at };
  deps.err(asJson ? `${JSON.stringify({ fault, ...place, message })}\n` : `sward: ${at ? `${at}: ` : ""}${message}\n`);
  deps.setExitCode(2);
}
