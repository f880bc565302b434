import { buildGeographicSystem } from '../../../core/grid/systems/build-geographic-system.js';
import { entryAt } from '../../../records/present.js';
import { describeGridSystem } from '../../../core/grid/systems/describe-grid-system.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { loadSystemDefinition } from '../../../io/host/system-registry.js';
import { textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { geoidOptions } from '../../inputs/geoid-options.js';
import { gridReading } from '../../inputs/grid-reading.js';
import { loadGeoid } from '../../../files/grids/load-geoid.js';
import { loadGridSystem } from '../../../files/systems/load-systems.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { Workbench } from '../../shell/workbench.js';
import { createRunLog } from '../../shell/run/run-log.js';
import { sayGeoid } from '../../shell/messages/say-geoid.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { RunEnd } from '../../shell/workbench.js';
import { heightsAt, placeInGrid } from '../../../tasks/describe/place-in-grid.js';
import type { DescribedPlace } from '../../../tasks/describe/place-in-grid.js';
import { parsePlace } from '../../inputs/parse-place.js';
import { geographicFacts, heightFacts, placeFacts, systemFacts, textOf } from './say/facts.js';
import type { Fact } from './say/facts.js';

/** One system. */
const DESCRIBED = rowsAnswer(1, 0);

/** Describes a system, and a place in it. */
export const runDescribeSystem: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, [], (bench) => describe(bench, log), log.failure);
};

async function describe(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation } = bench;
  const text = entryAt(invocation.args, 0);
  const at = textOption(invocation, 'at');
  const definition = bench.take(loadSystemDefinition(text));
  const open = async (): ReturnType<Workbench['open']> => bench.open(textOption(invocation, 'output') ?? '-');
  if (definition.kind !== 'projected' && at === null) {
    const facts = geographicFacts(bench.take(buildGeographicSystem(definition)), definition.kind);
    await (await open()).write(textOf(facts, DESCRIBED, bench));
  } else {
    const system = bench.take(loadGridSystem(text));
    const sink = await open();
    const place = at === null ? [] : await factsAt(bench.take(parsePlace(at, '--at')), system, bench);
    await sink.write(textOf([...systemFacts(describeGridSystem(system)), ...place], DESCRIBED, bench));
  }
  log.model('system', { role: 'system', name: text, definition: definition.proj4, sha256: null });
  return endWith(DESCRIBED, invocation, log);
}

async function factsAt(place: DescribedPlace, system: GridSystem, bench: Workbench): Promise<readonly Fact[]> {
  const { invocation, context } = bench;
  const facts = placeFacts(place, system, bench.take(placeInGrid(place, system)));
  const { ellipsoidalHeightM } = place;
  if (ellipsoidalHeightM === null) return facts;
  const { model, interpolation, statedFrame } = bench.take(geoidOptions(invocation));
  if (model === null) return facts;
  const choice = { model, interpolation: interpolation ?? 'bilinear', sigmaM: null, statedFrame } as const;
  const reading = gridReading(invocation, context.signal);
  const { geoid } = bench.take(await loadGeoid(choice, context.cwd, system.base, reading));
  sayGeoid(geoid, bench.diagnostics);
  const { geoidHeightM, orthometricHeightM } = bench.take(heightsAt(place, ellipsoidalHeightM, geoid));
  return [...facts, ...heightFacts(geoidHeightM, orthometricHeightM)];
}
