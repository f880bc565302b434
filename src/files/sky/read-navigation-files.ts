import { pushAll } from '../../core/numeric/push-all.js';
import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { readNavigation } from '../../io/navigation/navigation-read.js';
import { wholeText } from '../../io/text/whole-text.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { NavigationContent } from '../../records/sky/navigation-file.js';
import type { Surroundings } from '../surroundings.js';

/** A navigation file as it was read. */
export interface NavigationFile extends NavigationContent {
  readonly source: Source;
}

/** The whole world sends some tens of megabytes in a day; a log named by mistake would never end. */
const MOST_BYTES = 200 << 20;

/**
 * Reads navigation files and almanacs, whatever they are called.
 *
 * Given: paths, `-` for standard input; an instant near the time that is planned, on the clock of GPS; whether bad records are left out. Returned: the files in
 * order, with the faults of the records that are left out.
 * Problems: those of opening and of `readNavigation`; the faults of every file where bad records are not left out.
 */
export async function readNavigationFiles(
  paths: readonly string[],
  nearMs: number,
  skipsBad: boolean,
  { cwd, stdin }: Surroundings,
): Promise<Outcome<readonly NavigationFile[]>> {
  const files: NavigationFile[] = [];
  const faults: Problem[] = [];
  for (const path of paths) {
    const opened = await openSource(path, { cwd, stdin });
    if (!opened.ok) return opened;
    const source = opened.value;
    const located = (problem: Problem): Problem => locateProblem(problem, { source: source.name });
    const text = await wholeText(source, MOST_BYTES);
    if (!text.ok) return text;
    const read = readNavigation(text.value, nearMs);
    if (!read.ok) return failureOf(read.problems.map(located));
    const own = read.value.faults.map((fault) => ({ ...fault, where: { source: source.name, ...fault.where } }));
    pushAll(faults, own);
    files.push({ ...read.value, faults: own, source });
  }
  return faults.length > 0 && !skipsBad ? failureOf(faults) : success(files);
}
