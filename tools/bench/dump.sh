#!/usr/bin/env bash
# Times `stripbook dump` of the sample cards (and of the sets in STRIPBOOK_PHOTO_SETS) on one core and on two, turn about, and
# prints the medians and their ratio. Usage: tools/bench.sh dump [rounds]
set -euo pipefail
cd "$(dirname "$0")/../.."
tools/build.sh release stripbook >/dev/null
stripbook=$PWD/build/release/tools/stripbook/stripbook
rounds=${1:-5}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cards=(sample_images/card-*)
IFS=: read -r -a sets <<<"${STRIPBOOK_PHOTO_SETS:-}"
for set in ${sets[@]+"${sets[@]}"}; do cards+=("$set"); done

# Seconds of one dump into a new book, on these cores. A photo that needs a person (exit status 1) is no failure.
one_dump() {
    rm -rf "$work/book"
    "$stripbook" start "$work/book" --code PET --title Petrel >/dev/null
    "$stripbook" parts import sample_images/parts.csv --book "$work/book" >/dev/null
    for kind in bench pocket; do
        "$stripbook" markers measured "$kind" --sheet 1 --exact --from-elsewhere --book "$work/book" >/dev/null
    done
    local begun ended
    begun=$(date +%s%N)
    taskset -c "$1" "$stripbook" dump "${cards[@]}" --book "$work/book" >"$work/said" 2>/dev/null || [ $? -eq 1 ]
    ended=$(date +%s%N)
    echo $(((ended - begun) / 1000000)) >>"$work/ms-$1"
}
median() { sort -n "$work/ms-$1" | sed -n "$(((rounds + 1) / 2))p"; }

for ((round = 0; round < rounds; round++)); do
    one_dump 0
    one_dump 0,1
done
grep '^Read' "$work/said"
one=$(median 0)
two=$(median 0,1)
echo "one core  $one ms   two cores  $two ms   (medians of $rounds; whole command: copy, prove, read, link, measure)"
awk -v one="$one" -v two="$two" 'BEGIN { printf "speed-up  %.2f\n", one / two }'
