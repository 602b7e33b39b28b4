#!/usr/bin/env bash
# Times the report of a whole job beside img2pdf writing the same pictures, and prints their memory. Usage: tools/bench.sh
# report [parts] [photos a part] [rounds]      (500 parts with 8 photos each, 3 rounds, unless said otherwise)
set -euo pipefail
cd "$(dirname "$0")/../.."
parts=${1:-500}
each=${2:-8}
rounds=${3:-3}
tools/packages.sh test
stripbook=$PWD/build/release/tools/stripbook/stripbook
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
book=$work/book
tools/bench/big_book.sh "$book" "$parts" "$each"

# Behind every row of a photo lies one of the sample photos, each file under a name of its own.
mapfile -t samples < <(find sample_images -name '*.JPG' | sort)
mkdir -p "$book/photos/0001"
for ((i = 0; i < ${#samples[@]}; i++)); do
    cp "${samples[i]}" "$work/sample-$i"
    echo "UPDATE original SET bytes = $(stat -c %s "${samples[i]}") WHERE id % ${#samples[@]} = $i;"
done | sqlite3 -batch "$book/book.db"
for ((n = 1; n <= parts * each; n++)); do
    ln "$work/sample-$((n % ${#samples[@]}))" "$(printf '%s/photos/0001/P%07d.JPG' "$book" "$n")"
done

# Appends milliseconds and the most resident KB of a command to $work/NAME. A report that has a remark ends with 1.
timed() {
    local name=$1
    shift
    command time -q -f '%e %M' -o "$work/time" "$@" >"$work/said" 2>"$work/complaint" || [ $? -eq 1 ] || {
        cat "$work/complaint" >&2
        exit 1
    }
    awk '{ printf "%.0f %s\n", 1000 * $1, $2 }' "$work/time" >>"$work/$name"
}
median() { cut -d' ' -f"$2" "$work/$1" | sort -n | sed -n "$(((rounds + 1) / 2))p"; }

pdf=$book/reports/job.pdf
for ((round = 0; round < rounds; round++)); do
    rm -rf "$book"/derived/print-*
    timed first "$stripbook" report --job --date 2026-11-25 --book "$book"
    timed again "$stripbook" report --job --date 2026-11-25 --book "$book"
    find "$book"/derived/print-* -name '*.jpg' -print0 | sort -zV >"$work/list-of-copies"
    timed copies img2pdf --from-file "$work/list-of-copies" -o "$work/copies.pdf"
    find "$book/photos" -name '*.JPG' -print0 | sort -z >"$work/list-of-originals"
    timed originals img2pdf --from-file "$work/list-of-originals" -o "$work/originals.pdf"
done
echo "$(pdfinfo "$pdf" | awk '/^Pages/ { print $2 }') pages, $(stat -c %s "$pdf" | awk '{ printf "%.0f MB", $1 / 1e6 }')"
echo "medians of $rounds        seconds   MB of memory"
row() { awk -v ms="$(median "$1" 1)" -v kb="$(median "$1" 2)" -v what="$2" 'BEGIN { printf "%-22s %8.1f %10.0f\n", what, ms / 1000, kb / 1024 }'; }
row first "report, first time"
row again "report, again"
row copies "img2pdf, its pictures"
row originals "img2pdf, the originals"
awk -v first="$(median first 1)" -v again="$(median again 1)" -v copies="$(median copies 1)" -v originals="$(median originals 1)" \
    'BEGIN { printf "report / img2pdf of its own pictures: again %.2f, first time %.2f; first time / img2pdf of the originals: %.2f\n",
             again / copies, first / copies, first / originals }'
