import { reductionCodes } from './codes/epochs-and-points.js';
import { checkCodes } from './codes/checks.js';
import { correctionCodes } from './codes/corrections.js';
import { deliveryCodes } from './codes/deliveries.js';
import { fileCodes } from './codes/files.js';
import { manifestCodes } from './codes/manifests.js';
import { networkCodes } from './codes/networks.js';
import { placeCodes } from './codes/places.js';
import { programCodes } from './codes/program.js';
import { runCodes } from './codes/runs.js';
import { siteCodes } from './codes/sites.js';
import { skyCodes } from './codes/sky.js';
import { tableCodes } from './codes/tables.js';
import { usageCodes } from './codes/usage-and-settings.js';
import { valueCodes } from './codes/values.js';
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
