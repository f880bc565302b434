/** Counts by name. `counts` goes into the results as it is. */
export function counter() {
  const counts = {};
  return {
    counts,
    add: (name, by = 1) => {
      counts[name] = (counts[name] ?? 0) + by;
    },
  };
}
