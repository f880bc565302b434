#!/usr/bin/env bash
# Reduces a day and checks it against control; the exit code says what came of it.
# usage: check-day.sh FIXES SESSION CONTROL FOLDER
set -u
fixes=$1 session=$2 control=$3 out=$4
mkdir -p "$out" || exit 4

pegbook reduce-points "$fixes" --session "$session" -o "$out/points.csv" --record "$out/run.json" \
  --problems "$out/problems.jsonl" --report "$out/day.html" --force -q
status=$?
case $status in
  0) ;;
  1) echo "some points need a look: see $out/day.html" >&2 ;;
  *) exit "$status" ;;
esac

pegbook check-tolerances "$out/points.csv" --session "$session" --control "$control" \
  --limit-horizontal 0.10 --limit-vertical 0.20 --junit "$out/verdicts.xml" \
  -o "$out/control-checks.csv" --report "$out/checks.html" --force -q
