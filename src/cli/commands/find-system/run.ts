import { findSystems } from '../../../files/systems/find-systems.js';
import { failure } from '../../../records/outcome.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { numberOption, textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import { noneFound, searchOf } from './options/system-search.js';
import { foundSystemsText } from './say/found-systems-text.js';

/** Most that a person reads without having asked for more. */
const SHOWN = 20;

/** Lists the systems that agree with words and place. */
export const runFindSystem: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  return withWorkbench(
    invocation,
    context,
    [],
    async (bench) => {
      const search = bench.take(searchOf(invocation));
      const found = findSystems(search);
      if (found.length === 0) bench.take(failure(noneFound(search)));
      const isForPeople =
        textOption(invocation, 'format') === null && textOption(invocation, 'output') === null && !bench.isViewed();
      const limit = numberOption(invocation, 'limit') ?? (isForPeople ? SHOWN : 0);
      const shown = limit === 0 ? found : found.slice(0, limit);
      const sink = await bench.open(textOption(invocation, 'output') ?? '-');
      await sink.write(
        foundSystemsText(shown, isForPeople ? 'people' : bench.format, csvWriteOptions(invocation), found.length),
      );
      if (shown.length < found.length)
        bench.diagnostics.say(`${String(found.length - shown.length)} more; --limit 0 lists all`);
      return endWith(rowsAnswer(shown.length, 0), invocation, log);
    },
    log.failure,
  );
};
