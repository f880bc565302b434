// Runs the entries of a manifest in processes of their own, two at a time: node run-entries.mjs PROGRAM MANIFEST COUNT
import { spawn } from 'node:child_process';

const [program, manifest, count] = process.argv.slice(2);
let next = 1;
let worst = 0;

function start() {
  if (next > Number(count)) return;
  const words = [
    program,
    'reduce-points',
    '--manifest',
    manifest,
    '--index',
    String(next),
    '--workers',
    '1',
    '--quiet',
  ];
  next += 1;
  spawn(process.execPath, words, { stdio: 'ignore' }).on('close', (exit) => {
    worst = Math.max(worst, exit ?? 255);
    process.exitCode = worst;
    start();
  });
}
start();
start();
