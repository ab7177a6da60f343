#!/bin/sh
# Builds the virtual environment that `make` works in: finds a Python of 3.11 or later, gets Debian's venv
# package where it is missing and may be installed, and installs gutterance with everything pinned.
set -eu

venv=$1

usable() {
    "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null
}

python=
for candidate in "${PYTHON:-python3}" python3.11 python3.12 python3.13 python3.14 python3; do
    if command -v "$candidate" >/dev/null 2>&1 && usable "$candidate"; then
        python=$candidate
        break
    fi
done
if [ -z "$python" ]; then
    echo "gutterance needs Python 3.11 or later and found none: install it (Debian 12, Ubuntu 24.04: apt-get install python3)" >&2
    exit 2
fi

if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
    version=$("$python" -c 'import sys; print("%d.%d" % sys.version_info[:2])')
    wanted="python$version-venv"
    if [ "$(id -u)" -eq 0 ]; then
        as_root=
    elif command -v sudo >/dev/null 2>&1 && sudo -n true 2>/dev/null; then
        as_root=sudo
    else
        echo "Python's venv module is missing and may not be installed from here: run  apt-get install $wanted  as root" >&2
        exit 2
    fi
    $as_root apt-get update -q >&2
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "$wanted" >&2
fi

if ! "$venv/bin/python" -m pip --version >/dev/null 2>&1; then
    rm -rf "$venv"
    "$python" -m venv "$venv"
fi

# The pins hold for the build of the package too (newer pips ask for that by a name of its own).
here=$(pwd)
PIP_CONSTRAINT="$here/constraints.txt" PIP_BUILD_CONSTRAINT="$here/constraints.txt" \
    PIP_DISABLE_PIP_VERSION_CHECK=1 \
    "$venv/bin/python" -m pip install -q -e '.[dev]' >&2
