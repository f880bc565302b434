import type { CommandSpec } from '../../shell/command-spec.js';
import { CHECK_ONLY_OPTION, OUTPUT_OPTIONS } from '../../shell/shared-options.js';

/** `pegbook draft-session` */
export const draftSessionSpec: CommandSpec = {
  name: 'draft-session',
  summary: 'a session file to begin with, from the headers and rows of a file of fixes',
  description: [
    'Reads a file of fixes as a logger writes it (CSV in any language and form, GeoJSON, NMEA 0183) and drafts the session file that reduce-points needs: how the file is written, which column holds what and in which unit, words and form of time, the bases and days it names, the limits its columns allow, and published systems whose area of use holds it.',
    'Over every line stands what it was guessed from. What cannot be guessed is asked: its value is "?", and every other command refuses the file until it is answered, by an editor or by --answer. Nothing is guessed when points are reduced.',
  ],
  arguments: [{ name: '<fixes...>', description: 'files of fixes that are written alike; - is standard input' }],
  options: [
    {
      flags: '--answer <key=value>',
      description:
        'the answer to a line, such as system.grid=EPSG:32734 or columns.epoch_utc.zone=+02:00; of a base base.ID.broadcast; none takes the line out',
      kind: 'list',
    },
    {
      flags: '--input <kind>',
      description: 'csv, nmea or geojson; default: by the extension, else by the first character',
      choices: ['csv', 'nmea', 'geojson'],
    },
    CHECK_ONLY_OPTION,
    ...OUTPUT_OPTIONS,
  ],
  cautions: [
    'A guess is no statement of your logger. Read every line against its settings, the units first, before points are used.',
    'Which system a job is in, its client or authority says; which height a column holds, the logger.',
  ],
  examples: [
    {
      about: 'see what a file needs',
      command: 'pegbook draft-session examples/foreign-file/logger.csv',
    },
    {
      about: 'with everything answered, ready for reduce-points',
      command:
        'pegbook draft-session examples/foreign-file/logger.csv --answer system.grid=EPSG:32734 --answer system.fixes=EPSG:4326 --answer rover.reference_point=tip --answer columns.epoch_utc.zone=+02:00 -o session.toml',
    },
  ],
  load: async () => (await import('./run.js')).runDraftSession,
};
