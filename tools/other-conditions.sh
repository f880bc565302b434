#!/usr/bin/env bash
# The suite once more where something is different that must not matter: clock and language, then the other versions
# of Node that package.json admits. A version that the registry does not offer is told and passed over.
# Usage: tools/other-conditions.sh [path of a test...]; without one, the parts that read and write text.
set -euo pipefail
cd "$(dirname "$0")/.."

tests=("$@")
if [ ${#tests[@]} -eq 0 ]; then
  tests=(tests/cases.test.ts tests/docs.test.ts tests/core/numeric tests/io tests/cli tests/properties tests/faults/found.test.ts tests/faults/permission.test.ts)
fi
vitest=(node_modules/vitest/vitest.mjs run)

for language in de_DE.UTF-8 tr_TR.UTF-8; do
  echo "-- TZ=Pacific/Chatham LANG=$language"
  TZ=Pacific/Chatham LANG=$language LC_ALL=$language LANGUAGE=${language%%.*} node "${vitest[@]}" "${tests[@]}"
done

place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
for version in 22 24 26; do
  echo "-- Node $version"
  if ! npm install --prefix "$place/$version" --no-audit --no-fund --silent --ignore-scripts=false "node@$version"; then
    echo "Node $version is not to be had here: passed over" >&2
    continue
  fi
  bin="$place/$version/node_modules/node/bin"
  "$bin/node" --version
  PATH="$bin:$PATH" "$bin/node" "${vitest[@]}" "${tests[@]}"
done
