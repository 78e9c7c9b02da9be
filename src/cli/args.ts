/**
 * What every command shares: reading options, paths against the folder the command was called from, and
 * errors as one clear line on standard error.
 */
import { resolve } from 'node:path';
import { parseArgs, type ParseArgsConfig } from 'node:util';

/** Something the caller got wrong; its message is the one line that is shown. */
export class BadInput extends Error {
  override readonly name = 'BadInput';
}

type Options = NonNullable<ParseArgsConfig['options']>;

/** `parseArgs` in strict mode over the command line, with BadInput for what it refuses. */
export function readArgs<O extends Options, P extends boolean = false>(options: O, positionals?: P) {
  try {
    return parseArgs({ options, strict: true, allowPositionals: positionals ?? false });
  } catch (error) {
    throw new BadInput(lineOf(error));
  }
}

export interface Limits {
  readonly min?: number;
  readonly max?: number;
  /** The least value itself is not allowed. */
  readonly above?: number;
  readonly whole?: boolean;
}

/** A number from an option's text. Throws BadInput with the option's name. */
export function numberOf(option: string, text: string, limits: Limits = {}): number {
  const { min = -Infinity, max = Infinity, above = -Infinity, whole = false } = limits;
  const value = text.trim() === '' ? NaN : Number(text);
  const fits = Number.isFinite(value) && value >= min && value <= max && value > above;
  if (fits && (!whole || Number.isInteger(value))) return value;
  throw new BadInput(`--${option} must be ${wanted(limits)}, not "${text}"`);
}

function wanted({ min, max, above, whole }: Limits): string {
  const kind = whole === true ? 'a whole number' : 'a number';
  if (min !== undefined && max !== undefined) return `${kind} from ${min} to ${max}`;
  if (min !== undefined) return `${kind} from ${min} on`;
  const least = above === undefined ? kind : `${kind} above ${above}`;
  return max === undefined ? least : `${least}, at most ${max}`;
}

/** A path as the caller meant it: npm runs commands in the project's folder. */
export function resolvePath(path: string): string {
  return resolve(process.env.INIT_CWD ?? process.cwd(), path);
}

/** One line of JSON on standard output. */
export function print(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value)}\n`);
}

function lineOf(error: unknown): string {
  const message = error instanceof Error ? error.message : String(error);
  return message.split('\n')[0]!.trim();
}

/** Says an error in one line and makes the command fail. */
export function fail(command: string, error: unknown): void {
  process.stderr.write(`${command}: ${lineOf(error)}\n`);
  process.exitCode = 1;
}

/** Runs a command: whatever it throws becomes one line and exit code 1. */
export async function run(command: string, main: () => void | Promise<void>): Promise<void> {
  try {
    await main();
  } catch (error) {
    fail(command, error);
  }
}
