#!/bin/sh
# Gets what the tests of the pages need and pip does not bring: Debian's chromium and PostgreSQL, npm, and from npm
# the accessibility checker axe-core. What is there already is left alone. The folder to put axe-core in is given.
set -eu

folder=$1
axe_version=4.10.3

missing=
command -v chromium >/dev/null 2>&1 || missing="$missing chromium"
command -v npm >/dev/null 2>&1 || missing="$missing nodejs npm"
if ! command -v pg_ctl >/dev/null 2>&1 && ! ls /usr/lib/postgresql/*/bin/pg_ctl >/dev/null 2>&1; then
    missing="$missing postgresql"
fi

if [ -n "$missing" ]; then
    if [ "$(id -u)" -eq 0 ]; then
        as_root=
    elif command -v sudo >/dev/null 2>&1 && sudo -n true 2>/dev/null; then
        as_root=sudo
    else
        echo "The tests of the pages need these Debian packages: run  apt-get install$missing  as root" >&2
        exit 2
    fi
    $as_root apt-get update -q >&2
    # shellcheck disable=SC2086
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $missing >&2
fi

if [ ! -f "$folder/node_modules/axe-core/axe.min.js" ]; then
    mkdir -p "$folder"
    npm install --prefix "$folder" --no-save --no-package-lock --no-audit --no-fund --ignore-scripts \
        "axe-core@$axe_version" >&2
fi
