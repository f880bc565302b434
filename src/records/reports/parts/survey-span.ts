/** From the first to the last epoch of a survey, milliseconds since 1970-01-01T00:00:00Z. */
export interface SurveySpan {
  readonly firstMs: number;
  readonly lastMs: number;
}
