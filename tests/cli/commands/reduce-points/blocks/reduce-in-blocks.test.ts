import { Buffer } from 'node:buffer';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadReductionSetup } from '../../../../../src/files/reduction/setup/load-reduction-setup.js';
import { numberOccupations } from '../../../../../src/cli/commands/reduce-points/options/number-occupations.js';
import { createBlockRooms } from '../../../../../src/cli/commands/reduce-points/blocks/block-rooms.js';
import { createBlockReducer } from '../../../../../src/cli/commands/reduce-points/blocks/reduce-block.js';
import type { BlockRows } from '../../../../../src/cli/commands/reduce-points/blocks/reduce-block.js';
import { reduceInBlocks } from '../../../../../src/cli/commands/reduce-points/blocks/reduce-in-blocks.js';
import type { ReducedBlock } from '../../../../../src/cli/commands/reduce-points/blocks/reduce-in-blocks.js';
import type { ByteBlock } from '../../../../../src/io/csv/csv-blocks.js';
import { DEFAULT_DIALECT } from '../../../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../../../src/io/csv/csv-read.js';
import type { FixBlock } from '../../../../../src/io/tables/fixes/fixes-read.js';
import { readFixes } from '../../../../../src/io/tables/fixes/fixes-read.js';
import { createPointRowWriter } from '../../../../../src/io/tables/points/point-row-write.js';
import { DEFAULT_GRID_READING } from '../../../../../src/io/grids/grid-reading.js';
import { readSession } from '../../../../../src/io/settings/session-read.js';
import { pointColumns } from '../../../../../src/io/tables/points/point-columns.js';
import type { Outcome } from '../../../../../src/records/outcome.js';
import { createRepeatKeeper } from '../../../../../src/tasks/repeats/repeat-keeper.js';
import { createOccupationCounter } from '../../../../../src/tasks/reduce/occupations/occupation-counter.js';
import { createReducer } from '../../../../../src/tasks/reduce/reduce-points.js';
import type { ReductionSetup } from '../../../../../src/tasks/reduce/reduction-setup.js';
import { createReductionTotals } from '../../../../../src/tasks/reduce/totals/reduction-totals.js';
import { stdinSource, value } from '../../../../io/support.js';
import { ROOT } from '../../../../support/repository-files.js';

const SESSION = `version = 1
[system]
grid = "EPSG:2049"
[rover]
reference_point = "apc"
phase_centre_offset_m = 0
pole_length_m = 2.0
[[base]]
id = "B1"
broadcast = { latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1043.2, at = "arp" }
known = { latitude_deg = -31.50001, longitude_deg = 21.4, ellipsoidal_height_m = 1041.9, at = "mark" }
antenna_height_m = 1.6
sigma_horizontal_m = 0.01
sigma_vertical_m = 0.02
`;
const HEAD = 'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,tilt_deg,tilt_azimuth_deg\n';
const CSV = { delimiter: ',', eol: '\n', bom: false } as const;

async function loadSetup(): Promise<ReductionSetup> {
  const session = value(readSession(SESSION, 'session.toml'));
  return value(await loadReductionSetup({ session, folder: '.', reading: DEFAULT_GRID_READING }, ['stdin']));
}

/** Everything a run says and writes: rows, totals, problems, rejected lines. */
async function reduceAll(text: string, setup: ReductionSetup, blockBytes: number, isApart: boolean): Promise<unknown> {
  const table = value(
    await readCsv(await stdinSource(text, 64), DEFAULT_DIALECT, { blockBytes, maxRecordBytes: 1 << 20 }),
  );
  const input = value(
    readFixes(table, {
      sourceIndex: 0,
      mapping: {},
      toGeodetic: () => ({ latitudeDeg: 0, longitudeDeg: 0, ellipsoidalHeightM: 0 }),
    }),
  );
  const columns = pointColumns(['westing_m', 'southing_m']).map(({ name }) => name);
  const counter = createOccupationCounter();
  const keeper = createRepeatKeeper(setup);
  const totals = createReductionTotals();
  const problems: unknown[] = [];
  const rejected: string[] = [];
  let rows = '';
  const writer = createPointRowWriter(columns, CSV);
  const reducer = createReducer(
    setup,
    {
      onPoint(reduced) {
        totals.addOccupation(reduced);
        totals.addPoint(reduced.point);
        writer.add(reduced.point);
        keeper.add(reduced.point);
      },
      onProblems: (found) => problems.push(...found),
    },
    counter,
  );
  let blocks: AsyncGenerator<Outcome<FixBlock>> = input.blocks();
  let apart = 0;
  if (isApart && input.bytes !== null) {
    const { head, mapping } = input.bytes;
    let asked = 0;
    const reducer = value(createBlockReducer(setup, { head, mapping, solution: null, columns, csv: CSV }));
    const tables: ArrayBuffer[] = [];
    const reduceBlock = (block: ByteBlock): BlockRows | null =>
      reducer(block, { rows: new ArrayBuffer(100), tables: tables.pop() ?? new ArrayBuffer(0) });
    // A thread takes the memory of a block with it.
    const elsewhere = async (block: ByteBlock): Promise<ReducedBlock> => {
      const { buffer, byteOffset, byteLength } = structuredClone(block.bytes, {
        transfer: [block.bytes.buffer as ArrayBuffer],
      });
      const moved = { ...block, bytes: Buffer.from(buffer, byteOffset, byteLength) };
      await setImmediate();
      return { block: moved, rows: reduceBlock(moved) };
    };
    blocks = await reduceInBlocks(input.bytes, {
      // Elsewhere and here in turn.
      ask: (block) => ((asked += 1) % 3 === 0 ? null : elsewhere(block)),
      reduce: reduceBlock,
      memory: createBlockRooms(),
      depth: 3,
      write: (block) => {
        const numbered = numberOccupations(block, counter, keeper);
        totals.addPart(numbered.totals);
        // What was lent is written over.
        new Uint8Array(block.tables).fill(0xa5);
        tables.push(block.tables);
        rows += Buffer.concat(numbered.pieces).toString('utf8');
        apart += block.rows;
        return Promise.resolve();
      },
    });
  }
  for await (const item of blocks) {
    if (!item.ok) {
      problems.push(...item.problems);
      continue;
    }
    for (const row of item.value.rejected) {
      rejected.push(row.raw);
      problems.push(...row.problems);
    }
    reducer.push(item.value.fixes);
  }
  reducer.finish();
  rows += writer.take().toString('utf8');
  return { result: { repeats: keeper.compare(), rows, totals: totals.take(), problems, rejected }, apart };
}

describe('reduceInBlocks', () => {
  it('gives the rows, totals and problems of the whole run in order, whatever the blocks', async () => {
    const setup = await loadSetup();
    let reducedApart = 0;
    const epoch = fc.record({
      id: fc.oneof(
        { weight: 12, arbitrary: fc.constantFrom('P1', 'P2', 'P3', 'QP-4') },
        { weight: 1, arbitrary: fc.constantFrom(' P1', 'P1 ', 'Pé', '"P1"') },
      ),
      step: fc.constantFrom(1, 1, 1, 1, 2, 900),
      count: fc.integer({ min: 1, max: 14 }),
      // A far longitude is outside the area of use, a late tilt lacks its convention, a bad height cannot be read.
      fault: fc.oneof(
        { weight: 60, arbitrary: fc.constant('') },
        { weight: 1, arbitrary: fc.constantFrom('far', 'tilt', 'bad', 'early', 'blank') },
      ),
      // A row of another point that is refused does not end the occupation it stands in.
      isInterrupted: fc.integer({ min: 0, max: 9 }).map((n) => n === 0),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.array(epoch, { minLength: 1, maxLength: 25 }),
        fc.integer({ min: 200, max: 1500 }),
        fc.constantFrom('\n', '\r\n'),
        async (runs, blockBytes, eol) => {
          let second = 0;
          let text = HEAD.replace('\n', eol);
          for (const { id, step, count, fault, isInterrupted } of runs) {
            for (let index = 0; index < count; index += 1) {
              second += step;
              const at = fault === 'early' ? second - 5 * index : second;
              const time = new Date(Date.UTC(2026, 2, 4, 6) + at * 1000).toISOString().replace('.000', '');
              const height = fault === 'bad' && index === 1 ? '10 m' : (1100 + 0.002 * Math.sin(second)).toFixed(4);
              const odd = index === 0 || index === count - 1;
              text += `${id},${time},${(-31.4 + id.length * 0.01 + 1e-9 * (second % 7)).toFixed(10)},${fault === 'far' && odd ? '29.3' : '21.3'},${height},fixed,${fault === 'tilt' && odd ? '3,120' : ','}${eol}`;
              if (fault === 'blank') text += eol;
              if (isInterrupted && index === count >> 1) text += `X9,${time},-31.4,21.3,1100,fixed,3,120${eol}`;
            }
          }
          const whole = (await reduceAll(text, setup, 1 << 20, false)) as { result: unknown };
          const apart = (await reduceAll(text, setup, blockBytes, true)) as { result: unknown; apart: number };
          expect(apart.result).toEqual(whole.result);
          reducedApart += apart.apart;
        },
      ),
      { numRuns: 150, seed: 22 },
    );
    expect(reducedApart).toBeGreaterThan(2000);
  }, 120_000);
});

const BUILT = existsSync(join(ROOT, 'dist', 'program', 'reduce-worker.js'));

describe.skipIf(!BUILT)('reduce-points --workers (skipped until npm run build has been run)', () => {
  it('writes the same bytes and says the same, whatever the number, with repeats of more than nine', () => {
    const folder = mkdtempSync(join(tmpdir(), 'workers-'));
    try {
      let text = HEAD;
      for (let round = 0; round < 12; round += 1) {
        // Enough for the other threads to start before all is done.
        for (let point = 0; point < 4000; point += 1) {
          const time = new Date(Date.UTC(2026, 2, 4, 6) + (round * 4000 + point) * 20_000).toISOString();
          text += `P${point},${time},${(-31.4 + point * 1e-5).toFixed(9)},${(21.3 + round * 1e-9).toFixed(9)},1100.0,fixed,,\n`;
        }
      }
      writeFileSync(join(folder, 'fixes.csv'), text);
      writeFileSync(join(folder, 'session.toml'), SESSION);
      const runs = ['1', '2', '3'].map((workers) => {
        const run = spawnSync(
          process.execPath,
          [
            join(ROOT, 'bin', 'pegbook.js'),
            'reduce-points',
            'fixes.csv',
            '--session',
            'session.toml',
            '-o',
            `out${workers}.csv`,
            '--workers',
            workers,
          ],
          { cwd: folder, encoding: 'utf8' },
        );
        return { status: run.status, stderr: run.stderr, out: readFileSync(join(folder, `out${workers}.csv`), 'utf8') };
      });
      expect(runs[0]?.out).toContain('\nP7,12,');
      expect(runs[1]).toEqual(runs[0]);
      expect(runs[2]).toEqual(runs[0]);
    } finally {
      rmSync(folder, { recursive: true });
    }
  }, 240_000);
});
