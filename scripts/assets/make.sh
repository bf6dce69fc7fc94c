#!/usr/bin/env bash
# Builds the packed scripts of the pages from their pinned packages.
#   scripts/assets/make.sh          writes them where they are served from
#   scripts/assets/make.sh --check  builds them anew and compares; says what differs
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"
there=../../src/lineproof/desk/web/static/vendor
command -v npm >/dev/null 2>&1 || { echo "assets: npm is needed: install nodejs and npm" >&2; exit 1; }
shed=$(mktemp -d)
trap 'rm -rf "$shed"' EXIT
cp package.json package-lock.json .npmrc ./*.js "$shed"
(cd "$shed" && npm ci --silent --no-fund --no-audit --ignore-scripts)
mkdir "$shed/out"
(cd "$shed" && ./node_modules/.bin/esbuild qr.js --bundle --minify --legal-comments=inline --format=esm \
    --target=es2022 --charset=utf8 --log-level=warning --outfile=out/qr.js)
cp "$shed/node_modules/qr/LICENSE-MIT" "$shed/out/qr.LICENSE.txt"
if [[ ${1:-} == --check ]]; then
    diff -rq "$shed/out" "$there" && echo "assets: as built from the lock"
else
    mkdir -p "$there"
    cp "$shed"/out/* "$there/"
fi
