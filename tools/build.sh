#!/usr/bin/env bash
# Configures and builds one preset. Usage: tools/build.sh release|debug|asan [target...]
set -euo pipefail
cd "$(dirname "$0")/.."
# The compiler cache serves every clone of the repository, wherever it lies.
export CCACHE_BASEDIR=$PWD CCACHE_NOHASHDIR=1
preset=${1:?release, debug or asan}
shift
cmake --preset "$preset" >"/tmp/stripbook-configure-$preset-$(id -u).log" 2>&1 ||
    { cat "/tmp/stripbook-configure-$preset-$(id -u).log" >&2; exit 3; }
if [ $# -gt 0 ]; then
    cmake --build --preset "$preset" --target "$@"
else
    cmake --build --preset "$preset"
fi
