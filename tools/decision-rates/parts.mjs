// The parts of the page in their order, and their jobs.
import { part as causes } from './parts/causes.mjs';
import { part as coverage } from './parts/coverage.mjs';
import { part as days } from './parts/days.mjs';
import { part as geodesy } from './parts/geodesy.mjs';
import { part as heights } from './parts/heights.mjs';
import { part as repeats } from './parts/repeats.mjs';
import { part as sites } from './parts/sites.mjs';
import { part as stands } from './parts/stands.mjs';

export const PARTS = [geodesy, stands, repeats, days, causes, coverage, sites, heights];

/** The jobs of the named parts. Each has an id and `run(product, settings)`, which returns what it counted. */
export const jobsOf = (settings, names) =>
  PARTS.filter(({ name }) => names.includes(name)).flatMap((part) => part.jobs(settings));
