/** The words of a points file for the three answers, on pages too. */
export const VERDICT_OF_POINTS = { within: 'accepted', review: 'review', no: 'rejected' } as const;
