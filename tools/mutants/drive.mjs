// The process that runs the tests, as seen from here: it is started when needed, and ended where it does not answer.
import { fork } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** How often the process is looked at: milliseconds. */
const LOOK_MS = 1000;
/** So often a change may leave behind what fails the next test; then it is put aside, and tried in a process of its own. */
const MOST_SPOILT = 3;
/** A test with a change may take so many times what it takes without, beside the seconds that the caller grants. */
const SLOWER = 20;
/** All tests of a file: of so many parts that they are dealt out to, the one with this number. */
const WHOLE = { number: 0, of: 1 };

/**
 * @param {string} root of the repository
 * @param {readonly object[]} sites what is numbered
 * @param {{ limitS: number, isMarked?: boolean, noticed?: string }} how `limitS`: what every test may take, a file of tests without a
 *   change a ten times as much; `isMarked`: the places are only noted, never changed; `noticed`: a file where processes tell each
 *   other which changes are noticed
 */
export function createDrive(root, sites, { limitS, isMarked = false, noticed = '' }) {
  const scratch = mkdtempSync(join(tmpdir(), 'pegbook-mutants-'));
  const journal = join(scratch, 'journal');
  const now = join(scratch, 'now');
  let child = null;

  function end() {
    if (child?.pid !== undefined && child.exitCode === null)
      try {
        process.kill(process.platform === 'win32' ? child.pid : -child.pid, 'SIGKILL');
      } catch {
        // It ended by itself.
      }
    child = null;
  }

  /** One message and its answer; null where `isLate` said so first, or the process ended: then it has been ended. */
  async function ask(message, isLate) {
    const to = child;
    const answer = await new Promise((resolve) => {
      const done = (got) => {
        clearInterval(timer);
        to.removeAllListeners();
        resolve(got);
      };
      const timer = setInterval(() => {
        if (isLate()) done(null);
      }, LOOK_MS);
      to.once('message', done);
      to.once('exit', () => done(null));
      to.send(message);
    });
    if (answer === null) end();
    else if (!answer.ok) throw new Error(answer.message);
    return answer;
  }

  async function run({ active, alive = [], skipped = [], only = null, isThin = false, part = WHOLE, test }, isLate) {
    if (child === null) {
      child = fork(join(root, 'tools/mutants/runner.mjs'), [root, journal, now, noticed], {
        detached: true,
        // Each run of the tests listens once more for an end of the process.
        execArgv: ['--no-warnings'],
      });
      await ask({ kind: 'open', sites, isMarked }, () => false);
    }
    writeFileSync(journal, '');
    writeFileSync(now, '');
    return ask({ kind: 'run', active, alive, skipped, only, isThin, part, test }, isLate);
  }

  function notes() {
    return existsSync(journal)
      ? readFileSync(journal, 'utf8')
          .split('\n')
          .filter((line) => line !== '')
          .map((line) => JSON.parse(line))
      : [];
  }

  /** Whether the change that is being tried, or where none is the file, takes longer than it may. */
  function createClock() {
    let since = Date.now();
    let before = '';
    return {
      last: () => before,
      isLate: () => {
        const text = existsSync(now) ? readFileSync(now, 'utf8') : '';
        if (text !== before) [before, since] = [text, Date.now()];
        const allowedMs = text === '' ? 10_000 * limitS : 1000 * limitS + SLOWER * JSON.parse(text).ms;
        return Date.now() - since > allowedMs;
      },
    };
  }

  return {
    /**
     * The name of the first test of the file that fails where this change is made before it is loaded, of all, of the one that
     * is named or of a group whose name ends with ` > `; null where none does.
     */
    async fromLoad(place, test, only = null, leftOut = []) {
      const began = Date.now();
      const answer = await run(
        { active: place, only, skipped: leftOut, test },
        () => Date.now() - began > 10_000 * limitS,
      );
      return answer === null ? 'it never ended' : (answer.failed[0] ?? null);
    },

    /**
     * The tests of a file, with each of the changes that they run; those that are named are left out, and of a thinned file
     * not all are asked of each change. `part`: only every so-many-th test, so that processes share a large file.
     *
     * @returns {Promise<{ failed: readonly object[], outside: readonly number[], once: readonly object[], ran: readonly number[],
     *   without: readonly string[] }>} `failed`: which change by which test, and whether it is sure: not where the test failed
     *   without it as well; `outside`: places that are run outside of a test, by the load too; `once`: places, with their test, that were run
     *   in it, and not when it was run again with the change: in a file that the test is the first to load; `ran`: those that are
     *   run, and not by the load alone; `slow`: tests that take long; `without`: tests that fail without any change
     */
    async withEach(alive, test, { leftOut = [], isThin = false, part = WHOLE } = {}) {
      const failed = [];
      /** Tests that fail without any change, and those that are through: a process that is begun anew goes on after them. */
      const without = [];
      const done = [];
      const spoilt = [];
      const slow = [];
      const once = [];
      for (;;) {
        const left = alive.filter((place) => !failed.some((one) => one.place === place));
        const clock = createClock();
        const answer = await run(
          { active: -1, alive: left, skipped: [...leftOut, ...without, ...done], isThin, part, test },
          clock.isLate,
        );
        const own = notes();
        failed.push(...own.filter(({ kind }) => kind === 'failed'));
        done.push(...own.filter(({ kind }) => kind === 'done').map((one) => one.test));
        slow.push(...own.filter(({ kind }) => kind === 'slow').map((one) => one.test));
        once.push(...own.filter(({ kind }) => kind === 'once'));
        if (answer === null) {
          const before = clock.last();
          if (before === '') throw new Error(`${test} did not end, without a change`);
          failed.push({ place: JSON.parse(before).place, test: 'it never ended', isSure: true });
          continue;
        }
        const fails = own.filter(({ kind }) => kind === 'fails');
        without.push(...fails.filter(({ after }) => after === null).map((one) => one.test));
        const dirty = fails.filter(({ after }) => after !== null);
        for (const { after, test: name } of dirty) {
          spoilt.push(after);
          if (spoilt.filter((place) => place === after).length >= MOST_SPOILT)
            failed.push({ place: after, test: name, isSure: false });
        }
        if (dirty.length > 0 || own.some(({ kind, isSure }) => kind === 'failed' && !isSure)) continue;
        const places = own.find(({ kind }) => kind === 'places') ?? { outside: [], ran: [] };
        return {
          failed,
          outside: places.outside,
          once,
          ran: places.ran,
          slow,
          without: [...without, ...answer.failed],
        };
      }
    },

    close() {
      end();
      rmSync(scratch, { recursive: true, force: true });
    },
  };
}
