import { spawn } from 'node:child_process';
import type { ChildProcessWithoutNullStreams } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ROOT } from '../support/repository-files.js';

/** Faults are made to the built program; npm run check builds it first. */
export const BUILT: boolean = existsSync(join(ROOT, 'dist', 'cli', 'main.js'));

const HEADER =
  'point_id,code,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,correction_age_s,satellites_used,pdop,sigma_east_m,sigma_north_m,sigma_up_m,base_id,pole_length_m,tilt_deg,tilt_azimuth_deg\n';

/** A row of invented fixes: every row a point of its own, or all of them one occupation. */
function row(index: number, isOnePoint: boolean): string {
  const seconds = isOnePoint ? index / 10 : index;
  const time = new Date(Date.UTC(2026, 2, 4, 5) + 1000 * seconds).toISOString();
  const digits = String(index % 9000).padStart(4, '0');
  return `${isOnePoint ? 'A-1' : `P-${String(index)}`},peg,${time},-31.50146${digits},21.40143${digits},1043.${String(index % 900).padStart(3, '0')},fixed,1.7,15,1.65,0.003,0.003,0.006,B1,2.000,,\n`;
}

/** Rows of a file of fixes, from one index to before another. */
export function fixRows(from: number, to: number, isOnePoint = false): string {
  let text = '';
  for (let index = from; index < to; index += 1) text += row(index, isOnePoint);
  return text;
}

/** A folder of its own with session.toml, geoid.csv and fixes.csv of so many rows. */
export function dayFolder(rows: number, isOnePoint = false, parent: string = tmpdir()): string {
  const folder = mkdtempSync(join(parent, 'pegbook-faults-'));
  for (const name of ['session.toml', 'geoid.csv'])
    cpSync(join(ROOT, 'examples', 'quillback-pan', name), join(folder, name));
  writeFileSync(join(folder, 'fixes.csv'), HEADER + fixRows(0, rows, isOnePoint));
  return folder;
}

/** The words of the main job. */
export const REDUCE: readonly string[] = ['reduce-points', 'fixes.csv', '-s', 'session.toml'];

/** How a run of the program ended. */
export interface Ended {
  /** Null where a signal ended the process before the program could. */
  readonly exit: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: Buffer;
  readonly stderr: string;
}

/** Starts the built program. */
export function startProgram(
  args: readonly string[],
  cwd: string,
  nodeOptions: readonly string[] = [],
  env: Readonly<Record<string, string>> = {},
): ChildProcessWithoutNullStreams {
  return spawn(process.execPath, [...nodeOptions, join(ROOT, 'bin', 'pegbook.js'), ...args], {
    cwd,
    env: { ...process.env, ...env },
  });
}

/** Reads everything a run says until it ends. */
export function ended(child: ChildProcessWithoutNullStreams): Promise<Ended> {
  const out: Buffer[] = [];
  let stderr = '';
  child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
  child.stderr.setEncoding('utf8').on('data', (text: string) => (stderr += text));
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (exit, signal) => {
      resolve({ exit, signal, stdout: Buffer.concat(out), stderr });
    });
  });
}

/** Runs the built program to its end with nothing on standard input. */
export function runProgram(
  args: readonly string[],
  cwd: string,
  nodeOptions: readonly string[] = [],
  env: Readonly<Record<string, string>> = {},
): Promise<Ended> {
  const child = startProgram(args, cwd, nodeOptions, env);
  child.stdin.on('error', () => undefined).end();
  return ended(child);
}

/** Files of a folder that were not there when it was made. */
export function newFiles(folder: string): readonly string[] {
  return readdirSync(folder)
    .filter((name) => !['session.toml', 'geoid.csv', 'fixes.csv'].includes(name))
    .sort();
}
