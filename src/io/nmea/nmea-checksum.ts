/** The exclusive or of the characters of a body, two hexadecimal digits, upper case. Source: NMEA 0183, from memory. */
export function nmeaChecksum(body: string): string {
  let sum = 0;
  for (let at = 0; at < body.length; at += 1) sum ^= body.charCodeAt(at);
  return sum.toString(16).toUpperCase().padStart(2, '0');
}
