import type { CommandSpec } from '../../shell/command-spec.js';
import { CHECK_ONLY_OPTION, OUTPUT_OPTIONS } from '../../shell/shared-options.js';

/** `pegbook find-system` */
export const findSystemSpec: CommandSpec = {
  name: 'find-system',
  summary: 'coordinate systems by name, area or place, with their codes',
  description: [
    'Looks for systems of the EPSG registry by the words of their names and areas of use, by a place that their area holds, or by both; the likeliest come first, and which of them the other commands take is said.',
  ],
  arguments: [{ name: '[words...]', description: 'each must begin a word of the code, the name or the area' }],
  options: [
    {
      flags: '--at <lat,lon[,h]>',
      description: 'a place that the area of use must hold (decimal or DMS); its height is of no account',
    },
    {
      flags: '--kind <kind>',
      description: 'systems of one kind only',
      choices: ['projected', 'geographic', 'geocentric', 'other'],
    },
    {
      flags: '--limit <count>',
      description: 'so many at most, the rest counted; 0 takes all',
      kind: 'count',
      defaultText: '20 where people read it, else all',
    },
    CHECK_ONLY_OPTION,
    ...OUTPUT_OPTIONS,
  ],
  cautions: [
    'An area of use is a box about the real one: near a border or a zone edge more than one system holds a place. Which one a job is in, its client or authority says.',
    'A system that a country has replaced keeps its code and is listed beside its successor.',
  ],
  examples: [
    {
      about: 'projected systems whose area holds a place',
      command: 'pegbook find-system --at -31.5,21.4 --kind projected',
    },
    { about: 'by words, as a table', command: 'pegbook find-system Lo21 --format csv' },
  ],
  load: async () => (await import('./run.js')).runFindSystem,
};
