/** Name of a file to its text. */
export type Files = Readonly<Record<string, string>>;

/** The files of one student and those of the answers; throws where a kind is unknown or kinds would hide each other. */
export declare function classroomFiles(
  seed: number,
  names?: readonly string[],
): { readonly student: Files; readonly answers: Files };
