/** Problem codes: adjustment of networks. */
export const networkCodes = {
  'network-loose': {
    exit: 3,
    meaning: 'a part of the network has nothing that gives it a place or a height',
    fix: 'give control to one of its stations, or an observation that ties it to the rest',
  },
  'network-undetermined': {
    exit: 3,
    meaning: 'the observations do not determine every coordinate',
    fix: 'give the station named a vector, or control: a distance or a height difference alone does not place it',
  },
} as const;
