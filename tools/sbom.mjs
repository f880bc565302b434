// `npm run sbom`: the bill of materials of the program, CycloneDX, on standard output. npm makes it from the lock file; asked to
// leave out development packages it also leaves out those of the program that a development package uses too, so it is asked
// for all of them, and those of the program are kept.
import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { OPTIONAL, thirdParties } from './third-party-notices.mjs';

const cwd = fileURLToPath(new URL('..', import.meta.url));
const text = execFileSync('npm', ['sbom', '--package-lock-only', '--sbom-format=cyclonedx'], {
  cwd,
  encoding: 'utf8',
  maxBuffer: 1 << 28,
  shell: process.platform === 'win32',
});
const bill = JSON.parse(text);
const kept = new Set(
  thirdParties()
    .filter(({ isOfProgram }) => isOfProgram)
    .map(({ name, version }) => `${name}@${version}`),
);
const isKept = (ref) => kept.has(ref) || ref === bill.metadata.component['bom-ref'];
bill.metadata.component.name = 'pegbook';
bill.components = bill.components
  .filter((component) => isKept(`${component.name}@${component.version}`))
  .map((component) => ({ ...component, scope: OPTIONAL.includes(component.name) ? 'optional' : 'required' }));
const refs = new Set([bill.metadata.component['bom-ref'], ...bill.components.map((component) => component['bom-ref'])]);
bill.dependencies = bill.dependencies
  .filter(({ ref }) => refs.has(ref))
  .map((entry) => ({ ...entry, dependsOn: entry.dependsOn.filter((ref) => refs.has(ref)) }));
process.stdout.write(`${JSON.stringify(bill, null, 2)}\n`);
