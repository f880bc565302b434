import type { CommandSpec } from '../../shell/command-spec.js';
import {
  ACCEPT_POSITION_OPTION,
  INPUT_OPTIONS,
  JOB_OPTION,
  OUTPUT_OPTIONS,
  POSITION_OPTION,
  REPORT_OPTION,
  SESSION_OPTION,
  SYSTEM_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook plan-sky` */
export const planSkySpec: CommandSpec = {
  name: 'plan-sky',
  summary: 'which satellites both ends of a line see on a day, how good their geometry is, and when to work',
  description: [
    'Reads RINEX navigation files (version 2, 3, 4) and YUMA or SEM almanacs, whatever they are called, and says for points and a base on a day how many',
    'satellites stand above the masks of both, with what dilution of precision (a clock for each constellation), and in which windows the limits are met. Without',
    '--base the base of the session is taken where it has one, else each point stands alone; without points the base does. Hours and columns are UTC.',
    'CSV is a row a point and instant, GeoJSON a place a point, JSON everything.',
  ],
  arguments: [{ name: '[points]', description: 'CSV or GeoJSON; - is standard input; without them the base alone' }],
  options: [
    {
      flags: '--navigation <files...>',
      description: 'RINEX navigation files and almanacs of the day, or of days before it',
      kind: 'list',
    },
    { flags: '--date <day>', description: 'the day that is planned, YYYY-MM-DD' },
    { flags: '--from-time <time>', description: 'first instant of the day, HH:MM', defaultText: '00:00' },
    {
      flags: '--to-time <time>',
      description: 'end of the time planned, HH:MM, not beyond 24:00',
      defaultText: '24:00',
    },
    {
      flags: '--utc-offset <offset>',
      description:
        'the day and its hours are those of a clock so far ahead of UTC, such as +02:00; what is written stays UTC',
      defaultText: '+00:00',
    },
    { flags: '--interval <minutes>', description: 'between instants', kind: 'number', defaultText: '5' },
    {
      flags: '--base <place>',
      description: 'the base stands there: LAT,LON or LAT,LON,H, or the id of a base of the session or of a point',
    },
    {
      flags: '--masks <file>',
      description:
        'what hides the sky, CSV: point_id, azimuth_deg, elevation_deg, the skyline of each site place by place',
    },
    {
      flags: '--declination <degrees>',
      description:
        'azimuths of --masks were read from a compass that shows north so far east of true north, west negative',
      kind: 'number',
      defaultText: '0',
    },
    {
      flags: '--elevation-mask <degrees>',
      description: 'satellites below this are not counted anywhere',
      kind: 'number',
      defaultText: '10, common practice',
    },
    {
      flags: '--systems <list>',
      description: 'only these constellations: gps,glonass,galileo,beidou,qzss',
      defaultText: 'all that the files hold',
    },
    {
      flags: '--limit-pdop <n>',
      description: 'largest PDOP to work at',
      kind: 'number',
      defaultText: 'max_pdop of the session, else 4, common practice',
    },
    {
      flags: '--limit-satellites <n>',
      description: 'fewest satellites that both ends see to work at',
      kind: 'count',
      defaultText: 'min_satellites of the session, else 6, common practice',
    },
    {
      flags: '--windows <file>',
      isWritten: true,
      description:
        'write the windows that meet the limits or miss them there; plan-baseline --sky-windows plans within them',
    },
    {
      flags: '--tracks <file>',
      isWritten: true,
      description: 'write azimuth and elevation of every satellite above the horizon of each site there',
    },
    REPORT_OPTION,
    SESSION_OPTION,
    JOB_OPTION,
    SYSTEM_OPTION,
    ACCEPT_POSITION_OPTION,
    POSITION_OPTION,
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
  ],
  examples: [
    {
      about: 'the sky of an invented day at a point under a cliff and its base, with windows to work in',
      command:
        'pegbook plan-sky examples/quillback-pan-sky/points.csv --base -31.5,21.4,1040 --system EPSG:4326 --navigation examples/quillback-pan-sky/navigation.rnx --masks examples/quillback-pan-sky/masks.csv --date 2025-08-02 --from-time 06:00 --to-time 16:00 --utc-offset +02:00 --windows windows.csv -o sky.csv',
    },
    {
      about: 'the sky of a base alone, GPS and Galileo, every quarter of an hour',
      command:
        'pegbook plan-sky --base -31.5,21.4,1040 --navigation examples/quillback-pan-sky/navigation.rnx --date 2025-08-02 --systems gps,galileo --interval 15 -o base-sky.csv',
    },
  ],
  cautions: [
    'A sky that is good on paper may be bad under trees, beside metal or when the ionosphere is active: nothing here replaces the check of each occupation.',
    'Azimuths of masks are from true north: a compass needs its declination.',
    'A satellite may be moved, switched on or off after the file was recorded.',
  ],
  load: async () => (await import('./run.js')).runPlanSky,
};
