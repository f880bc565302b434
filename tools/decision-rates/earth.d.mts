type Triple = readonly [number, number, number];
export function toGeocentric(place: Triple): Triple;
export function toGeodetic(place: Triple): Triple;
export function transverseMercator(place: Triple, meridian: number): readonly [number, number];
