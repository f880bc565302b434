import { operationFrameOf } from '../../core/frames/operations/operation-frames.js';
import type { Problem } from '../../records/problem.js';
import type { BaseSettings } from '../../records/session.js';
import { BASE_INTERNATIONAL_FIELDS } from '../../records/settings/base-fields.js';
import { settingsIn } from './settings-in.js';
import type { TomlTable } from './toml/toml-table.js';

/** Whether a frame is one of the two of the session. */
export function isNamedFrame(frame: string | null): frame is 'fixes' | 'national' {
  return frame === 'fixes' || frame === 'national';
}

type Elsewhere = Pick<BaseSettings, 'knownIn' | 'knownSinex'>;

/** What `known` says of another frame or of a SINEX file; nothing where it says none of it. Problems: reported. */
export function knownElsewhere(table: TomlTable, base: TomlTable, problems: Problem[]): Elsewhere {
  const { frame, epochYear, plate, sinex, code } = settingsIn(table, BASE_INTERNATIONAL_FIELDS);
  const refuse = (key: string, message: string, hint: string): Elsewhere => {
    problems.push(table.problem('config-invalid-value', key, message, hint));
    return {};
  };
  const isInternational = frame !== null && !isNamedFrame(frame);
  if (isInternational && operationFrameOf(frame.toUpperCase())?.name.startsWith('ITRF') !== true)
    return refuse(
      'frame',
      `frame ${frame} is no ITRF`,
      'fixes, national, or the code of an ITRF such as EPSG:9988 (ITRF2020)',
    );
  if (isInternational && epochYear === null)
    return refuse('epoch_year', `a coordinate in ${frame} needs its epoch`, 'add epoch_year, such as 2026.9');
  if (!isInternational && plate !== null)
    return refuse(
      'plate',
      'a plate is named for a coordinate that does not move',
      'name the ITRF with frame, or leave plate out',
    );
  if (!isInternational && epochYear !== null && sinex === null)
    return refuse(
      'epoch_year',
      'an epoch is given for a coordinate of a frame without one',
      'name the ITRF with frame, or leave it out',
    );
  const knownIn =
    isInternational && epochYear !== null ? { knownIn: { code: frame.toUpperCase(), epochYear, plate } } : {};
  if (sinex === null && code === null) return knownIn;
  if (sinex === null || code === null)
    return refuse(
      '',
      'a coordinate of a SINEX file needs sinex and code',
      'known = { sinex = "solution.snx", code = "ABCD" }',
    );
  if (frame === null || frame === 'fixes')
    return refuse(
      'frame',
      frame === null
        ? 'the frame of the solution is not stated'
        : 'a site of a SINEX file is not in the frame of the fixes',
      'frame = "EPSG:9988" (ITRF2020) with epoch_year, or frame = "national" where the agency solved in the national frame',
    );
  const typed = table.keys.find((key) => !['sinex', 'code', 'frame', 'epoch_year', 'plate', 'at'].includes(key));
  if (typed !== undefined)
    return refuse(typed, 'a coordinate is typed beside the file that gives it', 'keep one of the two');
  if (table.text('at') !== null && table.text('at') !== 'mark')
    return refuse('at', 'a site of a SINEX file is the ground mark', 'leave at out');
  const sigma = ['sigma_horizontal_m', 'sigma_vertical_m'].find((key) => base.number(key) !== null);
  if (sigma !== undefined)
    return refuse('sinex', `${sigma} of the base is given, and the file brings its own uncertainty`, 'leave it out');
  return { ...knownIn, knownSinex: { file: sinex, code } };
}
