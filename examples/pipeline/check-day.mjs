// Reduces a day and checks it against control; the exit code says what came of it. Runs wherever Node.js does.
// usage: node check-day.mjs FIXES SESSION CONTROL FOLDER
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync } from 'node:fs';

const [fixes, session, control, folder] = process.argv.slice(2);
if (folder === undefined) {
  console.error('usage: node check-day.mjs FIXES SESSION CONTROL FOLDER');
  process.exit(2);
}

// On Windows commands of npm are scripts of its shell, to which words with blanks go in quotes.
const isWindows = process.platform === 'win32';
function pegbook(...words) {
  const given = isWindows ? words.map((word) => `"${word}"`) : words;
  const { status, error } = spawnSync('pegbook', given, { shell: isWindows, stdio: 'inherit' });
  if (error !== undefined) console.error(error.message);
  return status ?? 5;
}

mkdirSync(folder, { recursive: true });
const reduced = pegbook(
  ...['reduce-points', fixes, '--session', session, '-o', `${folder}/points.csv`, '--record', `${folder}/run.json`],
  ...['--problems', `${folder}/problems.jsonl`, '--report', `${folder}/day.html`, '--force', '-q'],
);
if (reduced > 1) process.exit(reduced);
const { verdict } = JSON.parse(readFileSync(`${folder}/run.json`, 'utf8'));
if (verdict !== 'within') console.error(`some points need a look: see ${folder}/day.html`);

process.exit(
  pegbook(
    ...['check-tolerances', `${folder}/points.csv`, '--session', session, '--control', control],
    ...['--limit-horizontal', '0.10', '--limit-vertical', '0.20', '--junit', `${folder}/verdicts.xml`],
    ...['-o', `${folder}/control-checks.csv`, '--report', `${folder}/checks.html`, '--force', '-q'],
  ),
);
