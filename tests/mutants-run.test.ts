import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { createDrive } from '../tools/mutants/drive.mjs';
import type { Drive } from '../tools/mutants/drive.mjs';
import { BROAD, CASES, PAGE_TEXTS } from '../tools/mutants/related.mjs';
import { createRound } from '../tools/mutants/round.mjs';
import { sitesOf } from '../tools/mutants/sites.mjs';

const ROOT = fileURLToPath(new URL('..', import.meta.url)).replace(/[\\/]$/u, '');

describe('a file of tests with each change', () => {
  const file = 'src/core/quality/usual-pole-step.ts';
  const sites = sitesOf(file, readFileSync(`${ROOT}/${file}`, 'utf8'));
  const test = 'tests/core/quality/usual-pole-step.test.ts';
  const place = (change: string, text: string): number =>
    sites.findIndex((site) => site.change === change && site.text.includes(text));
  const drive = createDrive(ROOT, sites, { limitS: 60 });
  const scratch = mkdtempSync(join(tmpdir(), 'pegbook-mutants-'));
  afterAll(() => {
    drive.close();
    rmSync(scratch, { recursive: true, force: true });
  });

  it('fails with what the tests hold, and says what is run outside of a test', async () => {
    const { failed, outside, ran } = await drive.withEach(
      sites.map((_, index) => index),
      test,
    );
    const isOnLoad = place('1 → 0', 'LARGEST_STEP_M');
    expect(outside).toContain(isOnLoad);
    expect(ran).not.toContain(isOnLoad);
    const held = place('- → +', 'Math.abs(step - size)');
    expect(failed.map((one) => one.place)).toContain(held);
    expect(failed.every(({ isSure }) => isSure)).toBe(true);
    // A change that is not asked for is not made.
    const { failed: none } = await drive.withEach([isOnLoad], test);
    expect(none).toEqual([]);
    expect(await drive.fromLoad(isOnLoad, test)).not.toBeNull();
  }, 120_000);

  it('is dealt out in parts that together run all of it, and asks no test of what another process has noticed', async () => {
    const held = place('- → +', 'Math.abs(step - size)');
    const all = sites.map((_, index) => index);
    const whole = await drive.withEach(all, test);
    const parts = [
      await drive.withEach(all, test, { part: { number: 0, of: 2 } }),
      await drive.withEach(all, test, { part: { number: 1, of: 2 } }),
    ];
    expect([...new Set(parts.flatMap(({ ran }) => ran))].sort()).toEqual([...whole.ran].sort());
    expect([...new Set(parts.flatMap(({ failed }) => failed.map((one) => one.place)))].sort()).toEqual(
      whole.failed.map((one) => one.place).sort(),
    );
    expect(parts.some(({ ran }) => ran.length < whole.ran.length)).toBe(true);
    const noticed = join(scratch, 'noticed');
    writeFileSync(noticed, `${String(held)}\n`);
    const other = createDrive(ROOT, sites, { limitS: 60, noticed });
    const left = (await other.withEach(all, test)).failed.map((one) => one.place);
    other.close();
    expect(left).not.toContain(held);
    expect([...left, held].sort()).toEqual(whole.failed.map((one) => one.place).sort());
    // And tells the others what its own tests notice.
    expect(readFileSync(noticed, 'utf8').trim().split('\n').map(Number).sort()).toEqual([held, ...left].sort());
  }, 240_000);
});

describe('a constant of a file that a command loads when it is first run', () => {
  const file = 'src/cli/commands/plan-sky/say/sky-json.ts';
  const sites = sitesOf(file, readFileSync(`${ROOT}/${file}`, 'utf8')).filter(({ text }) =>
    text.startsWith('const HOUR_MS'),
  );
  const drive = createDrive(ROOT, sites, { limitS: 60 });
  afterAll(() => {
    drive.close();
  });

  it('is not changed by running that command again, which is said, but from the load', async () => {
    const others = readdirSync(`${ROOT}/tests/cases`)
      .filter((command) => command !== 'plan-sky')
      .flatMap((command) =>
        readdirSync(`${ROOT}/tests/cases/${command}`).map(
          (name) => `pegbook ${command} > ${name.replaceAll('-', ' ')}`,
        ),
      );
    expect(sites).toHaveLength(1);
    const { failed, outside, once, ran, without } = await drive.withEach([0], CASES, { leftOut: others });
    expect({ failed, outside, ran }).toEqual({ failed: [], outside: [], ran: [0] });
    expect(once.map(({ place, test }) => [place, test.split(' > ')[0]])).toEqual([[0, 'pegbook plan-sky']]);
    expect(await drive.fromLoad(0, CASES, 'pegbook plan-sky > ', without)).not.toBeNull();
    expect(await drive.fromLoad(0, CASES, 'pegbook find-system > ', without)).toBeNull();
  }, 120_000);
});

describe('a round of changes', () => {
  const asked: string[] = [];
  /** Test b notices the first change, not for sure; d the second, from its load; nothing the third. */
  const drive: Drive = {
    withEach: (alive, test) => {
      asked.push(`${test} ${alive.join()}`);
      return Promise.resolve({
        failed: test === 'b' && alive.includes(0) ? [{ place: 0, test: 'its test', isSure: false }] : [],
        outside: test === 'd' ? [1, 2] : [],
        once: [],
        ran: [],
        slow: [],
        without: test === 'broken' ? ['its test'] : [],
      });
    },
    fromLoad: (place, test) => {
      asked.push(`${test} from load ${String(place)}`);
      return Promise.resolve(test === 'b' || (test === 'd' && place === 1) ? 'seen again' : null);
    },
    close: () => undefined,
  };
  const sites = ['one.ts', 'two.ts', 'two.ts'].map((file) => ({ file }));
  const testsFor = (file: string) => ({
    near: file === 'one.ts' ? ['b', CASES] : ['c', CASES],
    far: ['d'],
    long: ['e'],
  });
  const run = (how: {
    readonly drives?: readonly Drive[];
    readonly isNear?: boolean;
    readonly isLong?: boolean;
    readonly isLate?: () => boolean;
  }) => {
    asked.length = 0;
    return createRound(sites, {
      drives: [drive],
      testsFor,
      slowTests: () => [],
      isLate: () => false,
      isNear: false,
      isLong: false,
      tell: () => undefined,
      ...how,
    }).run();
  };

  it('asks the golden cases first, each test of the changes that it may notice, and no more of those that are noticed', async () => {
    expect(await run({ isLong: true })).toEqual(
      new Map([
        [0, 'b: seen again'],
        [1, 'd: seen again'],
      ]),
    );
    expect(asked).toEqual([
      `${CASES} 0,1,2`,
      'b 0',
      'b from load 0',
      'c 1,2',
      'd 1,2',
      'd from load 1',
      'd from load 2',
      'e 2',
    ]);
  });

  it('deals the golden cases out to all processes, and gives each other file of tests to one of them', async () => {
    const got: string[] = [];
    const drives = ['first', 'second'].map((name): Drive => ({
      ...drive,
      withEach: async (alive, test, how) => {
        got.push(`${name} ${test} ${String(how?.part?.number)} of ${String(how?.part?.of)}`);
        // As a process does, it takes its time.
        await new Promise((resolve) => setTimeout(resolve, 5));
        return drive.withEach(alive, test, how);
      },
    }));
    expect(await run({ drives })).toEqual(
      new Map([
        [0, 'b: seen again'],
        [1, 'd: seen again'],
      ]),
    );
    expect(got.filter((line) => line.includes(CASES))).toEqual([`first ${CASES} 0 of 2`, `second ${CASES} 1 of 2`]);
    for (const test of ['b', 'c', 'd'])
      expect(got.filter((line) => line.split(' ')[1] === test && line.endsWith(' 0 of 1'))).toHaveLength(1);
  });

  it('loads no file of tests of another room for one change where time is short', async () => {
    const [broad = ''] = BROAD;
    const loadsOf = async (isNear: boolean): Promise<readonly string[]> => {
      const loads: string[] = [];
      const all = { failed: [], outside: [0], once: [], ran: [], slow: [], without: [] };
      const own: Drive = {
        ...drive,
        withEach: () => Promise.resolve(all),
        fromLoad: (_, test) => Promise.resolve(loads.push(test) > 9 ? 'never' : null),
      };
      await createRound([{ file: 'one.ts' }], {
        drives: [own],
        testsFor: () => ({ near: [broad, 'b'], far: [], long: [] }),
        slowTests: () => [],
        isLate: () => false,
        isNear,
        isLong: false,
        tell: () => undefined,
      }).run();
      return loads;
    };
    expect(await loadsOf(true)).toEqual(['b']);
    expect(await loadsOf(false)).toEqual([broad, 'b']);
  });

  it('asks again from the load of what a test has run once: the cases of its command, one test of another room, or all', async () => {
    const [broad = ''] = BROAD;
    const loads: unknown[] = [];
    const name = 'pegbook transform > its name';
    await createRound([{ file: 'one.ts' }], {
      drives: [
        {
          ...drive,
          withEach: () =>
            Promise.resolve({
              ...{ failed: [], outside: [], once: [{ place: 0, test: name }] },
              ...{ ran: [], slow: [], without: ['broken'] },
            }),
          fromLoad: (place, test, only, leftOut) => {
            loads.push([place, test, only, leftOut]);
            return Promise.resolve(null);
          },
        },
      ],
      testsFor: () => ({ near: [CASES, 'b', PAGE_TEXTS, broad], far: [], long: [] }),
      slowTests: () => ['slow'],
      isLate: () => false,
      isNear: true,
      isLong: false,
      tell: () => undefined,
    }).run();
    const left = ['slow', 'broken'];
    expect(loads).toEqual([
      [0, 'b', null, left],
      [0, PAGE_TEXTS, name, left],
      [0, broad, name, left],
      [0, CASES, 'pegbook transform > ', left],
    ]);
  });

  it('leaves out tests of other rooms, and long ones, unless they are asked for', async () => {
    await run({ isNear: true });
    expect(asked.some((line) => /^[de]/u.test(line))).toBe(false);
    await run({});
    expect(asked.some((line) => line.startsWith('e'))).toBe(false);
  });

  it('says which tests were left out, as they fail without any change', async () => {
    const told: string[] = [];
    const round = createRound([{ file: 'one.ts' }], {
      drives: [{ ...drive, fromLoad: () => Promise.resolve('never asked') }],
      testsFor: () => ({ near: ['broken'], far: [], long: [] }),
      slowTests: () => [],
      isLate: () => false,
      isNear: false,
      isLong: false,
      tell: (line) => told.push(line),
    });
    expect(await round.run()).toEqual(new Map());
    expect(told.at(-1)).toBe('left out, fails before any change: broken: its test');
  });

  it('says nothing at all where its time was over before its end', async () => {
    let left = 3;
    expect(await run({ isLate: () => (left -= 1) < 0 })).toBeNull();
    expect(asked.at(-1)).toBe('c 1,2');
  });
});
