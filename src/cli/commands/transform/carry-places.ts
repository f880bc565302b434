import { entryAt, present } from '../../../records/present.js';
import { isUnchecked, uncheckedWarnings } from '../../../core/quality/unchecked-points.js';
import type { PlaceBlock } from '../../../io/tables/points/place-input.js';
import type { PlaceRow } from '../../../records/points/place-row.js';
import { locateProblem } from '../../../records/problem.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { Problem } from '../../../records/problem.js';
import type { PointOnTheWay } from '../../../tasks/transform/point-on-the-way.js';
import type { TellOfRow } from '../../../tasks/transform/transform-run.js';
import { textOption } from '../../shell/command-spec.js';
import { createRejects } from '../../outputs/rejects.js';
import type { Rejects } from '../../outputs/rejects.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { StopError } from '../../shell/run/stop.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { withoutPlaceLine } from '../../outputs/without-place-line.js';
import type { Workbench } from '../../shell/workbench.js';
import { notTrustedLine } from './say/not-trusted-line.js';
import type { OpenedPlaces } from './open-places.js';
import type { OwnPlaceCheck } from './own-place-check.js';
import type { PlaceWriter } from './place-writer.js';
import { reasonsIndex } from './blocks/open-quiet.js';
import { placesInOrder } from './blocks/places-in-order.js';
import type { QuietBlocks } from './blocks/quiet-blocks.js';

/** One way of carrying a row to another system: where it has arrived, or null where what was told refuses it. */
export type RowCarrier = (row: PlaceRow, tell: TellOfRow) => PointOnTheWay | null;

/** What carries the rows of a file, and what is done with them. */
export interface CarriedPlaces {
  readonly opened: OpenedPlaces;
  readonly tables: TableOptions;
  /** The comparison with a second position of the row, before it is carried; null: none. */
  readonly compare: OwnPlaceCheck;
  readonly carry: RowCarrier;
  /** Hears of every row that is refused, with its line; null: nobody listens. */
  readonly heard: ((problems: readonly Problem[], line: number) => void) | null;
  /** Carries and writes blocks of which nothing is to be said; null: there are none. */
  readonly quiet: QuietBlocks | null;
  readonly writer: PlaceWriter;
  readonly outputs: PlaceOutputs;
}

/** Where rows go: the data, and the rows that are refused. */
export interface PlaceOutputs {
  /** Null: only the explanation of a point is asked for. */
  readonly sink: Awaited<ReturnType<Workbench['open']>> | null;
  readonly explain: Awaited<ReturnType<Workbench['open']>> | null;
  readonly rejects: Rejects;
}

/** Rows that were written, refused, and left out because they never had a position. */
export interface CarriedCounts {
  readonly count: number;
  readonly bad: number;
  readonly without: number;
  /** Points that a warning was told of, that lie outside an area or that nothing checked; how many for each reason. */
  readonly inDoubt: number;
  readonly reasons: ReadonlyMap<ProblemCode, number>;
  /** Points that nothing checked in the adjustment that gave them. */
  readonly unchecked: readonly string[];
}

/** Opens --output and --rejects. */
export async function openPlaceOutputs(bench: Workbench, tables: TableOptions): Promise<PlaceOutputs> {
  const output = textOption(bench.invocation, 'output');
  const isExplained = textOption(bench.invocation, 'explain') !== null;
  const sink = isExplained && output === null ? null : await bench.open(output ?? '-');
  const explain = isExplained ? await bench.open('-') : null;
  const path = textOption(bench.invocation, 'rejects');
  return {
    sink,
    explain,
    rejects: createRejects(path === null ? null : await bench.open(path), tables.dialect.delimiter),
  };
}

/**
 * Carries every row of a file and writes it, block by block; refused rows are told of and go to the rejects. The end of
 * the output is left to the caller, who may yet refuse the whole. Stops the run where a row is refused and --on-error
 * asks for it.
 */
export async function carryPlaces(places: CarriedPlaces, bench: Workbench, log: RunLog): Promise<CarriedCounts> {
  const { opened, tables, quiet, writer, outputs, heard } = places;
  const { source, kind, input } = opened;
  const { sink, rejects } = outputs;
  const { diagnostics } = bench;
  const carry = createRowCarrier(places);
  let [count, bad, without, inDoubt] = [0, 0, 0, 0];
  const reasons = new Map<ProblemCode, number>();
  const reasonsAt = reasonsIndex(input.passThroughNames);
  const unchecked: string[] = [];
  await rejects.start(input.headerRaw);
  await sink?.write(writer.begin());
  for await (const item of placesInOrder(input, quiet)) {
    bench.breathe();
    const { written, places: block } = bench.take(item);
    if (written !== null) {
      count += written.rows;
      await sink?.write(written.bytes);
      bench.progress.update(`${source.name}: ${String(count + bad)} rows`);
      continue;
    }
    diagnostics.report(block.warnings);
    for (const { problems, line } of block.rejected) {
      diagnostics.report(problems);
      heard?.(problems, line);
    }
    await rejects.add(block.rejected);
    bad += block.rejected.length;
    without += block.withoutPlace;
    for (let index = 0; index < block.rows.length; index += 1) {
      const row = present(block.rows.at(index), 'the row of a block');
      const { point, problems } = carry(row, block);
      if (problems.length > 0) diagnostics.report(problems);
      if (point === null) {
        heard?.(problems, row.line);
        await rejects.add([{ line: row.line, raw: block.rawOf(row), problems }]);
        bad += 1;
        continue;
      }
      count += 1;
      const isUntested = reasonsAt >= 0 && isUnchecked({ reasons: entryAt(row.passThrough, reasonsAt) });
      if (isUntested) unchecked.push(row.pointId);
      if (problems.length > 0 || isUntested || point.isOutsideArea) {
        inDoubt += 1;
        countReasons(reasons, problems, isUntested, point.isOutsideArea);
      }
      writer.add(row, point, block.carried);
    }
    const pieces = writer.take();
    if (pieces.length > 0) await sink?.write(pieces);
    bench.progress.update(`${source.name}: ${String(count + bad)} rows`);
  }
  log.input(source, kind, count + without, bad);
  if (bad > 0 && tables.onError === 'stop') throw new StopError([]);
  return { count, bad, without, inDoubt, reasons, unchecked };
}

/** Each reason counts once for a row. */
function countReasons(
  reasons: Map<ProblemCode, number>,
  problems: readonly Problem[],
  isUntested: boolean,
  isOutside: boolean,
): void {
  const own = new Set(problems.map(({ code }) => code));
  if (isUntested) own.add('network-unchecked');
  if (isOutside) own.add('coordinate-outside-area');
  // The first of its kind.
  for (const code of own) reasons.set(code, (reasons.get(code) ?? 0) + 1);
}

/** One row at a time; one record serves the whole run, and one list until something is told. */
function createRowCarrier({
  opened,
  compare,
  carry,
}: CarriedPlaces): (row: PlaceRow, block: Pick<PlaceBlock, 'otherPositionOf'>) => Carried {
  const { source, kind } = opened;
  const told: Problem[] = [];
  const tell: TellOfRow = (problem) => {
    told.push(problem);
  };
  const carried: Carried = { point: null, problems: NOTHING };
  return (row, block) => {
    const other = compare === null ? null : block.otherPositionOf(row);
    const wrong = other === null || compare === null ? null : compare(row, other);
    if (wrong !== null) tell(wrong);
    carried.point = wrong === null ? carry(row, tell) : null;
    carried.problems = NOTHING;
    if (told.length > 0) {
      const { line, record } = row;
      const where =
        kind === 'csv'
          ? { source: source.name, line, record }
          : { source: source.name, path: `features[${String(record - 1)}]`, record };
      carried.problems = told.splice(0).map((problem) => locateProblem(problem, where));
    }
    return carried;
  };
}

/** A row on its way out, filled in anew for each. */
interface Carried {
  point: PointOnTheWay | null;
  problems: readonly Problem[];
}

const NOTHING: readonly Problem[] = [];

/** Columns that a site writes of every point. */
const OF_SITE: ReadonlySet<string> = new Set([
  'outside_control_m',
  'site_sigma_east_m',
  'site_sigma_north_m',
  'site_sigma_height_m',
]);

/** Says what of the file is not in the output; `by` is what moved the points, a site among it or not. */
export function sayLeftOut(
  { input }: OpenedPlaces,
  { without, bad, unchecked }: CarriedCounts,
  { by, hasSite }: { readonly by: string; readonly hasSite: boolean },
  { diagnostics }: Workbench,
): void {
  diagnostics.report(uncheckedWarnings(unchecked));
  const anew = hasSite ? input.leftOut.filter((name) => OF_SITE.has(name.toLowerCase())) : [];
  const leftOut = input.leftOut.filter((name) => !anew.includes(name));
  if (leftOut.length > 0)
    diagnostics.say(`left out, because they belong to the system the points come from: ${leftOut.join(', ')}`);
  if (anew.length > 0) diagnostics.say(`worked out anew: ${anew.join(', ')}`);
  if (input.notTrusted.length > 0) diagnostics.say(notTrustedLine(input.notTrusted, by));
  if (without > 0) diagnostics.say(withoutPlaceLine(without));
  if (bad > 0)
    diagnostics.say(
      `${String(bad)} ${bad === 1 ? 'row with errors was' : 'rows with errors were'} left out on request`,
    );
}
