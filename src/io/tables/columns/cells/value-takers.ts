import { InternalError } from '../../../../records/internal-error.js';
import { NO_NUMBER } from '../../../text/write-digits.js';
import type { ColumnValue } from '../column.js';
import type { Draft } from '../../../../records/draft.js';

/** Takes the value of one column. */
export type Get<Of> = (of: Of) => ColumnValue;

// One place of call for each column: where many functions are called from one place, each call costs as much as writing a
// number, and a number given back is first put into memory of its own. Each of the two is for one table in a program.
/** So many columns of numbers, and of other values, can be taken; where a table has more, lines are added here. */
export const MOST_NUMBERS: number = 32;
export const MOST_TEXTS: number = 12;
const none = (): null => null;

/** Takes all numbers of a row into `values`, in the order of `gets`; `NO_NUMBER` where one is not known. */
export function createNumberTaker<Of>(gets: readonly Get<Of>[]): (of: Of, values: Float64Array) => void {
  if (gets.length > MOST_NUMBERS) throw new InternalError(`more than ${String(MOST_NUMBERS)} columns of numbers`);
  const [
    g0 = none,
    g1 = none,
    g2 = none,
    g3 = none,
    g4 = none,
    g5 = none,
    g6 = none,
    g7 = none,
    g8 = none,
    g9 = none,
    g10 = none,
    g11 = none,
    g12 = none,
    g13 = none,
    g14 = none,
    g15 = none,
    g16 = none,
    g17 = none,
    g18 = none,
    g19 = none,
    g20 = none,
    g21 = none,
    g22 = none,
    g23 = none,
    g24 = none,
    g25 = none,
    g26 = none,
    g27 = none,
    g28 = none,
    g29 = none,
    g30 = none,
    g31 = none,
  ] = gets as readonly ((of: Of) => number | null)[];
  return (of, values) => {
    values[0] = g0(of) ?? NO_NUMBER;
    values[1] = g1(of) ?? NO_NUMBER;
    values[2] = g2(of) ?? NO_NUMBER;
    values[3] = g3(of) ?? NO_NUMBER;
    values[4] = g4(of) ?? NO_NUMBER;
    values[5] = g5(of) ?? NO_NUMBER;
    values[6] = g6(of) ?? NO_NUMBER;
    values[7] = g7(of) ?? NO_NUMBER;
    values[8] = g8(of) ?? NO_NUMBER;
    values[9] = g9(of) ?? NO_NUMBER;
    values[10] = g10(of) ?? NO_NUMBER;
    values[11] = g11(of) ?? NO_NUMBER;
    values[12] = g12(of) ?? NO_NUMBER;
    values[13] = g13(of) ?? NO_NUMBER;
    values[14] = g14(of) ?? NO_NUMBER;
    values[15] = g15(of) ?? NO_NUMBER;
    values[16] = g16(of) ?? NO_NUMBER;
    values[17] = g17(of) ?? NO_NUMBER;
    values[18] = g18(of) ?? NO_NUMBER;
    values[19] = g19(of) ?? NO_NUMBER;
    values[20] = g20(of) ?? NO_NUMBER;
    values[21] = g21(of) ?? NO_NUMBER;
    values[22] = g22(of) ?? NO_NUMBER;
    values[23] = g23(of) ?? NO_NUMBER;
    values[24] = g24(of) ?? NO_NUMBER;
    values[25] = g25(of) ?? NO_NUMBER;
    values[26] = g26(of) ?? NO_NUMBER;
    values[27] = g27(of) ?? NO_NUMBER;
    values[28] = g28(of) ?? NO_NUMBER;
    values[29] = g29(of) ?? NO_NUMBER;
    values[30] = g30(of) ?? NO_NUMBER;
    values[31] = g31(of) ?? NO_NUMBER;
  };
}

/** Takes all other values of a row. */
export function createTextTaker<Of>(gets: readonly Get<Of>[]): (of: Of, texts: ColumnValue[]) => void {
  if (gets.length > MOST_TEXTS) throw new InternalError(`more than ${String(MOST_TEXTS)} columns of text`);
  const [
    g0 = none,
    g1 = none,
    g2 = none,
    g3 = none,
    g4 = none,
    g5 = none,
    g6 = none,
    g7 = none,
    g8 = none,
    g9 = none,
    g10 = none,
    g11 = none,
  ] = gets;
  return (of, texts) => {
    texts[0] = g0(of);
    texts[1] = g1(of);
    texts[2] = g2(of);
    texts[3] = g3(of);
    texts[4] = g4(of);
    texts[5] = g5(of);
    texts[6] = g6(of);
    texts[7] = g7(of);
    texts[8] = g8(of);
    texts[9] = g9(of);
    texts[10] = g10(of);
    texts[11] = g11(of);
  };
}

/** Reads the column's cell of the current row; null: empty, or a problem was reported. */
export type CellRead = () => unknown;

type Put<Row> = (row: Draft<Row>, value: never) => void;

/** So many columns of a row are read from places of their own, the others from one. */
const MOST_READS = 20;
const nothing = (): void => undefined;

/** Reads cells and lays what is there into a record, column by column. */
export function createFiller<Row>(reads: readonly CellRead[], putters: readonly Put<Row>[]): (row: Draft<Row>) => void {
  const puts = putters as readonly ((row: Draft<Row>, value: unknown) => void)[];
  const [
    r0 = none,
    r1 = none,
    r2 = none,
    r3 = none,
    r4 = none,
    r5 = none,
    r6 = none,
    r7 = none,
    r8 = none,
    r9 = none,
    r10 = none,
    r11 = none,
    r12 = none,
    r13 = none,
    r14 = none,
    r15 = none,
    r16 = none,
    r17 = none,
    r18 = none,
    r19 = none,
  ] = reads;
  const [
    p0 = nothing,
    p1 = nothing,
    p2 = nothing,
    p3 = nothing,
    p4 = nothing,
    p5 = nothing,
    p6 = nothing,
    p7 = nothing,
    p8 = nothing,
    p9 = nothing,
    p10 = nothing,
    p11 = nothing,
    p12 = nothing,
    p13 = nothing,
    p14 = nothing,
    p15 = nothing,
    p16 = nothing,
    p17 = nothing,
    p18 = nothing,
    p19 = nothing,
  ] = puts;
  return (row) => {
    let value: unknown;
    if ((value = r0()) !== null) p0(row, value);
    if ((value = r1()) !== null) p1(row, value);
    if ((value = r2()) !== null) p2(row, value);
    if ((value = r3()) !== null) p3(row, value);
    if ((value = r4()) !== null) p4(row, value);
    if ((value = r5()) !== null) p5(row, value);
    if ((value = r6()) !== null) p6(row, value);
    if ((value = r7()) !== null) p7(row, value);
    if ((value = r8()) !== null) p8(row, value);
    if ((value = r9()) !== null) p9(row, value);
    if ((value = r10()) !== null) p10(row, value);
    if ((value = r11()) !== null) p11(row, value);
    if ((value = r12()) !== null) p12(row, value);
    if ((value = r13()) !== null) p13(row, value);
    if ((value = r14()) !== null) p14(row, value);
    if ((value = r15()) !== null) p15(row, value);
    if ((value = r16()) !== null) p16(row, value);
    if ((value = r17()) !== null) p17(row, value);
    if ((value = r18()) !== null) p18(row, value);
    if ((value = r19()) !== null) p19(row, value);
    for (let index = MOST_READS; index < reads.length; index += 1) {
      value = (reads[index] as CellRead)();
      if (value !== null) (puts[index] as (row: Draft<Row>, value: unknown) => void)(row, value);
    }
  };
}
