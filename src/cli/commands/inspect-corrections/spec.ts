import type { CommandSpec } from '../../shell/command-spec.js';
import {
  GEOID_OPTIONS,
  INPUT_OPTIONS,
  JOB_OPTION,
  OUTPUT_OPTIONS,
  REPORT_OPTION,
  SESSION_OPTION,
  SYSTEM_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook inspect-corrections` */
export const inspectCorrectionsSpec: CommandSpec = {
  name: 'inspect-corrections',
  summary:
    'what a base really sent, and what the link did: recorded RTCM 3 streams and fixes, held against the session',
  description: [
    'Reads recorded RTCM 3 streams, whatever lies between their frames, and says what each station sent and when: coordinate,',
    'antenna height, names, constellations and signals, how regularly, what is missing, and what it cost in bytes. With a session',
    'or a job each [[base]] is held against what was sent; a difference is exit 1, and the line to put into the session is printed.',
    'Observations themselves are not decoded. With --fixes, or a job that names them, the age of the corrections says how the link was: latency, outages (put down to the',
    'base or to the rover where a stream is named too), availability by hour and place, and what it cost. Without --output and --format text for people is written; CSV is a row a message (without streams: an outage),',
    'GeoJSON the places of stations, JSON everything.',
  ],
  arguments: [
    {
      name: '[streams...]',
      description: 'recordings of correction streams, in the order of time (- is standard input)',
    },
  ],
  options: [
    SESSION_OPTION,
    JOB_OPTION,
    SYSTEM_OPTION,
    ...GEOID_OPTIONS,
    {
      flags: '--date <day>',
      description:
        'date of the first epoch in UTC, YYYY-MM-DD: a stream has times of the week only, unless it sends 1013 or 1029',
    },
    {
      flags: '--broadcast-tolerance <metres>',
      description: 'how far each of east, north and up may lie from the session',
      kind: 'number',
      defaultText: '0.001',
    },
    {
      flags: '--fixes <files...>',
      description:
        'fixes of the day, CSV, GeoJSON or an NMEA 0183 log: age of the corrections by time and place, outages, what they cost; with --job those of its days, unless named',
      kind: 'list',
    },
    {
      flags: '--outages <file>',
      isWritten: true,
      description: 'of fixes: write the outages there, CSV or by the ending GeoJSON or JSON',
    },
    {
      flags: '--availability <file>',
      isWritten: true,
      description: 'of fixes: write availability by hour (CSV, JSON) and by cells of 100 m (GeoJSON too)',
    },
    {
      flags: '--hours <h>',
      description: 'hours of a day, for what it costs in bytes',
      kind: 'number',
      defaultText: '8',
    },
    REPORT_OPTION,
    ...INPUT_OPTIONS,
    ...OUTPUT_OPTIONS,
  ],
  cautions: [
    'A stream shows what was sent, not that it was right: compare the coordinate with that of the mark.',
    'Epochs of one minute share their weather and their network: intervals of availability are of independent epochs, and too narrow for few minutes.',
    'A coordinate in 1006 comes once in some seconds; a change shows that much late.',
  ],
  examples: [
    {
      about: 'what a stream holds',
      command: 'pegbook inspect-corrections examples/quillback-pan-link/base.rtcm3',
    },
    {
      about: 'the coordinate that was sent, held against the session',
      command:
        'pegbook inspect-corrections examples/quillback-pan-link/base.rtcm3 --session examples/quillback-pan-link/session.toml --format json -o stream.json',
      exit: 1,
    },
    {
      about: 'the link of the day: outages, and which side each is put down to',
      command:
        'pegbook inspect-corrections examples/quillback-pan-link/base.rtcm3 --fixes examples/quillback-pan-link/fixes.csv --outages outages.csv',
    },
  ],
  load: async () => (await import('./run.js')).runInspectCorrections,
};
