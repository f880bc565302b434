import { basename, dirname, extname, join } from 'node:path';
import { openSource } from '../../../io/bytes/source.js';
import { isRunRecordHead, statedSystem } from '../../../io/documents/stated-system.js';
import type { StatedSystem } from '../../../io/documents/stated-system.js';
import type { FinishedRun } from '../../../records/runs/finished-run.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { readRecord } from '../../inputs/read-record.js';
import type { Context } from '../../shell/context.js';

/** One of the two that are compared: its points file, and the record that names it where one was given. */
export interface RunSide {
  /** As typed. */
  readonly name: string;
  /** Of the points. */
  readonly path: string;
  readonly record: { readonly run: FinishedRun; readonly sha256: string } | null;
  readonly stated: StatedSystem | null;
}

/** As `EPSG:25833 ETRS89 / UTM zone 33N`. */
const CODE_AT_START = /^EPSG:\d+/u;

const JSON_EXTENSIONS: readonly string[] = ['.json', '.geojson'];

/**
 * What a name stands for: a file of points, or a run record, whose points lie beside it.
 * Problems: those of the file and of the record; record-incomplete where the record names no points.
 */
export async function runSide(name: string, context: Context): Promise<Outcome<RunSide>> {
  if (!JSON_EXTENSIONS.includes(extname(name).toLowerCase()))
    return success({ name, path: name, record: null, stated: null });
  const head = await beginning(name, context);
  if (!head.ok) return head;
  if (!isRunRecordHead(head.value))
    return success({ name, path: name, record: null, stated: statedSystem(head.value) });
  const read = await readRecord(name, context);
  if (!read.ok) return read;
  const { run } = read.value;
  const output = run.outputs.find(({ role }) => role === 'output');
  if (output === undefined)
    return failure(
      errorProblem('record-incomplete', {
        message: 'names no file of points that the run wrote',
        where: { source: name },
        hint: 'give the points file itself, or run again with --output and --record',
      }),
    );
  return success({
    name,
    path: join(dirname(name), basename(output.name)),
    record: { run, sha256: output.sha256 },
    stated: systemOf(run),
  });
}

/** The points are those that the record tells of, or a problem. Given: the digest of what was read. */
export function otherPoints({ path, name, record }: RunSide, sha256: string): ReturnType<typeof errorProblem> | null {
  if (record === null || record.sha256 === sha256) return null;
  return errorProblem('record-conflict', {
    message: `is not the file that the run of ${name} wrote: its SHA-256 is another`,
    where: { source: path },
    hint: 'put the points of the run beside its record, or compare the points files themselves',
  });
}

async function beginning(name: string, { cwd, stdin }: Context): Promise<Outcome<string>> {
  const source = await openSource(name, { cwd, stdin });
  if (!source.ok) return source;
  for await (const chunk of source.value.chunks()) {
    await source.value.close();
    return chunk.ok ? success(chunk.value.toString('utf8')) : chunk;
  }
  return success('');
}

function systemOf({ settings, json }: FinishedRun): StatedSystem | null {
  const stated = settings.get('system.grid');
  // The settings of a job stand day by day; its record says the one grid that all its points are in.
  const system = stated === undefined || stated === '' ? oneGridOf(json['systems']) : stated;
  return system === null
    ? null
    : // No text is no year.
      { system, epochYear: parseDecimal(settings.get('system.epoch_year') ?? '') };
}

/** The grid that a record's systems name, as often as they do; null: none, or several. */
function oneGridOf(systems: unknown): string | null {
  if (!Array.isArray(systems)) return null;
  const named = systems.flatMap((system: unknown): readonly string[] => {
    if (typeof system !== 'object' || system === null) return [];
    const { role, name, definition } = system as Readonly<Record<string, unknown>>;
    if (role !== 'grid' || typeof name !== 'string') return [];
    const code = CODE_AT_START.exec(name)?.[0];
    // Without a code a system goes by its definition.
    return code !== undefined ? [code] : typeof definition === 'string' ? [definition] : [];
  });
  const [first, ...more] = new Set(named);
  return first === undefined || more.length > 0 ? null : first;
}
