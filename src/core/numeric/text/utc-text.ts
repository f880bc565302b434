const DAY_MS = 86_400_000;

/**
 * A UTC instant as ISO 8601 text with Z; milliseconds only when they are not zero.
 *
 * Given: milliseconds since 1970-01-01T00:00:00Z, whole. Returned: `2026-03-04T06:00:00Z`.
 * Proleptic Gregorian calendar, years 0000 to 9999.
 * Reference: ISO 8601-1:2019; the calendar arithmetic counts days from 0000-03-01, so that leap
 * days fall at the end of a year.
 */
export function formatUtc(ms: number): string {
  const days = Math.floor(ms / DAY_MS);
  let rest = ms - days * DAY_MS;
  const shifted = days + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const monthFromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * monthFromMarch + 2) / 5) + 1;
  const month = monthFromMarch < 10 ? monthFromMarch + 3 : monthFromMarch - 9;
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0);
  const hour = Math.floor(rest / 3_600_000);
  rest -= hour * 3_600_000;
  const minute = Math.floor(rest / 60_000);
  rest -= minute * 60_000;
  const second = Math.floor(rest / 1000);
  const milli = rest - second * 1000;
  const fraction = milli === 0 ? '' : `.${String(milli).padStart(3, '0')}`;
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}T${two(hour)}:${two(minute)}:${two(second)}${fraction}Z`;
}

function two(value: number): string {
  return value < 10 ? `0${value}` : String(value);
}
