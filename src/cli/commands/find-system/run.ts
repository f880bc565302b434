import type { SystemSearch } from '../../../core/grid/systems/search-systems.js';
import { parseAngle } from '../../../core/numeric/text/angle-text.js';
import { findSystems } from '../../../files/find-systems.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { numberOption, textOption } from '../../shell/command-spec.js';
import type { CommandRun, Invocation } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import { foundSystemsText } from './say/found-systems-text.js';
import { entryAt } from '../../../records/present.js';

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
      const isForPeople = textOption(invocation, 'format') === null && textOption(invocation, 'output') === null;
      const limit = numberOption(invocation, 'limit') ?? (isForPeople ? SHOWN : 0);
      const shown = limit === 0 ? found : found.slice(0, limit);
      const sink = await bench.open(textOption(invocation, 'output') ?? '-');
      await sink.write(foundSystemsText(shown, isForPeople ? 'people' : bench.format, csvWriteOptions(invocation)));
      if (shown.length < found.length)
        bench.diagnostics.say(`${String(found.length - shown.length)} more; --limit 0 lists all`);
      return endWith(rowsAnswer(shown.length, 0), invocation, log);
    },
    log.failure,
  );
};

function searchOf(invocation: Invocation): Outcome<SystemSearch> {
  const at = textOption(invocation, 'at');
  const kind = textOption(invocation, 'kind');
  if (invocation.args.length === 0 && at === null)
    return failure(
      errorProblem('usage-invalid', {
        message: 'neither words nor a place are given',
        expected: 'words of the name or area, or --at LAT,LON',
        hint: 'for example: pegbook find-system --at -31.5,21.4',
      }),
    );
  if (at === null) return success({ words: invocation.args, place: null, kind });
  const parts = at.split(',').map((part) => part.trim());
  if (parts.length < 2 || parts.length > 3)
    return failure(
      errorProblem('usage-invalid', {
        message: `--at ${at} is not LAT,LON or LAT,LON,H`,
        received: at,
        hint: 'for example --at -31.5,21.4',
      }),
    );
  const latitude = parseAngle(entryAt(parts, 0), 'latitude');
  if (!latitude.ok) return latitude;
  const longitude = parseAngle(entryAt(parts, 1), 'longitude');
  if (!longitude.ok) return longitude;
  return success({
    words: invocation.args,
    place: { latitudeDeg: latitude.value, longitudeDeg: longitude.value },
    kind,
  });
}

function noneFound({ words, place }: SystemSearch): ReturnType<typeof errorProblem> {
  const said = [
    ...(words.length === 0 ? [] : [`words that begin with ${words.join(', ')}`]),
    ...(place === null ? [] : [`an area that holds ${String(place.latitudeDeg)}, ${String(place.longitudeDeg)}`]),
  ].join(' and ');
  return errorProblem('system-unknown', {
    message: `no system has ${said}`,
    received: words.join(' '),
    hint: 'give fewer words, or the country in English',
  });
}
