/** Problem codes: tables. */
export const tableCodes = {
  'csv-syntax': {
    exit: 3,
    meaning: 'a row breaks the rules of the CSV dialect',
    fix: 'mend the quote or delimiter named',
  },
  'csv-empty': {
    exit: 3,
    meaning: 'the file has no header or no rows',
    fix: 'check the file, --skip-lines and --comment',
  },
  'points-look-raw': {
    exit: 3,
    meaning:
      'a file of points has the columns of raw fixes: base, pole and antenna are not reduced, and each epoch counts as an occupation',
    fix: 'reduce it first with reduce-points',
  },
  'parquet-package-missing': {
    exit: 4,
    meaning: 'what reads and writes Parquet is not installed',
    fix: 'npm install hyparquet hyparquet-writer beside pegbook, or use CSV',
  },
  'parquet-invalid': {
    exit: 3,
    meaning: 'a Parquet file is cut off or broken, or its rows are not those that were written',
    fix: 'write it once more, or copy it again',
  },
  'parquet-column': {
    exit: 3,
    meaning: 'a column of a Parquet file is of a type that no table of text has, such as a list',
    fix: 'write it as text or as numbers, a column for each, or leave it out',
  },
  'parquet-codec': {
    exit: 3,
    meaning: 'a Parquet file is packed in a way that is not read here',
    fix: 'write it with SNAPPY',
  },
  'csv-row-length': {
    exit: 3,
    meaning: 'a row has more or fewer fields than the header',
    fix: 'mend the row; a decimal comma needs --decimal-comma and another delimiter',
  },
  'csv-duplicate-column': {
    exit: 3,
    meaning: 'two columns carry the same name',
    fix: 'rename one, or map by position with --no-header',
  },
  'csv-column-renamed': {
    exit: 3,
    meaning:
      'a column of the input has the name of a column of ours and is written with input_ before it; as a note only',
    fix: 'none needed; map the column with --columns where it was meant to be read',
  },
  'csv-missing-column': { exit: 3, meaning: 'a required column is absent', fix: 'map it with --columns NAME=HEADER' },
  'csv-column-ambiguous': {
    exit: 3,
    meaning: 'a column name does not say what it holds, such as a bare height',
    fix: 'map it with --columns to the quantity it holds',
  },
  'csv-axes-mismatch': {
    exit: 3,
    meaning: 'the grid columns of a file are not named by the axes and unit of the system',
    fix: 'name the system the file is in, or transform it first; coordinates are never swapped silently',
  },
  'position-mismatch': {
    exit: 3,
    meaning: 'the grid pair of a row and its latitude and longitude are two places',
    fix: 'mend the row, or say with --position-from which of the two counts',
  },
  'csv-header-contradicts': {
    exit: 3,
    meaning: 'a column is mapped whose name says another unit or another quantity',
    fix: 'convert the values, or rename the column if its name is wrong',
  },
  'csv-delimiter': {
    exit: 3,
    meaning: 'the header looks like one field of a file with another delimiter',
    fix: 'give --delimiter',
  },
  'geojson-syntax': { exit: 3, meaning: 'the file is not valid JSON', fix: 'mend the place named' },
  'geojson-structure': {
    exit: 3,
    meaning: 'the JSON is not a GeoJSON feature collection of the geometry needed',
    fix: 'see RFC 7946',
  },
  'geojson-crs': {
    exit: 3,
    meaning: 'the file carries a crs member, so its coordinates may not be WGS 84',
    fix: 'write it in WGS 84 as RFC 7946 asks',
  },
  'nmea-syntax': { exit: 3, meaning: 'an NMEA 0183 sentence cannot be read', fix: 'mend or remove the line' },
  'nmea-checksum': {
    exit: 3,
    meaning: 'the checksum of a sentence does not match its text',
    fix: 'the line is damaged; remove it or use --on-error skip',
  },
  'nmea-no-sentence': {
    exit: 3,
    meaning: 'a file that is to be read as an NMEA 0183 log holds no sentence',
    fix: 'check what kind of file it is, and --input',
  },
  'nmea-two-positions': {
    exit: 3,
    meaning: 'a log has two positions of one time that differ',
    fix: 'name the talker to read with --talker, or keep the positions of one receiver in a log',
  },
  'nmea-skipped': {
    exit: 3,
    meaning:
      'bytes between the sentences of a log, such as binary frames or tag blocks, were passed over; as a note only',
    fix: 'none needed, unless epochs are missing: then look at the place named',
  },
  'nmea-station-unknown': {
    exit: 3,
    meaning:
      'the corrections of a log came from a station that no base of the session has as its id; as a warning only',
    fix: 'give the [[base]] the station number as its id',
  },
  'nmea-week-rollover': {
    exit: 3,
    meaning:
      'the dates of a log are some 19.6 years early: the week number of the receiver rolled over; as a warning only',
    fix: 'renew the firmware of the receiver; correct the dates where something depends on them',
  },
  'geoid-separation-differs': {
    exit: 3,
    meaning: 'the geoid separation of a log differs from the geoid model by metres, or by its sign; as a warning only',
    fix: 'check the geoid set in the receiver, and a height on a known point',
  },
  'nmea-precision': {
    exit: 3,
    meaning: 'positions carry too few decimals of a minute for centimetres',
    fix: 'log with at least 6 decimals of a minute',
  },
  'nmea-precision-low': {
    exit: 3,
    meaning: 'positions carry 6 decimals of a minute, about 2 mm',
    fix: 'log with 7 decimals for survey work',
  },
  'nmea-no-date': { exit: 3, meaning: 'the log gives times of day without a date', fix: 'log RMC or ZDA too' },
  'nmea-missing-field': {
    exit: 3,
    meaning: 'a sentence lacks a field that a survey position needs',
    fix: 'log GGA with quality, separation and age',
  },
  'nmea-epochs-left-out': {
    exit: 3,
    meaning: 'epochs of a log have no satellite position, or lie outside every named occupation; as a note only',
    fix: 'none needed, unless points are missing',
  },
  'record-conflict': {
    exit: 3,
    meaning: 'run records that are to be put together do not belong together',
    fix: 'run every part with the same program, session and file, and name each once',
  },
  'record-incomplete': {
    exit: 3,
    meaning: 'run records that are to be put together do not make a whole',
    fix: 'run the part that is missing or failed, and name its record too',
  },
  'record-schema': {
    exit: 3,
    meaning: 'a JSON document is not of the kind or version expected',
    fix: 'use a file written by this program, or migrate it',
  },
} as const;
