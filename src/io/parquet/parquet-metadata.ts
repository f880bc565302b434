/** Key of a file's own words: the SHA-256 that its rows have as CSV, as they are read. */
export const ROWS_DIGEST = 'pegbook.csv_sha256';
/** Of the bytes of its rows, which stand first in it: how many, and their SHA-256. */
export const BODY_DIGEST = 'pegbook.body';
/** The version of the program that wrote it. */
export const WRITER_VERSION = 'pegbook.version';
/** Of each column that is known: unit and what it holds, as JSON. */
export const COLUMN_WORDS = 'pegbook.columns';
