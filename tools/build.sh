#!/usr/bin/env bash
# Configures and builds one preset. Usage: tools/build.sh release|debug|asan [target...]
set -euo pipefail
cd "$(dirname "$0")/.."
preset=${1:?release, debug or asan}
shift
cmake --preset "$preset" >"/tmp/stripbook-configure-$preset-$(id -u).log" 2>&1 ||
    { cat "/tmp/stripbook-configure-$preset-$(id -u).log" >&2; exit 3; }
if [ $# -gt 0 ]; then
    cmake --build --preset "$preset" --target "$@"
else
    cmake --build --preset "$preset"
fi
