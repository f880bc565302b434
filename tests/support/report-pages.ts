import { cpSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'csv-parse/sync';
import { runInProcess } from './run-in-process.js';

/** A page with the data file of the same run. */
export interface ReportRun {
  readonly exit: number;
  readonly path: string;
  readonly html: string;
  readonly rows: readonly Readonly<Record<string, string>>[];
  readonly stderr: string;
}

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** A folder with a copy of the examples. */
export function folderWithExamples(): string {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-report-'));
  cpSync(join(ROOT, 'examples'), join(folder, 'examples'), { recursive: true });
  return folder;
}

/** Runs a command in a folder with --output and --report, and reads both back. */
export async function runWithReport(folder: string, words: readonly string[], name: string): Promise<ReportRun> {
  const path = join(folder, `${name}.html`);
  const result = await runInProcess(
    [...words, '--output', `${name}-out.csv`, '--report', `${name}.html`, '--force', '-q'],
    { cwd: folder },
  );
  if (result.exit > 1) throw new Error(result.stderr);
  const rows: Record<string, string>[] = parse(readFileSync(join(folder, `${name}-out.csv`)), { columns: true });
  return { exit: result.exit, path, html: readFileSync(path, 'utf8'), rows, stderr: result.stderr };
}

/** Points at places spread over half a degree, three epochs each, under the names given. */
export function writeFixes(folder: string, name: string, ids: readonly string[]): void {
  const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
  const lines = [
    'point_id,code,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,satellites_used,base_id',
  ];
  for (const [index, id] of ids.entries()) {
    const latitude = -31.5 - 0.25 * ((index * 0.618_034) % 1);
    const longitude = 21.4 - 0.45 * ((index * 0.754_878) % 1);
    for (let epoch = 0; epoch < 3; epoch += 1) {
      const time = new Date(Date.UTC(2026, 2, 4, 5, 0, 0) + (index * 10 + epoch) * 1000)
        .toISOString()
        .replace('.000', '');
      lines.push(
        `${quoted(id)},peg,${time},${(latitude + epoch * 2e-8).toFixed(9)},${longitude.toFixed(9)},1043.00${String(epoch)}0,fixed,${index % 7 === 3 && epoch === 1 ? '4' : '12'},B1`,
      );
    }
  }
  writeFileSync(join(folder, name), `${lines.join('\n')}\n`);
}
