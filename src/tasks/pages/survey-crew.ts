import type { SurveyCrew } from '../../records/reports/parts/survey-crew.js';
import type { Job, JobPeople } from '../../records/runs/job.js';
import type { Session } from '../../records/session.js';

/** Nobody is named. */
export const NO_CREW: SurveyCrew = {
  client: null,
  surveyor: null,
  observers: [],
  instruments: [],
  baseInstruments: [],
};

/**
 * Who measured and with what, of a session or of the days of a job.
 * Given: the people of the job, null without one; the session of each day.
 */
export function surveyCrew(
  people: JobPeople | null,
  sessions: readonly Pick<Session, 'fieldwork' | 'bases'>[],
): SurveyCrew {
  const baseInstruments: { readonly id: string; readonly instrument: string }[] = [];
  for (const { bases } of sessions)
    for (const { id, instrument } of bases)
      if (!isEmpty(instrument) && !baseInstruments.some((one) => one.id === id && one.instrument === instrument))
        baseInstruments.push({ id, instrument });
  return {
    client: textOf(people?.client),
    surveyor: textOf(people?.surveyor),
    observers: distinct(sessions.map(({ fieldwork }) => fieldwork.observer)),
    instruments: distinct(sessions.map(({ fieldwork }) => fieldwork.instrument)),
    baseInstruments,
  };
}

/** The same of a job. */
export function crewOfJob({ people, days }: Pick<Job, 'people' | 'days'>): SurveyCrew {
  return surveyCrew(
    people,
    days.map(({ session }) => session),
  );
}

function isEmpty(text: string | null | undefined): text is null | undefined | '' {
  return text === null || text === undefined || text.trim() === '';
}

function textOf(text: string | null | undefined): string | null {
  return isEmpty(text) ? null : text;
}

function distinct(texts: readonly (string | null)[]): readonly string[] {
  return [...new Set(texts.flatMap((text) => (isEmpty(text) ? [] : [text])))];
}
