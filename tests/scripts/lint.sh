#!/bin/sh
# Lints the scripts and styles of theme_overrides/ and checks the types of the scripts. `lint.sh --write` puts their
# layout right instead. What it needs is fetched once, from npm; a machine without Node.js goes without, but not CI.
cd "${0%/*}/../.." || exit
scripts=tests/scripts
bin=$scripts/node_modules

if ! node --eval 'const [a, b] = process.versions.node.split(".").map(Number);
  process.exit(a > 20 || (a === 20 && b >= 19) ? 0 : 1)' 2>/dev/null || ! npm --version >/dev/null 2>&1; then
  echo "scripts and styles were not linted: that needs Node.js 20.19 or later, with npm (https://nodejs.org)" >&2
  [ "$CI" != true ]
  exit
fi

if ! [ $bin/.ready -nt $scripts/package-lock.json ]; then
  npm ci --prefix $scripts --no-audit --no-fund --loglevel=error >&2 || exit
  touch $bin/.ready
fi

eslint="node $bin/eslint/bin/eslint.js --config $scripts/eslint.config.js theme_overrides/js theme_overrides/worker $scripts/*.js"
prettier="node $bin/prettier/bin/prettier.cjs --config $scripts/prettier.config.js --log-level warn"
laid_out="theme_overrides/js theme_overrides/worker $scripts/*.js"

if [ "$1" = --write ]; then
  $eslint --fix --quiet >/dev/null
  exec $prettier --write $laid_out
fi

status=0
$eslint || status=1
$prettier --check $laid_out || { echo "make format puts the layout right" >&2; status=1; }
node $bin/stylelint/bin/stylelint.mjs --config $scripts/stylelint.config.js "theme_overrides/css/*.css" || status=1
for tsconfig in pages worker; do
  node $bin/typescript/bin/tsc --project $scripts/tsconfig.$tsconfig.json || status=1
done
exit $status
