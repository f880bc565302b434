/** An occupation's name in a job: that of its day, then its number there. */
export function occupationOfDay(day: string, occupation: string): string {
  return `${day}/${occupation}`;
}

/** The day in an occupation's name; null where it is of no job, or was joined of several days. */
export function dayOfOccupation(occupation: string): string | null {
  const at = occupation.lastIndexOf('/');
  if (at < 0) return null;
  if (!occupation.includes('+')) return occupation.slice(0, at);
  const [day = '', ...others] = occupation.split('+').map((part) => part.slice(0, Math.max(0, part.lastIndexOf('/'))));
  return day !== '' && others.every((other) => other === day) ? day : null;
}
