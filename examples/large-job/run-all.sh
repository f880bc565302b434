#!/usr/bin/env bash
# Runs what a manifest names and is not done yet, several at a time, and says how all of it stands. Run it again after anything.
# usage: run-all.sh MANIFEST [JOBS]
set -u
manifest=$1 jobs=${2:-2}
folder=$(dirname "$manifest")

count=$(pegbook reduce-points --manifest "$manifest" --count) || exit
# An exit code of 1 is an answer; what failed stands in the table below. One thread each: there are enough runs.
seq "$count" | parallel --will-cite --quote --jobs "$jobs" \
  pegbook reduce-points --manifest "$manifest" --index {} --workers 1 --quiet

pegbook reduce-points --manifest "$manifest" --status --force -q \
  -o "$folder/status.csv" --record "$folder/whole.json"
