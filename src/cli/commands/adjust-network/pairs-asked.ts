import { openSource } from '../../../io/bytes/source.js';
import { readCsv } from '../../../io/csv/csv-read.js';
import { readPairs } from '../../../io/tables/pairs-read.js';
import type { PointPair } from '../../../io/tables/pairs-read.js';
import { failure } from '../../../records/outcome.js';
import { present } from '../../../records/present.js';
import { errorProblem } from '../../../records/problem.js';
import type { Location, Problem } from '../../../records/problem.js';
import type { NetworkPair } from '../../../records/reports/network-report.js';
import { networkPair } from '../../../tasks/network/network-report.js';
import type { NetworkResults } from '../../../tasks/network/network-results.js';
import { unknownStation } from '../../../tasks/network/input/unknown-station.js';
import { tableOptions } from '../../inputs/table-options.js';
import { textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';

/** The lines of --pairs, and their file. */
interface NamedPairs {
  readonly name: string;
  readonly pairs: readonly PointPair[];
}

/** Reads the file of --pairs; null: none is named. Problems stop the run. */
export async function pairsNamed(bench: Workbench, log: RunLog): Promise<NamedPairs | null> {
  const path = textOption(bench.invocation, 'pairs');
  if (path === null) return null;
  const { context } = bench;
  const source = bench.take(await openSource(path, { cwd: context.cwd, stdin: context.stdin, encoding: null }));
  const { dialect } = bench.take(tableOptions(bench.invocation, null));
  const pairs = bench.take(await readPairs(bench.take(await readCsv(source, dialect)), 5));
  for (const { fromId, toId, place } of pairs)
    if (fromId === toId) bench.take(failure(withItself(fromId, { source: source.name, line: place.line })));
  log.input(source, 'pairs', pairs.length, 0);
  return { name: source.name, pairs };
}

function withItself(id: string, where: Location): Problem {
  return errorProblem('value-out-of-range', {
    message: `the pair goes from ${id} to itself`,
    where,
    hint: 'name another station, or leave the row out',
  });
}

/** The pairs of --pairs with their relative accuracy. Problems stop the run. */
export function pairsAsked(
  bench: Workbench,
  named: NamedPairs | null,
  { adjusted, relations }: NetworkResults,
): readonly NetworkPair[] {
  if (named === null) return [];
  const { indexOf } = adjusted.final.solved.list;
  return named.pairs.flatMap(({ fromId, toId, place }) => {
    const [first, second] = [fromId, toId].map((id) => {
      if (!indexOf.has(id))
        bench.take(
          failure({ ...unknownStation(id, [...indexOf.keys()]), where: { source: named.name, line: place.line } }),
        );
      return present(indexOf.get(id), 'a station of the network');
    });
    const pair = networkPair(adjusted, relations, present(first, 'first'), present(second, 'second'));
    return pair === null ? [] : [pair];
  });
}
