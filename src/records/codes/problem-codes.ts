import { reductionCodes } from './epochs-and-points.js';
import { checkCodes } from './checks.js';
import { correctionCodes } from './corrections.js';
import { deliveryCodes } from './deliveries.js';
import { fileCodes } from './files.js';
import { manifestCodes } from './manifests.js';
import { networkCodes } from './networks.js';
import { placeCodes } from './places.js';
import { programCodes } from './program.js';
import { runCodes } from './runs.js';
import { siteCodes } from './sites.js';
import { skyCodes } from './sky.js';
import { tableCodes } from './tables.js';
import { usageCodes } from './usage-and-settings.js';
import { valueCodes } from './values.js';
import type { ProblemCodeEntry } from './problem-code-entry.js';

/** A code Pegbook can print. Codes are stable words; docs/problem-codes.md lists them all. */
export type ProblemCode =
  | keyof typeof usageCodes
  | keyof typeof fileCodes
  | keyof typeof tableCodes
  | keyof typeof valueCodes
  | keyof typeof placeCodes
  | keyof typeof reductionCodes
  | keyof typeof siteCodes
  | keyof typeof skyCodes
  | keyof typeof checkCodes
  | keyof typeof deliveryCodes
  | keyof typeof networkCodes
  | keyof typeof correctionCodes
  | keyof typeof runCodes
  | keyof typeof manifestCodes
  | keyof typeof programCodes;

/** Every code with its exit code, meaning and mend; docs/problem-codes.md is generated from it. */
export const PROBLEM_CODES: Readonly<Record<ProblemCode, ProblemCodeEntry>> = {
  ...usageCodes,
  ...fileCodes,
  ...tableCodes,
  ...valueCodes,
  ...placeCodes,
  ...reductionCodes,
  ...siteCodes,
  ...skyCodes,
  ...checkCodes,
  ...deliveryCodes,
  ...networkCodes,
  ...correctionCodes,
  ...runCodes,
  ...manifestCodes,
  ...programCodes,
};
