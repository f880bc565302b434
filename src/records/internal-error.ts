/** Thrown only for what cannot happen. Bad user data is a `Problem`, never this. */
export class InternalError extends Error {
  override readonly name = 'InternalError';
}
