/** An NMEA sentence with its checksum. */
export function sentence(body: string): string;
