/** The pair of a plane: all that follows its first word is its unit. */
const PAIR = /^((?:ground_)?(?:easting|northing|westing|southing))_(.+)$/u;
/** Units that names of columns end with, as a page writes them. */
const UNITS: Readonly<Record<string, string>> = { m: 'm', m2: 'm²', deg: '°', arcsec: '″', ppm: 'ppm' };

/** The name of a column of a data file as the head of a table, its unit beneath. `isDms`: angles are not in degrees alone. */
export function columnHead(name: string, isDms: boolean): { readonly head: string; readonly unit?: string } {
  const [, pair, ofPair] = PAIR.exec(name) ?? [];
  if (pair !== undefined && ofPair !== undefined)
    return { head: pair.replaceAll('_', ' '), unit: ofPair.replaceAll('_', ' ') };
  const cut = name.lastIndexOf('_');
  const unit = UNITS[name.slice(cut + 1)];
  if (cut < 0 || unit === undefined) return { head: name.replaceAll('_', ' ') };
  return { head: name.slice(0, cut).replaceAll('_', ' '), unit: unit === '°' && isDms ? '° ′ ″' : unit };
}
