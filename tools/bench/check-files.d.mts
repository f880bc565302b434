/** Writes check-points.csv and check-control.csv: each point once, some centimetres from its known place. */
export function writeCheckFiles(folder: string, points: number): void;
