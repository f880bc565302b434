/** Where paths start from and standard input comes from; injected so that nothing here touches the process. */
export interface Surroundings {
  /** Folder that relative paths start from. */
  readonly cwd: string;
  readonly stdin: AsyncIterable<Uint8Array>;
}
