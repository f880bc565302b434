/** What a stream takes of a line. A network's own bytes stand apart: they depend on how it is carried. */
export interface StreamCost {
  readonly bytesPerS: number;
  readonly bytesAnHour: number;
  readonly transportBytesAnHour: number;
  readonly hours: number;
  readonly dayBytes: number;
  readonly dayTransportBytes: number;
}
