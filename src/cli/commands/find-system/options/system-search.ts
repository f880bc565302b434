import type { SystemSearch } from '../../../../core/grid/systems/search-systems.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import { parsePlace } from '../../../inputs/parse-place.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';

/** What is looked for. Problems: usage-invalid where nothing is named, or --at is no place. */
export function searchOf(invocation: Invocation): Outcome<SystemSearch> {
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
  const place = parsePlace(at, '--at');
  return place.ok ? success({ words: invocation.args, place: place.value, kind }) : place;
}

/** system-unknown where nothing agrees with the search. */
export function noneFound({ words, place }: SystemSearch): Problem {
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
