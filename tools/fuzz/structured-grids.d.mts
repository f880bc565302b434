/** Small TIFFs that once took gigabytes, or did not end. */
export const HOSTILE: Readonly<Record<string, () => Uint8Array>>;
