import { column } from '../../io/tables/columns/column.js';
import type { Column } from '../../io/tables/columns/column.js';
import type { EpochResult, ReducedPoint } from '../../records/points/reduced-point.js';

/** An epoch of an occupation, and the name of the file it stands in. One record serves an occupation. */
export interface WrittenEpoch {
  point: ReducedPoint;
  epoch: EpochResult;
  source: string;
}

const RESIDUAL = 'epoch minus mean, along true east, true north and up';

/** Columns of the file of epochs, in order. */
export const EPOCH_COLUMNS: readonly Column<never, WrittenEpoch>[] = [
  column({
    name: 'point_id',
    kind: 'id',
    get: ({ epoch }) => epoch.fix.pointId,
    describe: 'the point, and the occupation of it',
  }),
  column({
    name: 'occupation',
    kind: 'id',
    get: ({ point }) => point.occupation,
    describe: 'the point, and the occupation of it',
  }),
  column({ name: 'epoch_utc', kind: 'time', get: ({ epoch }) => epoch.fix.epochMs, describe: 'time of the epoch' }),
  column({ name: 'base_id', kind: 'id', get: ({ point }) => point.baseId, describe: 'base of the corrections' }),
  column({ name: 'source', kind: 'text', get: ({ source }) => source, describe: 'file and line that it stands in' }),
  column({
    name: 'line',
    kind: 'whole',
    get: ({ epoch }) => epoch.fix.place.line,
    describe: 'file and line that it stands in',
  }),
  column({
    name: 'solution',
    kind: 'word',
    get: ({ epoch }) => epoch.fix.solution,
    describe: 'solution of the receiver, as it was read',
  }),
  column({
    name: 'correction_age_s',
    kind: 'number',
    unit: 's',
    get: ({ epoch }) => epoch.fix.correctionAgeS,
    describe: 'age of the corrections',
  }),
  column({
    name: 'satellites_used',
    kind: 'whole',
    get: ({ epoch }) => epoch.fix.satellitesUsed,
    describe: 'satellites in the solution',
  }),
  column({
    name: 'pdop',
    kind: 'number',
    decimals: 2,
    get: ({ epoch }) => epoch.fix.pdop,
    describe: 'dilution of precision in position',
  }),
  column({
    name: 'verdict',
    kind: 'word',
    get: ({ epoch }) => (epoch.refusals.length === 0 ? 'accepted' : 'refused'),
    describe: '`accepted` or `refused`',
  }),
  column({
    name: 'reasons',
    kind: 'codes',
    get: ({ epoch }) => epoch.refusals,
    describe: 'codes of what refuses the epoch, with semicolons between',
  }),
  column({
    name: 'weight',
    kind: 'number',
    decimals: 3,
    get: ({ epoch }) => epoch.weight,
    describe: 'weight in the mean, that of its three axes together; 0 where it was left out',
  }),
  column({
    name: 'residual_east_m',
    kind: 'number',
    unit: 'm',
    get: ({ epoch: { residual } }) => (residual === null ? null : residual.eastM),
    describe: RESIDUAL,
  }),
  column({
    name: 'residual_north_m',
    kind: 'number',
    unit: 'm',
    get: ({ epoch: { residual } }) => (residual === null ? null : residual.northM),
    describe: RESIDUAL,
  }),
  column({
    name: 'residual_up_m',
    kind: 'number',
    unit: 'm',
    get: ({ epoch: { residual } }) => (residual === null ? null : residual.upM),
    describe: RESIDUAL,
  }),
];
